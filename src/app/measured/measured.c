/* Both are laid upon each other where they begin to warm; a record that begins hot, where the
 * simulated chamber is as hot. From there on the simulated moments are those compared. */
#include "app/measured/measured.h"

#include "kilnstow/cone.h"

#include <math.h>

#define WARMED_K 5.0      /* above the coldest before: no draught, the heaters are on */
#define BEGINS_HOT_K 30.0 /* above the simulated room */
#define TOP_K 5.0
#define ASIDE_K                                                                                    \
    10.0 /* what a thermocouple may read wrong (type K, class 2: 0.75 %, IEC 60584-1, from memory) \
          */

static ks_measured_curve chamber_of(const ks_firing_result *fired, ks_arena *arena)
{
    ks_measured_curve curve = {"chamber", fired->n_points, KS_TAKE(arena, fired->n_points, double),
                               KS_TAKE(arena, fired->n_points, double), INFINITY};
    for (int i = 0; i < fired->n_points; i++) {
        curve.time_h[i] = fired->points[i].time_h;
        curve.temp_c[i] = fired->points[i].chamber_c;
    }
    return curve;
}

static int place_of_peak(const ks_measured_curve *curve)
{
    int peak = 0;
    for (int i = 1; i < curve->n; i++)
        if (curve->temp_c[i] > curve->temp_c[peak])
            peak = i;
    return peak;
}

/* The moment between i - 1 and i at which it passes the temperature. */
static double passes_h(const ks_measured_curve *curve, int i, double temp_c)
{
    double before = curve->temp_c[i - 1], here = curve->temp_c[i];
    return curve->time_h[i - 1] +
           (temp_c - before) / (here - before) * (curve->time_h[i] - curve->time_h[i - 1]);
}

/* When it first gets there on its way up; NAN = never. */
static double first_at(const ks_measured_curve *curve, double temp_c)
{
    if (curve->temp_c[0] >= temp_c)
        return curve->time_h[0];
    for (int i = 1; i < curve->n; i++)
        if (curve->temp_c[i] >= temp_c)
            return passes_h(curve, i, temp_c);
    return NAN;
}

/* When it passes that for the last time before its peak: what cools down first does not count. */
static double last_warmed(const ks_measured_curve *curve, double *temp_c)
{
    int peak = place_of_peak(curve);
    double coldest = INFINITY;
    for (int i = 0; i <= peak; i++)
        coldest = fmin(coldest, curve->temp_c[i]);
    *temp_c = coldest + WARMED_K;
    for (int i = peak; i > 0; i--)
        if (curve->temp_c[i - 1] < *temp_c)
            return passes_h(curve, i, *temp_c);
    return NAN;
}

static void lay_upon(const ks_measured_curve *mean, const ks_measured_curve *chamber,
                     ks_comparison *out)
{
    double warm_c, warmed_h = last_warmed(mean, &warm_c);
    double room_c = chamber->temp_c[0];
    if (isfinite(warmed_h) && warm_c - WARMED_K < room_c + BEGINS_HOT_K) {
        out->begins_h = first_at(chamber, room_c + WARMED_K) - warmed_h;
        out->begins_by = "laid upon the simulated firing where each begins to warm";
        return;
    }
    double as_hot_h = first_at(chamber, mean->temp_c[0]);
    out->begins_h = isfinite(as_hot_h) ? as_hot_h - mean->time_h[0] : 0;
    out->begins_by = isfinite(as_hot_h)
                         ? "it begins hot, and is laid where the simulated chamber is as hot"
                         : "it begins hotter than the simulated chamber gets; both are laid from "
                           "their first moment";
}

static ks_curve_told told_of(const ks_measured_curve *curve, double begins_h)
{
    int peak = place_of_peak(curve);
    ks_curve_told told = {.peak_c = curve->temp_c[peak], .peak_h = begins_h + curve->time_h[peak]};
    told.heated_h = told.peak_h;
    for (int i = peak; i < curve->n; i++)
        if (curve->temp_c[i] >= told.peak_c - TOP_K)
            told.heated_h = begins_h + curve->time_h[i];
    told.cone = ks_cone_of_curve(curve->n, curve->time_h, curve->temp_c);
    return told;
}

