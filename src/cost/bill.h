/* bill.h: what the firing of one load costs, to the cent. */
#ifndef KILNSTOW_COST_BILL_H
#define KILNSTOW_COST_BILL_H

#include "kilnstow/cost.h"

/* `fired` is of all loads: tiers of a tariff go on from load to load of a month. Fails with
 * KS_BAD_INPUT when the terms have no tariff for the kiln's fuel. */
ks_status ks_load_charge(const ks_plan *plan, int load, const ks_firing_result *fired,
                         const ks_cost_options *options, ks_arena *arena, ks_load_bill *out,
                         ks_error *err);

#endif
