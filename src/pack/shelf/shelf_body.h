/* shelf_body.h: a piece where it stands on a level. */
#ifndef KILNSTOW_PACK_SHELF_SHELF_BODY_H
#define KILNSTOW_PACK_SHELF_SHELF_BODY_H

#include "pack/shelf/shelf.h"

typedef struct {
    const ks_shelf_item *item;
    ks_outline *at; /* of each part */
    ks_box *boxes;  /* around each part */
    ks_box box;     /* around all */
} ks_shelf_body;

ks_shelf_body ks_shelf_body_of(const ks_shelf_item *item, ks_stand stand, ks_arena *arena);

/* Whether what is in the boxes can be less than `mm` apart. */
bool ks_boxes_near(ks_box a, ks_box b, double mm);

#endif
