/* curve_chart.h: the curve of a firing as a chart to be drawn. */
#ifndef KILNSTOW_APP_CURVE_CHART_H
#define KILNSTOW_APP_CURVE_CHART_H

#include "kilnstow/draw.h"
#include "kilnstow/fire.h"

/* The curve of one load: what is asked, the chamber, the coldest ware. */
ks_chart ks_curve_chart(const ks_plan *plan, int load, const ks_firing_result *fired,
                        ks_arena *arena);

#endif
