#include "fire/case.h"

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

/* Sums of the normal equations of two unknowns. */
typedef struct {
    double aa, ab, bb, ra, rb, square;
} normal;

static ks_status kwh_of(const ks_metered *metered, factors at, double *kwh, ks_error *err)
{
    ks_arena scratch = {0};
    ks_fire_case asked;
    ks_firing_result result = {0};
    ks_fire_options options = metered->options;
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

/* One firing's row: how far off, and how that changes with either factor. */
static ks_status add_row(const ks_metered *metered, factors at, bool both, normal *sums,
                         ks_error *err)
{
    double here, more_a, more_b;
    ks_status status = kwh_of(metered, at, &here, err);
    if (!status)
        status = kwh_of(metered, (factors){at.conductance + STEP, at.store}, &more_a, err);
    more_b = here;
    if (!status && both)
        status = kwh_of(metered, (factors){at.conductance, at.store + STEP}, &more_b, err);
    if (status)
        return status;
    double off = log(metered->meter_kwh / here);
    double by_a = log(more_a / here) / STEP, by_b = log(more_b / here) / STEP;
    sums->aa += by_a * by_a;
    sums->ab += by_a * by_b;
    sums->bb += by_b * by_b;
    sums->ra += by_a * off;
    sums->rb += by_b * off;
    sums->square += off * off;
    return KS_OK;
}

static ks_status sum_rows(const ks_metered *firings, int count, factors at, bool both, normal *sums,
                          ks_error *err)
{
    double hold_a = METER_SIGMA * METER_SIGMA / (CONDUCTANCE_SIGMA * CONDUCTANCE_SIGMA);
    double hold_b = METER_SIGMA * METER_SIGMA / (STORE_SIGMA * STORE_SIGMA);
    *sums = (normal){
        .aa = hold_a, .bb = hold_b, .ra = -hold_a * at.conductance, .rb = -hold_b * at.store};
    for (int i = 0; i < count; i++) {
        ks_status status = add_row(&firings[i], at, both, sums, err);
        if (status)
            return status;
    }
    return KS_OK;
}

static double held(double move)
{
    return fmin(fmax(move, -LARGEST_MOVE), LARGEST_MOVE);
}

/* Spread of the conductance: from its place in the inverse of the sums, and never less than what
 * the firings themselves disagree by. */
static double spread_of(const normal *sums, int count)
{
    double inverse = sums->bb / (sums->aa * sums->bb - sums->ab * sums->ab);
    double scatter = count > 2 ? sqrt(sums->square / (count - 1)) : METER_SIGMA;
    return sqrt(inverse) * fmax(METER_SIGMA, scatter);
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
static ks_status fit(const ks_metered *firings, int count, bool both, factors *at, normal *sums,
                     double *before, ks_error *err)
{
    *at = (factors){0, 0};
    for (int round = 0; round < ROUNDS; round++) {
        ks_status status = sum_rows(firings, count, *at, both, sums, err);
        if (status)
            return status;
        if (round == 0)
            *before = sqrt(sums->square / count);
        double whole = sums->aa * sums->bb - sums->ab * sums->ab;
        double move_a = held((sums->bb * sums->ra - sums->ab * sums->rb) / whole);
        double move_b = held((sums->aa * sums->rb - sums->ab * sums->ra) / whole);
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

ks_status ks_fire_tune(const ks_metered *firings, int count, ks_tuning *out, ks_error *err)
{
    *out = (ks_tuning){.as_built = 1, .store_factor = 1, .used = count, .warning = ""};
    factors at = {0, 0};
    normal sums = {0};
    ks_status status = check_firings(firings, count, err);
    if (!status)
        status = fit(firings, count, count >= ENOUGH_FOR_STORE, &at, &sums, &out->before, err);
    if (!status && !within(exp(at.store), LEAST_STORE, MOST_STORE)) {
        out->warning =
            "the meters ask for a lining that holds heat as none does: only its conduction "
            "was fitted; look at the load's mass, the lining and the meter's unit";
        status = fit(firings, count, false, &at, &sums, &out->before, err);
    }
    if (status)
        return status;
    out->after = sqrt(sums.square / count);
    out->as_built_spread = spread_of(&sums, count);
    out->as_built = exp(at.conductance);
    out->store_factor = exp(at.store);
    if (!within(out->as_built, LEAST_CONDUCTANCE, MOST_CONDUCTANCE)) {
        out->warning =
            "the meters ask for a lining that conducts as none does: nothing was tuned; look at "
            "the load's mass, the lining and the meter's unit";
        out->as_built = out->store_factor = 1;
        out->as_built_spread = 0;
        out->after = out->before;
    }
    return KS_OK;
}
