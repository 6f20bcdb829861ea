/* tower_offer.h: of the towers that the ware on offer can make, those worth most for one level. */
#ifndef KILNSTOW_PLACE_DRAFT_TOWER_OFFER_H
#define KILNSTOW_PLACE_DRAFT_TOWER_OFFER_H

#include "place/draft/fill_ask.h"

/* What the packer is offered. */
typedef struct {
    int n;
    int *item; /* of each item offered */
    int *row;  /* of each item, -1 = not offered */
    ks_shelf_item *items;
} ks_level_offer;

/* Whether ware that is pinned on the level shuns it. */
bool ks_has_pin_conflict(const ks_fill *fill, int item);

/* Adds at most 64 towers, at the worths of the fill, each the sum of its members'; pieces and
 * towers then draw from one stock of copies. Nothing changes where ware does not stack. */
void ks_offer_towers(const ks_fill *fill, double clear_mm, ks_level_offer *offer, ks_arena *arena);

#endif