double ks_compared_at(const ks_comparison *comparison, const ks_measured_curve *curve, double hours)
{
    return ks_measured_at(curve, hours - comparison->begins_h);
}

/* The record over the chamber at a simulated moment; NAN outside what is compared. */
static double over_k(const ks_comparison *c, const ks_fire_point *point)
{
    if (point->time_h < c->from_h || point->time_h > c->to_h)
        return NAN;
    return ks_compared_at(c, &c->record.mean, point->time_h) - point->chamber_c;
}

/* Mean and root mean square over time, by trapezes. */
static bool sum_up(const ks_firing_result *fired, ks_comparison *out)
{
    double hours = 0, sum = 0, squares = 0, last = NAN;
    for (int i = 0; i < fired->n_points; i++) {
        double over = over_k(out, &fired->points[i]);
        if (isfinite(over) && isfinite(last)) {
            double step_h = fired->points[i].time_h - fired->points[i - 1].time_h;
            hours += step_h;
            sum += step_h * 0.5 * (over + last);
            squares += step_h * 0.5 * (over * over + last * last);
        }
        last = over;
    }
    if (!(hours > 0))
        return false;
    out->mean_k = sum / hours;
    out->rms_k = sqrt(squares / hours);
    return true;
}

static void widen(ks_measured_stretch *stretch, const ks_fire_point *point, double over)
{
    stretch->to_h = point->time_h;
    if (fabs(over) <= fabs(stretch->measured_c - stretch->simulated_c))
        return;
    stretch->at_h = point->time_h;
    stretch->simulated_c = point->chamber_c;
    stretch->measured_c = point->chamber_c + over;
}

static void find_stretches(const ks_firing_result *fired, ks_arena *arena, ks_comparison *out)
{
    int room = 0, side = 0;
    for (int i = 0; i < fired->n_points; i++) {
        const ks_fire_point *point = &fired->points[i];
        double over = over_k(out, point);
        int here = over > ASIDE_K ? 1 : over < -ASIDE_K ? -1 : 0; /* NAN: neither */
        if (here != 0 && here != side) {
            out->stretches =
                KS_GROW(arena, out->stretches, out->n_stretches, &room, ks_measured_stretch);
            out->stretches[out->n_stretches++] = (ks_measured_stretch){.from_h = point->time_h};
        }
        if (here != 0)
            widen(&out->stretches[out->n_stretches - 1], point, over);
        side = here;
    }
}

static void explain_stretches(const ks_firing_result *fired, const ks_measured_curve *chamber,
                              ks_comparison *out)
{
    for (int i = 0; i < out->n_stretches; i++) {
        ks_measured_stretch *stretch = &out->stretches[i];
        stretch->late_h = stretch->at_h - first_at(chamber, stretch->measured_c);
        for (int k = 0; k < fired->n_points; k++)
            if (fired->points[k].time_h <= stretch->at_h && fired->peak_kw > 0)
                stretch->simulated_part = fired->points[k].power_kw / fired->peak_kw;
    }
}

ks_status ks_measured_compare(const ks_measured *record, const ks_firing_result *fired,
                              ks_arena *arena, ks_comparison *out, ks_error *err)
{
    ks_measured_curve chamber = chamber_of(fired, arena);
    const ks_measured_curve *mean = &record->mean;
    *out = (ks_comparison){.record = *record};
    lay_upon(mean, &chamber, out);
    out->curves = KS_TAKE(arena, record->n_curves, ks_curve_told);
    for (int i = 0; i < record->n_curves; i++)
        out->curves[i] = told_of(&record->curves[i], out->begins_h);
    out->mean = told_of(mean, out->begins_h);
    out->simulated = told_of(&chamber, 0);
    out->from_h = fmax(0, out->begins_h + mean->time_h[0]);
    out->to_h = fmin(out->mean.heated_h, out->simulated.heated_h);
    out->still_heating = place_of_peak(mean) == mean->n - 1;
    if (!sum_up(fired, out))
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: its readings, %.1f hours of them, have no moment of heating in common "
                       "with the simulated firing; check its column of time and its unit",
                       record->file, mean->time_h[mean->n - 1]);
    find_stretches(fired, arena, out);
    explain_stretches(fired, &chamber, out);
    return KS_OK;
}
