#include "fire/case.h"

#include "studio/display.h"

#include <math.h>

/* One input and the slants of one sigma to either side. */
typedef struct {
    const char *input, *spread;
    ks_slant less, more;
} doubt;

enum { DOUBTS = 8 };

#define NINE_OF_TEN 1.645 /* of a normal distribution */

static doubt factor(const char *input, const char *spread, double *(*part)(ks_slant *),
                    double sigma)
{
    doubt made = {input, spread, ks_slant_none(), ks_slant_none()};
    *part(&made.less) = 1 / (1 + sigma);
    *part(&made.more) = 1 + sigma;
    return made;
}

static double *conductance(ks_slant *s)
{
    return &s->conductance;
}

static double *store(ks_slant *s)
{
    return &s->store;
}

static double *ware(ks_slant *s)
{
    return &s->ware;
}

static double *furniture(ks_slant *s)
{
    return &s->furniture;
}

static double *air(ks_slant *s)
{
    return &s->air;
}

static double *power(ks_slant *s)
{
    return &s->power;
}

/* Laboratories agreed within 8 % up to a mean of 500 C (a round robin of guarded hot plates, NBS);
 * beyond it radiation in the pores takes over, and the doubt is taken to grow with the temperature.
 */
#define CONDUCTIVITY_SIGMA 0.08
#define TESTED_MEAN_C 500.0
#define CASING_C 80.0
#define AS_BUILT_SIGMA 0.10
#define STORE_SIGMA 0.064
#define STORE_SIGMA_TUNED 0.03
#define WEIGHED_SIGMA 0.03
#define GUESSED_SIGMA 0.15
#define FURNITURE_SIGMA 0.05
#define AIR_SIGMA 0.4
#define POWER_SIGMA 0.05
#define CONE_SIGMA_K 6.4

/* What the meter leaves open of the two factors it was asked for, as two doubts that have nothing
 * to do with each other (the columns of the covariance's Cholesky root). */
static int add_tuned(const ks_fire_options *options, doubt *out)
{
    double together = options->tuned_together, store_sigma = options->store_spread;
    doubt both = factor("conduction through the lining", "as the kiln's own meter has it",
                        conductance, options->as_built_spread);
    both.more.store = 1 + together * store_sigma;
    both.less.store = 1 / both.more.store;
    out[0] = both;
    out[1] = factor("heat held by the lining", "as the kiln's own meter has it", store,
                    fmax(store_sigma * sqrt(1 - together * together), STORE_SIGMA_TUNED));
    return 2;
}

static int doubts_of(const ks_fire_case *asked, ks_arena *arena, doubt out[DOUBTS])
{
    double tuned = asked->options.as_built_spread;
    double ware_sigma = WEIGHED_SIGMA + (GUESSED_SIGMA - WEIGHED_SIGMA) * asked->guessed_ware;
    double mean_c = 0.5 * (ks_schedule_top_c(&asked->schedule) + CASING_C);
    double conductivity = CONDUCTIVITY_SIGMA * fmax(1, mean_c / TESTED_MEAN_C);
    int n = 0;
    if (tuned > 0) {
        n += add_tuned(&asked->options, out);
    } else {
        out[n++] = factor("conductivity of the lining",
                          ks_arena_print(arena,
                                         "%.0f %% (1 sigma): laboratories differ by 8 %% up to "
                                         "a mean of %s, and more beyond",
                                         100 * conductivity,
                                         ks_show_temp(asked->display, TESTED_MEAN_C, arena)),
                          conductance, conductivity);
        out[n++] = factor("joints, grooves and seams of the lining",
                          "10 % (1 sigma) of its conduction, judged: no published figure",
                          conductance, AS_BUILT_SIGMA);
        out[n++] = factor("density of the lining",
                          "6 % (1 sigma), 520 to 650 kg/m3 sold as one group", store, STORE_SIGMA);
    }
    out[n++] = factor("mass of the ware",
                      ks_arena_print(arena, "%.0f %% (1 sigma), %.0f %% of it was not weighed",
                                     100 * ware_sigma, 100 * asked->guessed_ware),
                      ware, ware_sigma);
    out[n++] = factor("mass of shelves and posts", "5 % (1 sigma), densities of one material",
                      furniture, FURNITURE_SIGMA);
    out[n++] = factor("air drawn through and leaking", "40 % (1 sigma), nobody measures it", air,
                      AIR_SIGMA);
    out[n++] =
        factor("power of the heaters", "5 % (1 sigma), resistance and volts", power, POWER_SIGMA);
    out[n] = (doubt){"where the firing ends",
                     ks_arena_print(arena, "%s (1 sigma), a cone bends over %s",
                                    ks_show_warmer(asked->display, CONE_SIGMA_K, arena),
                                    ks_show_warmer(asked->display, 22, arena)),
                     ks_slant_none(), ks_slant_none()};
    out[n].less.end_k = -CONE_SIGMA_K;
    out[n++].more.end_k = CONE_SIGMA_K;
    return n;
}

