/* assumed.h: what a costing had to take for granted, said in words. */
#ifndef KILNSTOW_COST_ASSUMED_H
#define KILNSTOW_COST_ASSUMED_H

#include "kilnstow/cost.h"

/* Fills out->assumed. */
void ks_cost_assumed(const ks_plan *plan, const ks_firing_result *fired, ks_arena *arena,
                     ks_costing *out);

#endif
