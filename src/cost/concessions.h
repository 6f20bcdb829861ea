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

/* What a piece of this owner pays of what its like pays: a guest's factor at the studio's list (of
 * other rules it is in the weights), less her discount. */
double ks_owner_factor(const ks_order *order, ks_share_rule rule, const char *owner);

#endif
