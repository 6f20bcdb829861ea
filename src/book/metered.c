/* What a firing cost by its own meter. */
#include "kilnstow/learn.h"

#include "base/money_text.h"

#include <string.h>

/* One load by itself. */
typedef struct {
    ks_plan plan;
    ks_order order;
    ks_money_terms terms;
} load_alone;

static void set_alone(const ks_plan *plan, int load, load_alone *out)
{
    out->plan = *plan;
    out->plan.n_loads = 1;
    out->plan.loads = &plan->loads[load];
    out->order = *plan->order;
    out->plan.order = &out->order;
    if (!plan->order->money)
        return;
    out->terms = *plan->order->money;
    out->order.money = &out->terms;
    if (load > 0)
        out->terms.n_extras = 0;
}

/* The simulated firing, drawn out to what the meter said: when it drew is known from the model
 * alone. */
static void scale(ks_firing_result *fired, double kwh, ks_arena *arena)
{
    double factor = kwh / fired->energy.total;
    double *const parts[] = {
        &fired->energy.total,  &fired->energy.ware, &fired->energy.furniture, &fired->energy.lining,
        &fired->energy.casing, &fired->energy.vent, &fired->energy.chemistry, &fired->energy.flue,
        &fired->fuel_m3,       &fired->fuel_kg};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        *parts[i] *= factor;
    ks_fire_point *points = KS_TAKE(arena, fired->n_points, ks_fire_point);
    for (int i = 0; i < fired->n_points; i++) {
        points[i] = fired->points[i];
        points[i].power_kw *= factor;
    }
    fired->points = points;
}

static void take_shares(const ks_costing *costing, ks_arena *arena, ks_book_firing *firing)
{
    firing->charges = KS_TAKE(arena, costing->n_shares, ks_charge);
    firing->n_charges = 0;
    for (int i = 0; i < costing->n_shares; i++) {
        const ks_share *share = &costing->shares[i];
        if (share->pieces > 0 || share->minor != 0)
            firing->charges[firing->n_charges++] =
                (ks_charge){share->member, share->name, share->pieces, share->minor};
    }
}

ks_status ks_book_bill(const ks_plan *plan, const ks_firing_result *fired, ks_arena *arena,
                       ks_book_firing *firing, ks_error *err)
{
    if (!plan->order->money)
        return KS_OK;
    load_alone alone;
    ks_firing_result metered = *fired;
    ks_cost_options by_order = {.rule = -1};
    ks_costing costing;
    set_alone(plan, firing->load - 1, &alone);
    scale(&metered, firing->kwh, arena);
    ks_status status = ks_cost(&alone.plan, &metered, &by_order, arena, &costing, err);
    if (status)
        return status;
    firing->currency = costing.currency;
    firing->digits = costing.digits;
    firing->bill_minor = costing.total_minor;
    take_shares(&costing, arena, firing);
    return KS_OK;
}

ks_status ks_book_meter_kwh(const ks_firing_result *fired, const char *unit, double used,
                            double *kwh, ks_error *err)
{
    double simulated = strcmp(unit, "kWh") == 0  ? fired->energy.total
                       : strcmp(unit, "m3") == 0 ? fired->fuel_m3
                                                 : fired->fuel_kg;
    if (!(simulated > 0))
        return ks_fail(err, KS_BAD_USAGE,
                       "--unit: found \"%s\"; the kiln of this load is not metered so: %s", unit,
                       fired->fuel_kg > 0   ? "its propane is told in kg or kWh"
                       : fired->fuel_m3 > 0 ? "its gas is told in m3 or kWh"
                                            : "it is electric, and told in kWh");
    *kwh = strcmp(unit, "kWh") == 0 ? used : used * fired->energy.total / simulated;
    return KS_OK;
}
