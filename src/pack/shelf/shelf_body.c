#include "pack/shelf/shelf_body.h"

#include <math.h>

static ks_box both(ks_box a, ks_box b)
{
    return (ks_box){fmin(a.x0, b.x0), fmin(a.y0, b.y0), fmax(a.x1, b.x1), fmax(a.y1, b.y1)};
}

bool ks_boxes_near(ks_box a, ks_box b, double mm)
{
    return a.x0 - b.x1 < mm && b.x0 - a.x1 < mm && a.y0 - b.y1 < mm && b.y0 - a.y1 < mm;
}

ks_shelf_body ks_shelf_body_of(const ks_shelf_item *item, ks_stand stand, ks_arena *arena)
{
    ks_shelf_body body = {.item = item,
                          .at = KS_TAKE(arena, item->n_parts, ks_outline),
                          .boxes = KS_TAKE(arena, item->n_parts, ks_box),
                          .box = {INFINITY, INFINITY, -INFINITY, -INFINITY}};
    for (int p = 0; p < item->n_parts; p++) {
        body.at[p] = ks_outline_place(&item->parts[p].outline, stand, arena);
        body.boxes[p] = ks_outline_box(&body.at[p]);
        body.box = both(body.box, body.boxes[p]);
    }
    return body;
}
