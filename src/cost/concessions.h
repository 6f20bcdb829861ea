/* concessions.h: surcharges, discounts and subscriptions: what a member pays of her firings. */
#ifndef KILNSTOW_COST_CONCESSIONS_H
#define KILNSTOW_COST_CONCESSIONS_H

#include "kilnstow/cost.h"

/* Adds their lines to the shares, which hold the firings and nothing else so far; the studio's
 * takes what the others are let off or charged on top. */
void ks_concessions_settle(const ks_plan *plan, ks_share_rule rule, ks_arena *arena,
                           ks_costing *out);

/* The flat fee that pays this member's firings; NULL = none. */
const ks_subscription *ks_subscription_of(const ks_order *order, int member);

#endif
