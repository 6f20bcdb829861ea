/* What room is left beside it. */
#include "fit/fit_way.h"
#include "pack/shelf/roomiest.h"

#include <math.h>

bool ks_fit_way_on(const ks_fit_way *way, const ks_stack_level *level)
{
    return level->bay == way->bay && level->support == way->support &&
           level->standing == way->standing && level->column == way->column;
}

/* The piece becomes an obstacle, and a small disc looks for the roomiest stand beside it. */
double ks_fit_beside_mm(const ks_fit_case *asked, const ks_fit_way *way, ks_arena *arena)
{
    const ks_shelf_item *item = &asked->job.items[0];
    ks_fit_levels levels = ks_fit_bottom_levels(asked, arena);
    int l = 0;
    while (l < levels.n - 1 && !ks_fit_way_on(way, &levels.levels[l]))
        l++;
    ks_shelf_space space = ks_level_space(&asked->job, &asked->kind, &levels.levels[l], arena);
    ks_shelf_obstacle *all = KS_TAKE(arena, space.n_obstacles + item->n_parts, ks_shelf_obstacle);
    for (int i = 0; i < space.n_obstacles; i++)
        all[i] = space.obstacles[i];
    for (int p = 0; p < item->n_parts; p++)
        all[space.n_obstacles + p] = (ks_shelf_obstacle){
            .outline = ks_outline_place(&item->parts[p].outline, way->stand, arena),
            .from_mm = item->parts[p].from_mm - space.under_mm,
            .to_mm = item->parts[p].to_mm + space.under_mm,
            .clearance_mm = fmax(space.ware_mm, item->around_mm)};
    space.obstacles = all;
    space.n_obstacles += item->n_parts;
    ks_part body = {
        KS_PART_BODY, 0, fmin(100, way->clear_mm), ks_outline_disc(0, 0, 1, arena), {0}};
    ks_shelf_item disc = {.n_parts = 1, .parts = &body};
    return fmax(0, 2 * (1 + ks_roomiest_above(&space, &disc, -1, 1).slack_mm));
}
