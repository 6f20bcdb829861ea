/* curve_chart.h: the curve of a firing as a chart to be drawn. */
#ifndef KILNSTOW_APP_CURVE_CHART_H
#define KILNSTOW_APP_CURVE_CHART_H

#include "app/measured/measured.h"
#include "kilnstow/draw.h"

/* What a curve is made of. */
typedef struct {
    const ks_plan *plan;
    int load;
    const ks_firing_result *fired;
    const ks_comparison *measured; /* laid over it, NULL = nothing */
} ks_fired_curve;

/* The curve of one load in the order's own degrees: what is asked, the chamber, the coldest ware,
 * and what was measured. */
ks_chart ks_curve_chart(const ks_fired_curve *of, ks_arena *arena);

#endif
