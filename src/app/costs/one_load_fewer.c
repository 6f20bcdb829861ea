#include "app/costs/one_load_fewer.h"

#include "kilnstow/cost.h"
#include "kilnstow/fire.h"

typedef struct {
    double kwh, hours;
    bool costed;
    int64_t bill_minor;
} fired_plan;

/* A bill that can't be made out, for want of a price say, is not told. */
static ks_status find_sums(const ks_plan *plan, ks_arena *arena, fired_plan *out, ks_error *err)
{
    ks_fire_options firing = ks_fire_default();
    ks_cost_options options = {.rule = -1};
    ks_firing_result *fired = KS_TAKE(arena, plan->n_loads, ks_firing_result);
    ks_costing costing;
    ks_error unpriced = {0};
    ks_status status = KS_OK;
    *out = (fired_plan){0};
    for (int l = 0; l < plan->n_loads && !status; l++) {
        firing.load = l;
        status = ks_fire(plan, &firing, arena, &fired[l], err);
        out->kwh += fired[l].energy.total;
        out->hours += fired[l].hours;
    }
    if (status)
        return status;
    out->costed = ks_cost(plan, fired, &options, arena, &costing, &unpriced) == KS_OK;
    for (int l = 0; l < plan->n_loads && out->costed; l++)
        out->bill_minor += costing.loads[l].total_minor;
    return KS_OK;
}

ks_status ks_load_saved_find(const ks_plan *best, const ks_plan *fewer, ks_arena *arena,
                             ks_load_saved *out, ks_error *err)
{
    fired_plan all, some;
    ks_status status = find_sums(best, arena, &all, err);
    if (!status)
        status = find_sums(fewer, arena, &some, err);
    if (status)
        return status;
    *out = (ks_load_saved){.plan = fewer,
                           .kwh = all.kwh - some.kwh,
                           .hours = all.hours - some.hours,
                           .costed = all.costed && some.costed,
                           .bill_minor = all.bill_minor - some.bill_minor};
    return KS_OK;
}
