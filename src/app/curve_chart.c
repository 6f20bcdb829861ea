#include "app/curve_chart.h"

#include <math.h>

typedef enum { SET, CHAMBER, COLDEST } curve_of;

static double value_at(const ks_firing_result *fired, int i, curve_of what)
{
    const ks_fire_point *point = &fired->points[i];
    double coldest = INFINITY;
    if (what != COLDEST)
        return what == SET ? point->set_c : point->chamber_c;
    for (int v = 0; v < fired->n_levels; v++)
        coldest = fmin(coldest, point->middle_c[v]);
    return coldest;
}

/* Where there is no value, as of the set point once nothing is asked, the curve has no point. */
static ks_curve make_curve(const ks_firing_result *fired, curve_of what, const char *name,
                           ks_arena *arena)
{
    ks_point *at = KS_TAKE(arena, fired->n_points, ks_point);
    int n = 0;
    for (int i = 0; i < fired->n_points; i++) {
        double value = value_at(fired, i, what);
        if (isfinite(value))
            at[n++] = (ks_point){fired->points[i].time_h, value};
    }
    return (ks_curve){.name = name, .n = n, .at = at, .dashed = what == SET};
}

ks_chart ks_curve_chart(const ks_plan *plan, int load, const ks_firing_result *fired,
                        ks_arena *arena)
{
    ks_curve *curves = KS_TAKE(arena, 3, ks_curve);
    curves[0] = make_curve(fired, SET, "asked for", arena);
    curves[1] = make_curve(fired, CHAMBER, "chamber", arena);
    curves[2] = make_curve(fired, COLDEST, "coldest ware", arena);
    return (ks_chart){.title = ks_arena_print(arena, "Firing of load %d", load + 1),
                      .x_label = "hours",
                      .y_label = "°C",
                      .n_curves = 3,
                      .curves = curves,
                      .note = ks_arena_print(
                          arena,
                          "%s. %.1f kWh, 9 of 10 such firings between %.0f and %.0f. Plan %.8s.",
                          fired->verdict, fired->energy.total, fired->low_kwh, fired->high_kwh,
                          ks_plan_hash(plan, arena))};
}
