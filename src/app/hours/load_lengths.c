#include "app/hours/load_lengths.h"

#include "kilnstow/money.h"

#include <math.h>

enum { HOUR_S = 3600, TEN_DAYS_H = 240 };

double ks_handling_s(const ks_order *order)
{
    return order->money && order->money->load_s > 0 ? order->money->load_s : 3 * HOUR_S;
}

ks_lengths ks_lengths_of(const ks_order *order, const ks_firing_result *fired)
{
    double both_s = ks_handling_s(order);
    ks_lengths lengths = {.cone_down_s = KS_NO_TIME};
    double cooling_h = isfinite(fired->open_after_hours) ? fired->open_after_hours : TEN_DAYS_H;
    if (isfinite(fired->cone_down_h))
        lengths.cone_down_s = (int64_t)(fired->cone_down_h * HOUR_S);
    lengths.ended_s = (int64_t)(fired->hours * HOUR_S);
    lengths.open_s = (int64_t)((fired->hours + cooling_h) * HOUR_S);
    /* Filling takes twice as long as emptying (common practice, no source). */
    lengths.loading_s = (int64_t)(isnan(order->loading_s) ? both_s * 2 / 3 : order->loading_s);
    lengths.unloading_s = (int64_t)(isnan(order->unloading_s) ? both_s / 3 : order->unloading_s);
    return lengths;
}
