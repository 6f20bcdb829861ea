#include "fire/case.h"
#include "fire/two_unknowns.h"

#include <math.h>

/* The factors are sought by least squares in logarithms, held by what is likely before any meter
 * was read: a lining conducts and holds within 40 % of what was told (1 sigma), and a meter
 * with its log of a firing is good to 2 %. */
#define CONDUCTANCE_SIGMA 0.40
#define STORE_SIGMA 0.40
#define METER_SIGMA 0.02
#define STEP 0.03
#define LARGEST_MOVE 0.3
#define CLOSE_ENOUGH 1e-4
enum { ROUNDS = 8, ENOUGH_FOR_STORE = 3 };

typedef struct {
    double conductance, store; /* logarithms */
} factors;

static ks_status kwh_of(const ks_metered *metered, factors at, double *kwh, ks_error *err)
{
    ks_arena scratch = {0};
    ks_fire_case asked;
    ks_firing_result result = {0};
    ks_fire_options options = metered->options;
    options.cooling = false;
    options.as_built = exp(at.conductance);
    options.store_factor = exp(at.store);
    ks_status status =
        metered->plan
            ? ks_fire_case_of_plan(metered->plan, &options, &scratch, &asked, err)
            : ks_fire_case_of_bulk(metered->kiln, metered->bulk, &options, &scratch, &asked, err);
    ks_slant none = ks_slant_none();
    if (!status)
        status = ks_fire_case_run(&asked, &none, false, &scratch, &result, err);
    *kwh = result.energy.total;
    ks_arena_finish(&scratch);
    return status;
}

static ks_status work_out_row(const ks_metered *metered, factors at, bool both, ks_two_row *out,
                              ks_error *err)
{
    double here, more_a, more_b;
    ks_status status = kwh_of(metered, at, &here, err);
    if (!status)
        status = kwh_of(metered, (factors){at.conductance + STEP, at.store}, &more_a, err);
    more_b = here;
    if (!status && both)
        status = kwh_of(metered, (factors){at.conductance, at.store + STEP}, &more_b, err);
    if (!status)
        *out = (ks_two_row){log(metered->meter_kwh / here), log(more_a / here) / STEP,
                            log(more_b / here) / STEP};
    return status;
}

/* The first firing of the same load of the same plan: the model says the same of both. */
static int first_alike(const ks_metered *firings, int i)
{
    for (int before = 0; before < i && firings[i].plan; before++)
        if (firings[before].plan == firings[i].plan &&
            firings[before].options.load == firings[i].options.load)
            return before;
    return i;
}

static ks_status sum_rows(const ks_metered *firings, int count, factors at, bool both,
                          ks_two_row *rows, ks_two_sums *sums, ks_error *err)
{
    double hold_a = METER_SIGMA * METER_SIGMA / (CONDUCTANCE_SIGMA * CONDUCTANCE_SIGMA);
    double hold_b = METER_SIGMA * METER_SIGMA / (STORE_SIGMA * STORE_SIGMA);
    *sums = ks_two_held(at.conductance, hold_a, at.store, hold_b);
    for (int i = 0; i < count; i++) {
        int same = first_alike(firings, i);
        ks_status status = KS_OK;
        if (same < i)
            rows[i] =
                (ks_two_row){rows[same].off + log(firings[i].meter_kwh / firings[same].meter_kwh),
                             rows[same].by_a, rows[same].by_b};
        else
            status = work_out_row(&firings[i], at, both, &rows[i], err);
        if (status)
            return status;
        ks_two_add(sums, &rows[i]);
    }
    return KS_OK;
}

static double held(double move)
{
    return fmin(fmax(move, -LARGEST_MOVE), LARGEST_MOVE);
}

/* Spread of the factors: from their places in the inverse of the sums, and never less than what
 * the firings themselves disagree by. */
static void find_spreads(const ks_two_sums *sums, int count, ks_tuning *out)
{
    double a, b, scatter = count > 2 ? sqrt(sums->square / (count - 1)) : METER_SIGMA;
    ks_two_variance(sums, &a, &b, &out->together);
    out->as_built_spread = sqrt(a) * fmax(METER_SIGMA, scatter);
    out->store_spread = sqrt(b) * fmax(METER_SIGMA, scatter);
}

