/* level_fill.h: one level filled by the packer with what is on offer. */
#ifndef KILNSTOW_PLACE_DRAFT_LEVEL_FILL_H
#define KILNSTOW_PLACE_DRAFT_LEVEL_FILL_H

#include "place/draft/fill_ask.h"

/* Items of the layout are those of the job. Its worth is by `worth`; pins are not part of it. */
ks_shelf_layout ks_level_fill(const ks_fill *fill, ks_arena *arena);

/* Puts the pinned ware into the space, where it stands in the way like posts do. */
void ks_level_pin(const ks_fill *fill, ks_shelf_space *space, ks_arena *arena);

#endif
