/* price_list.h: what a customer pays for each kind of ware of a plan. */
#ifndef KILNSTOW_APP_COSTS_PRICE_LIST_H
#define KILNSTOW_APP_COSTS_PRICE_LIST_H

#include "kilnstow/cost.h"
#include "kilnstow/draw.h"

/* A line for each kind that is placed: the order's own price, else the one proposed, of unlike
 * copies the highest; sales tax in it. Owners `by_name`, else by initials. */
const ks_price_list *ks_prices_listed(const ks_plan *plan, const ks_costing *costing, bool by_name,
                                      ks_arena *arena);

#endif