/* Each firing by the others alone: its distance grows by what it pulled the fit towards itself. */
static double held_out(const ks_two_row *rows, int count, const ks_two_sums *sums)
{
    double square = 0;
    for (int i = 0; i < count; i++) {
        double off = rows[i].off / (1 - ks_two_pull(sums, &rows[i]));
        square += off * off;
    }
    return count < 2 ? NAN : sqrt(square / count);
}

static ks_status check_firings(const ks_metered *firings, int count, ks_error *err)
{
    if (count < 1)
        return ks_fail(err, KS_BAD_USAGE,
                       "tuning: must have at least one metered firing, not none");
    for (int i = 0; i < count; i++) {
        if (!(firings[i].meter_kwh > 0 && firings[i].meter_kwh < 1e6))
            return ks_fail(err, KS_BAD_INPUT,
                           "firing %d: meter: must be above 0 and at most 1000000 kWh, not %g kWh",
                           i + 1, firings[i].meter_kwh);
        if (!firings[i].plan && !(firings[i].kiln && firings[i].bulk))
            return ks_fail(err, KS_BAD_USAGE,
                           "firing %d: neither a plan nor a kiln with its load in bulk", i + 1);
    }
    return KS_OK;
}

/* Least squares from 1, 1 on; with `both`, what the lining holds moves too. */
static ks_status fit(const ks_metered *firings, int count, bool both, factors *at, ks_two_row *rows,
                     ks_two_sums *sums, double *before, ks_error *err)
{
    *at = (factors){0, 0};
    for (int round = 0; round < ROUNDS; round++) {
        ks_status status = sum_rows(firings, count, *at, both, rows, sums, err);
        if (status)
            return status;
        if (round == 0)
            *before = sqrt(sums->square / count);
        double move_a, move_b;
        ks_two_move(sums, &move_a, &move_b);
        move_a = held(move_a);
        move_b = held(move_b);
        if (fabs(move_a) + fabs(move_b) < CLOSE_ENOUGH)
            break;
        *at = (factors){at->conductance + move_a, at->store + move_b};
    }
    return KS_OK;
}

/* Brick of one group is sold at 520 to 650 kg/m3, and of the next at 800; a wall may be half as
 * thick again as told. Beyond that the meter, the load or the lining is not as told. */
#define LEAST_STORE 0.7
#define MOST_STORE 1.8
#define LEAST_CONDUCTANCE 0.5
#define MOST_CONDUCTANCE 2.5

static bool within(double factor, double least, double most)
{
    return factor >= least && factor <= most;
}

static void refuse(ks_tuning *out)
{
    out->warning =
        "the meters ask for a lining that conducts as none does: nothing was tuned; look at "
        "the load's mass, the lining and the meter's unit";
    out->as_built = out->store_factor = 1;
    out->as_built_spread = out->store_spread = out->together = 0;
    out->store_tuned = false;
    out->after = out->before;
    out->held_out = NAN;
}

ks_status ks_fire_tune(const ks_metered *firings, int count, ks_arena *arena, ks_tuning *out,
                       ks_error *err)
{
    *out = (ks_tuning){.as_built = 1, .store_factor = 1, .used = count, .warning = ""};
    out->store_tuned = count >= ENOUGH_FOR_STORE;
    factors at = {0, 0};
    ks_two_sums sums = {0};
    ks_status status = check_firings(firings, count, err);
    if (status)
        return status;
    ks_two_row *rows = KS_TAKE(arena, count, ks_two_row);
    status = fit(firings, count, out->store_tuned, &at, rows, &sums, &out->before, err);
    if (!status && !within(exp(at.store), LEAST_STORE, MOST_STORE)) {
        out->warning =
            "the meters ask for a lining that holds heat as none does: only its conduction "
            "was fitted; look at the load's mass, the lining and the meter's unit";
        out->store_tuned = false;
        status = fit(firings, count, false, &at, rows, &sums, &out->before, err);
    }
    if (status)
        return status;
    out->after = sqrt(sums.square / count);
    out->as_built = exp(at.conductance);
    out->store_factor = exp(at.store);
    find_spreads(&sums, count, out);
    out->held_out = held_out(rows, count, &sums);
    out->off = KS_TAKE(arena, count, double);
    for (int i = 0; i < count; i++)
        out->off[i] = exp(rows[i].off) - 1;
    if (!within(out->as_built, LEAST_CONDUCTANCE, MOST_CONDUCTANCE))
        refuse(out);
    return KS_OK;
}