/* What a firing with a slant comes to; NAN = says nothing. */
typedef struct {
    double kwh, open_h;
} slanted;

/* A firing given up half way takes less, which says nothing, and *fails. */
static ks_status fire_slanted(const ks_fire_case *asked, const ks_slant *slant, bool ends,
                              slanted *out, bool *fails, ks_error *err)
{
    ks_arena scratch = {0};
    ks_firing_result result;
    ks_status status = ks_fire_case_run(asked, slant, false, &scratch, &result, err);
    *fails = *fails || (ends && !result.reached);
    *out = ends && !result.reached ? (slanted){NAN, NAN}
                                   : (slanted){result.energy.total, result.open_after_hours};
    ks_arena_finish(&scratch);
    return status;
}

static ks_status total_kwh(const ks_fire_case *asked, const ks_slant *slant, bool ends, double *kwh,
                           bool *fails, ks_error *err)
{
    slanted fired;
    ks_fire_case hot = *asked;
    hot.options.cooling = false;
    ks_status status = fire_slanted(&hot, slant, ends, &fired, fails, err);
    *kwh = fired.kwh;
    return status;
}

#define PLENTY 2.0 /* times the power: nothing holds it up any more */
#define HELD_UP 1.02

/* What it would take at least with all the power it could want. Near the end of its power a kiln
 * takes much more, and what is added up from one sigma would go below this. */
static ks_status least_kwh(const ks_fire_case *asked, const doubt *doubts, int n, double total,
                           double *least, ks_error *err)
{
    ks_slant plenty = ks_slant_none();
    double free_kwh, below = 0;
    bool fails = false;
    plenty.power = PLENTY;
    *least = 0;
    ks_status status = total_kwh(asked, &plenty, true, &free_kwh, &fails, err);
    if (status || !(free_kwh * HELD_UP < total))
        return status;
    for (int i = 0; i < n && !status; i++) {
        double a, b;
        ks_slant less = doubts[i].less, more = doubts[i].more;
        less.power = more.power = PLENTY;
        status = total_kwh(asked, &less, true, &a, &fails, err);
        if (!status)
            status = total_kwh(asked, &more, true, &b, &fails, err);
        double short_kwh = status ? 0 : free_kwh - fmin(fmin(a, b), free_kwh);
        below += short_kwh * short_kwh;
    }
    *least = free_kwh - NINE_OF_TEN * sqrt(below);
    return status;
}

/* What is added up of a figure's doubts to either side. */
typedef struct {
    double below, above;
} sides;

/* The lesser and the greater of what a doubt does, with the figure itself where a side says
 * nothing. */
static void add_sides(sides *sum, double itself, double *a, double *b)
{
    double low = fmin(fmin(*a, *b), itself), high = fmax(fmax(*a, *b), itself);
    sum->below += (itself - low) * (itself - low);
    sum->above += (high - itself) * (high - itself);
    *a = low;
    *b = high;
}

ks_status ks_fire_case_range(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                             ks_error *err)
{
    doubt doubts[DOUBTS];
    int n = doubts_of(asked, arena, doubts);
    sides kwh = {0}, open = {0};
    double total = out->energy.total;
    out->doubts = KS_TAKE(arena, n, ks_fire_doubt);
    for (int i = 0; i < n; i++) {
        slanted a, b;
        bool fails = false;
        ks_status failed = fire_slanted(asked, &doubts[i].less, out->reached, &a, &fails, err);
        if (!failed)
            failed = fire_slanted(asked, &doubts[i].more, out->reached, &b, &fails, err);
        if (failed)
            return failed;
        add_sides(&kwh, total, &a.kwh, &b.kwh);
        add_sides(&open, out->open_after_hours, &a.open_h, &b.open_h);
        out->doubts[out->n_doubts++] =
            (ks_fire_doubt){doubts[i].input, doubts[i].spread, a.kwh, b.kwh, fails};
    }
    if (!isfinite(out->open_after_hours))
        open = (sides){0, 0};
    out->open_low_h = fmax(out->open_after_hours - NINE_OF_TEN * sqrt(open.below), 0);
    out->open_high_h = out->open_after_hours + NINE_OF_TEN * sqrt(open.above);
    double least = 0;
    ks_status status = out->reached ? least_kwh(asked, doubts, n, total, &least, err) : KS_OK;
    out->low_kwh = fmax(total - NINE_OF_TEN * sqrt(kwh.below), least);
    out->high_kwh = total + NINE_OF_TEN * sqrt(kwh.above);
    return status;
}
