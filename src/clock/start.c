#include "clock/start.h"

enum { MORNING_MIN = 8 * 60 };

static int64_t clock_of(int64_t local_min)
{
    return (local_min % KS_DAY_MIN + KS_DAY_MIN) % KS_DAY_MIN;
}

ks_start ks_load_start(const ks_order *order, const ks_load *load)
{
    const ks_money_terms *terms = order->money;
    bool told = terms && terms->start_told;
    if (load->day == KS_NO_DAY)
        return (ks_start){.local_min = told ? terms->start_local_min : 0, .known = told};
    int64_t clock = order->start_told ? order->start_min
                    : told            ? clock_of(terms->start_local_min)
                                      : MORNING_MIN;
    return (ks_start){.local_min = (int64_t)load->day * KS_DAY_MIN + clock,
                      .known = true,
                      .clock_assumed = !told && !order->start_told};
}

ks_zone_rule ks_studio_zone(const ks_order *order)
{
    ks_zone_rule zone;
    (void)ks_zone_rule_parse(order->zone ? order->zone : "", &zone); /* its reader refuses others */
    return zone;
}

bool ks_start_matters(const ks_power_tariff *power)
{
    return power->n_tiers == 0 && power->n_times > 1;
}
