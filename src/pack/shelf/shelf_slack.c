#include "pack/shelf/shelf_body.h"
#include "pack/shelf/shelf_rule.h"

#include <math.h>

/* Only slacks below `best` matter, so boxes that are farther apart need no exact distance. */
static double pair_slack(const ks_shelf_space *space, const ks_shelf_body *a,
                         const ks_shelf_body *b, double best)
{
    for (int p = 0; p < a->item->n_parts; p++)
        for (int q = 0; q < b->item->n_parts; q++) {
            double need = ks_shelf_apart(space, (ks_shelf_part){a->item, &a->item->parts[p]},
                                         (ks_shelf_part){b->item, &b->item->parts[q]});
            if (need == KS_SHELF_FREE || !ks_boxes_near(a->boxes[p], b->boxes[q], need + best))
                continue;
            best = fmin(best, ks_outline_distance(&a->at[p], &b->at[q]) - need);
        }
    return best;
}

static double region_slack(const ks_shelf_space *space, const ks_shelf_body *a, double best)
{
    for (int p = 0; p < a->item->n_parts; p++)
        for (int r = 0; r < space->n_regions; r++) {
            const ks_shelf_region *region = &space->regions[r];
            if (!ks_shelf_region_holds(region, &a->item->parts[p]))
                continue;
            double within = ks_outline_inside(&a->at[p], &region->outline);
            best = fmin(best, within - region->margin_mm - space->reserve_mm);
        }
    return best;
}

static double obstacle_slack(const ks_shelf_space *space, const ks_shelf_body *a,
                             const ks_outline *obstacles, double best)
{
    for (int p = 0; p < a->item->n_parts; p++)
        for (int o = 0; o < space->n_obstacles; o++) {
            double need = ks_shelf_obstacle_apart(space, &space->obstacles[o],
                                                  (ks_shelf_part){a->item, &a->item->parts[p]});
            if (need == KS_SHELF_FREE ||
                !ks_boxes_near(a->boxes[p], ks_outline_box(&obstacles[o]), need + best))
                continue;
            best = fmin(best, ks_outline_distance(&a->at[p], &obstacles[o]) - need);
        }
    return best;
}

static double height_slack(const ks_shelf_space *space, const ks_shelf_item *item, double best)
{
    for (int p = 0; p < item->n_parts; p++)
        if (item->parts[p].to_mm > space->height_mm)
            best = fmin(best, space->height_mm - item->parts[p].to_mm);
    return best;
}

static ks_outline *turn_obstacles(const ks_shelf_space *space, double turn_deg, ks_arena *arena)
{
    ks_outline *out = KS_TAKE(arena, space->n_obstacles, ks_outline);
    for (int o = 0; o < space->n_obstacles; o++) {
        const ks_shelf_obstacle *obstacle = &space->obstacles[o];
        ks_stand stand = {.turn_deg = obstacle->turns ? turn_deg : 0};
        out[o] = ks_outline_place(&obstacle->outline, stand, arena);
    }
    return out;
}

double ks_shelf_slack(const ks_shelf_space *space, const ks_shelf_item *items, int n_spots,
                      const ks_shelf_spot *spots, double post_turn_deg)
{
    ks_arena arena = {0};
    double best = INFINITY;
    ks_outline *obstacles = turn_obstacles(space, post_turn_deg, &arena);
    ks_shelf_body *all = KS_TAKE(&arena, n_spots, ks_shelf_body);
    for (int i = 0; i < n_spots; i++) {
        const ks_shelf_item *item = &items[spots[i].item];
        all[i] = ks_shelf_body_of(item, spots[i].stand, &arena);
        best = height_slack(space, item, best);
        best = region_slack(space, &all[i], best);
        best = obstacle_slack(space, &all[i], obstacles, best);
        for (int j = 0; j < i; j++)
            best = pair_slack(space, &all[j], &all[i], best);
    }
    ks_arena_finish(&arena);
    return best;
}
