/* bill.h: what the firing of one load costs, to the cent. */
#ifndef KILNSTOW_COST_BILL_H
#define KILNSTOW_COST_BILL_H

#include "kilnstow/cost.h"

/* `fired` is of all loads: tiers of a tariff go on from load to load of a month. Fails with
 * KS_BAD_INPUT when the terms have no tariff for the kiln's fuel. */
ks_status ks_load_charge(const ks_plan *plan, int load, const ks_firing_result *fired,
                         ks_arena *arena, ks_load_bill *out, ks_error *err);

/* What its electricity costs if it is switched on then; the bill is not touched. */
ks_fine ks_load_power_at(const ks_plan *plan, int load, const ks_firing_result *fired,
                         int64_t start_utc_s);

#endif
