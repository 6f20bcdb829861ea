/* share.h: who pays, and lines on her share of the bill. */
#ifndef KILNSTOW_COST_SHARE_H
#define KILNSTOW_COST_SHARE_H

#include "kilnstow/cost.h"

/* Whose share this owner's ware is on: her place among the members, or behind the last of them the
 * studio's, which ware of nobody named is. */
int ks_payer_of(const ks_order *order, const char *owner);

/* How many times a guest's ware counts, or what it pays by the studio's list; 1 for all others. */
double ks_guest_factor(const ks_order *order, int payer);

/* Whether the bills of all loads are shared as one; the studio's list takes no notice. */
bool ks_loads_together(const ks_order *order, ks_share_rule rule);

/* Adds a line, but none of nothing. */
void ks_share_line(ks_share *share, const char *what, const char *how, int64_t minor,
                   ks_arena *arena);

#endif
