/* room.h: how much area a level has at a height, and how much of it a piece needs at the least. */
#ifndef KILNSTOW_PLACE_BOUND_ROOM_H
#define KILNSTOW_PLACE_BOUND_ROOM_H

#include "place/bound/cell.h"
#include "place/stack/level_space.h"

/* Cross-sections of different pieces at one height, each grown by half its clearance, are disjoint
 * and lie in the level's region grown alike. So the sum of what pieces need is at most the room. */

/* By how much the part of an item may be grown so that two grown ones never overlap. */
double ks_part_growth_mm(const ks_shelf_space *space, const ks_shelf_item *item,
                         const ks_part *part);

/* Never less than the area of the region at this height above the shelf, grown by `grow_mm`, less
 * what stands in it. */
double ks_level_room_mm2(const ks_shelf_space *space, double at_mm, double grow_mm,
                         ks_arena *arena);

/* The same with the waste around cells, at this price of a side: what the items' bodies need comes
 * to no more than the room. False where no region at this height is of a shape that the rule for
 * cells knows. `rule` is what items then need by. */
bool ks_level_cell_room(const ks_shelf_space *space, double at_mm, double grow_mm, double side_mm2,
                        ks_arena *arena, ks_cell_rule *rule, double *room_mm2);

/* Never more than what the item's cross-section at this height takes by the rule; at price 0 that
 * is its area, grown. 0 above its top. */
double ks_item_cell_need_mm2(const ks_shelf_space *space, const ks_shelf_item *item, double at_mm,
                             const ks_cell_rule *rule);

#endif
