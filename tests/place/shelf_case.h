/* shelf_case.h: small levels and pieces that the shelf packer's tests are made of. */
#ifndef KILNSTOW_TESTS_SHELF_CASE_H
#define KILNSTOW_TESTS_SHELF_CASE_H

#include "check.h"
#include "pack/shelf/shelf.h"

#include <math.h>

/* A level that is one region, 200 mm high, with the default clearances, no reserve and no posts. */
static inline ks_shelf_space level_of(ks_outline outline, ks_arena *arena)
{
    ks_shelf_region *region = KS_TAKE(arena, 1, ks_shelf_region);
    *region = (ks_shelf_region){.outline = outline, .to_mm = 200};
    return (ks_shelf_space){.n_regions = 1,
                            .regions = region,
                            .height_mm = 200,
                            .ware_mm = 6,
                            .under_mm = 12,
                            .setter_mm = 6,
                            .mass_limit_kg = INFINITY};
}

static inline ks_part part_of(ks_part_kind kind, double from_mm, double to_mm, ks_outline outline)
{
    return (ks_part){.kind = kind, .from_mm = from_mm, .to_mm = to_mm, .outline = outline};
}

/* A glazed piece of one part. */
static inline ks_shelf_item item_of(ks_outline outline, double height_mm, double worth, int copies,
                                    ks_arena *arena)
{
    ks_part *part = KS_TAKE(arena, 1, ks_part);
    *part = part_of(KS_PART_BODY, 0, height_mm, outline);
    return (ks_shelf_item){
        .n_parts = 1, .parts = part, .glazed = true, .worth = worth, .copies = copies};
}

static inline ks_shelf_item round_item(double r, double worth, int copies, ks_arena *arena)
{
    return item_of(ks_outline_disc(0, 0, r, arena), 100, worth, copies, arena);
}

/* A rectangle that may not turn. */
static inline ks_shelf_item tile_item(double w, double d, double worth, int copies, ks_arena *arena)
{
    ks_shelf_item item = item_of(ks_outline_rectangle(w, d, 0, arena), 20, worth, copies, arena);
    item.turn_step_deg = 360;
    return item;
}

static inline ks_shelf_layout packed(const ks_shelf_space *space, int n, const ks_shelf_item *items,
                                     int64_t work, ks_arena *arena)
{
    ks_shelf_search *search = ks_shelf_search_create(space, n, items, 1);
    ks_shelf_search_run(search, work, NULL);
    ks_shelf_layout best = ks_shelf_search_best(search, arena);
    ks_shelf_search_destroy(search);
    return best;
}

#endif
