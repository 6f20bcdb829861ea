/* settle.h: the bill among the members, exact to the minor unit. */
#ifndef KILNSTOW_COST_SETTLE_H
#define KILNSTOW_COST_SETTLE_H

#include "kilnstow/cost.h"

/* Fills out->shares and out->total_minor from out->loads and out->pieces. */
void ks_costing_settle(const ks_plan *plan, ks_share_rule rule, ks_arena *arena, ks_costing *out);

/* Weights of one load as the payers feel them: a guest's pieces times the guest factor, cone packs
 * and empty space on the studio's account or on nobody's (then all pay for them as they pay for
 * their ware). One for each member, then the studio's. */
double *ks_payer_weights(const ks_plan *plan, int load, ks_share_rule rule, ks_arena *arena);

#endif
