#include "cost/start.h"

enum { DAY_MIN = 24 * 60, MORNING_MIN = 8 * 60 };

static int64_t clock_of(int64_t local_min)
{
    return (local_min % DAY_MIN + DAY_MIN) % DAY_MIN;
}

ks_start ks_load_start(const ks_money_terms *terms, const ks_load *load)
{
    bool told = terms && terms->start_told;
    if (load->day == KS_NO_DAY)
        return (ks_start){.local_min = told ? terms->start_local_min : 0, .known = told};
    int64_t clock = told ? clock_of(terms->start_local_min) : MORNING_MIN;
    return (ks_start){
        .local_min = (int64_t)load->day * DAY_MIN + clock, .known = true, .clock_assumed = !told};
}

bool ks_start_matters(const ks_power_tariff *power)
{
    return power->n_tiers == 0 && power->n_times > 1;
}
