/* tower_item.h: towers of stacked ware as items of a job. */
#ifndef KILNSTOW_PLACE_JOB_TOWER_ITEM_H
#define KILNSTOW_PLACE_JOB_TOWER_ITEM_H

#include "pack/shelf/shelf.h"
#include "pack/tower/tower.h"

/* Towers that the order's ware may make in the tallest of its kilns. How many. */
int ks_towers_of_order(const ks_order *order, ks_arena *arena, const ks_tower **out);

/* A tower as an item for the shelf packer, all its members together; it has no copies of its own.
 * `pieces` are the items of the order's pieces. */
ks_shelf_item ks_tower_item(const ks_order *order, const ks_tower *tower,
                            const ks_shelf_item *pieces, ks_arena *arena);

/* What a piece is made of, its hollows not counted, mm3: what no other ware can fill. */
double ks_solid_mm3(const ks_piece *piece);

/* Where a member stands, its tower standing so; and where the tower does, its lowest standing so.
 */
ks_stand ks_member_stand(const ks_tower_member *member, ks_stand tower);
ks_stand ks_tower_stand(const ks_tower *tower, ks_stand lowest);

#endif
