/* tower_choice.h: which towers an order's unglazed ware may make. */
#ifndef KILNSTOW_PACK_TOWER_TOWER_CHOICE_H
#define KILNSTOW_PACK_TOWER_TOWER_CHOICE_H

#include "pack/tower/tower.h"

/* Towers that the order's unglazed ware may make, by its rules and no taller than so, at most
 * KS_TOWERS_KNOWN: of each kind at the bottom those worth most for the room they take. Those with
 * fewer pieces on rims come first. */
enum { KS_TOWERS_KNOWN = 600 };
int ks_towers_find(const ks_order *order, double tallest_mm, double longest_mm, ks_arena *arena,
                   const ks_tower **out);

/* How many of its pieces stand on rims. */
int ks_tower_rims(const ks_tower *tower);

#endif
