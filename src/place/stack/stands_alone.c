#include "place/stack/stands_alone.h"

#include "pack/shelf/shelf_rule.h"
#include "place/stack/level_space.h"
#include "place/stack/stack_bound.h"

static bool stands_on(const ks_job *job, const ks_load_kind *kind, ks_stack_level level, int way,
                      int item)
{
    const ks_furniture *f = kind->furniture;
    const ks_column *column = &f->post_layouts[level.standing].columns[level.column];
    ks_um thick = column->ways[way].thickness;
    for (int g = -1; g < f->n_gaps; g++) {
        level.z = (g < 0 ? 0 : f->gaps[g].height) + thick;
        level.gap = ks_um_of(f->kiln->height_mm) - level.z;
        if (!ks_floor_gap(f, g) || !ks_way_rests(f, column, way, g, level.z - thick) ||
            !ks_support_lies(f, level.bay, level.support, level.z, level.z))
            continue;
        ks_arena scratch = {0};
        ks_shelf_space space = ks_level_space(job, kind, &level, &scratch);
        ks_outline shelf = ks_support_outline(
            f->kiln, &f->kiln->bays[level.bay].supports[level.support], &scratch);
        ks_point middle = ks_outline_centroid(&shelf);
        ks_shelf_spot spot = {0,
                              {ks_mm_of(ks_um_of(middle.x)), ks_mm_of(ks_um_of(middle.y)),
                               job->items[item].turn_first_deg}};
        bool stands = space.height_mm >= job->height_mm[item] &&
                      ks_shelf_slack(&space, &job->items[item], 1, &spot, 0) >= 0 &&
                      ks_shelf_loadable(&space, &job->items[item], 1, &spot);
        ks_arena_finish(&scratch);
        return stands;
    }
    return false;
}

static bool stands_in_column(const ks_job *job, const ks_load_kind *kind, int standing, int index,
                             int item)
{
    const ks_column *column = &kind->furniture->post_layouts[standing].columns[index];
    for (int w = 0; w < column->n_ways; w++)
        for (int b = 0; b < column->n_bays; b++) {
            ks_stack_level level = {.bay = column->bays[b],
                                    .support = column->ways[w].supports[b],
                                    .standing = standing,
                                    .column = index,
                                    .posts = -1};
            if (stands_on(job, kind, level, w, item))
                return true;
        }
    return false;
}

bool ks_stands_alone(const ks_job *job, int kind, int item)
{
    const ks_load_kind *k = &job->kinds[kind];
    const ks_furniture *f = k->furniture;
    for (int s = 0; s < f->n_post_layouts && k->suits[item]; s++)
        for (int c = 0; c < f->post_layouts[s].n_columns; c++)
            if (stands_in_column(job, k, s, c, item))
                return true;
    return false;
}
