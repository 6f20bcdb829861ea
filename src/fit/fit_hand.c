#include "fit/fit_hand.h"

#include "pack/shelf/shelf_body.h"
#include "pack/shelf/shelf_order.h"
#include "pack/shelf/shelf_rule.h"

#include <math.h>

static const double far_mm = 100000;

static bool is_large(const ks_shelf_space *space, const ks_shelf_item *item, ks_stand stand)
{
    ks_arena scratch = {0};
    ks_shelf_body body = ks_shelf_body_of(item, stand, &scratch);
    bool large = ks_shelf_is_large(&space->entry, &body);
    ks_arena_finish(&scratch);
    return large;
}

static bool is_held(const ks_shelf_region *wall, const ks_shelf_item *item)
{
    for (int p = 0; p < item->n_parts; p++)
        if (ks_shelf_region_holds(wall, &item->parts[p]))
            return true;
    return false;
}

/* All that is a hand away from the walls on one side, 0 left, 1 right. */
static ks_shelf_region hand_region(const ks_shelf_space *space, const ks_shelf_item *item, int side,
                                   ks_point *corners)
{
    double x0 = -far_mm, x1 = far_mm, hand = space->entry.hand_room_mm;
    for (int r = 0; r < space->n_regions; r++) {
        if (!space->regions[r].is_wall || !is_held(&space->regions[r], item))
            continue;
        ks_box wall = ks_outline_box(&space->regions[r].outline);
        x0 = side == 0 ? fmax(x0, wall.x0 + hand) : x0;
        x1 = side == 1 ? fmin(x1, wall.x1 - hand) : x1;
    }
    corners[0] = (ks_point){x0, -far_mm};
    corners[1] = (ks_point){x1, -far_mm};
    corners[2] = (ks_point){x1, far_mm};
    corners[3] = (ks_point){x0, far_mm};
    return (ks_shelf_region){.outline = {4, corners, 0}, .from_mm = 0, .to_mm = far_mm};
}

static ks_roomiest roomiest_beside(const ks_shelf_space *space, const ks_shelf_item *item, int side,
                                   double floor_mm, double within_mm)
{
    ks_arena scratch = {0};
    ks_point corners[4];
    ks_shelf_space handed = *space;
    ks_shelf_region *regions = KS_TAKE(&scratch, space->n_regions + 1, ks_shelf_region);
    for (int r = 0; r < space->n_regions; r++)
        regions[r] = space->regions[r];
    regions[handed.n_regions++] = hand_region(space, item, side, corners);
    handed.regions = regions;
    ks_roomiest best = ks_roomiest_above(&handed, item, floor_mm, within_mm);
    ks_arena_finish(&scratch);
    return best;
}

ks_roomiest ks_fit_roomiest(const ks_shelf_space *space, const ks_shelf_item *item, double floor_mm,
                            double within_mm, bool *for_hand)
{
    ks_roomiest best = ks_roomiest_above(space, item, floor_mm, within_mm);
    *for_hand = false;
    if ((best.region < 0 && best.obstacle < 0) || !is_large(space, item, best.stand))
        return best;
    ks_roomiest left = roomiest_beside(space, item, 0, floor_mm, within_mm);
    ks_roomiest right = roomiest_beside(space, item, 1, floor_mm, within_mm);
    ks_roomiest handed = right.slack_mm > left.slack_mm ? right : left;
    *for_hand = best.slack_mm >= 0 && handed.slack_mm < 0;
    return handed;
}
