#include "pack/shelf/shelf_rule.h"

static bool is_setter(ks_part_kind kind)
{
    return kind != KS_PART_FOOT && kind != KS_PART_BODY;
}

static double larger(double a, double b)
{
    return a > b ? a : b;
}

double ks_shelf_apart(const ks_shelf_space *space, ks_shelf_part a, ks_shelf_part b)
{
    bool never_over = a.item->runny || b.item->runny;
    bool meet = a.part->from_mm < b.part->to_mm + space->under_mm &&
                b.part->from_mm < a.part->to_mm + space->under_mm;
    if (!meet && !never_over)
        return KS_SHELF_FREE;
    double base = a.item->glazed || b.item->glazed ? space->ware_mm : 0;
    if (is_setter(a.part->kind) && is_setter(b.part->kind))
        base = space->setter_mm;
    return larger(base, larger(a.item->around_mm, b.item->around_mm)) + space->reserve_mm;
}

bool ks_shelf_region_holds(const ks_shelf_region *region, const ks_part *part)
{
    if (region->feet_only && part->from_mm > 0)
        return false;
    if (region->grog_only && part->kind != KS_PART_GROG)
        return false;
    return part->from_mm < region->to_mm && part->to_mm > region->from_mm;
}

bool ks_shelf_obstacle_holds(const ks_shelf_obstacle *obstacle, const ks_part *part)
{
    return part->from_mm < obstacle->to_mm && part->to_mm > obstacle->from_mm &&
           (!obstacle->grog_only || part->kind == KS_PART_GROG);
}

double ks_shelf_obstacle_clearance(const ks_shelf_obstacle *obstacle, const ks_shelf_item *item)
{
    double own = obstacle->is_post && item->runny ? item->around_mm : 0;
    return larger(obstacle->clearance_mm, own);
}

double ks_shelf_obstacle_apart(const ks_shelf_space *space, const ks_shelf_obstacle *obstacle,
                               ks_shelf_part part)
{
    if (obstacle->ware)
        return ks_shelf_apart(space, (ks_shelf_part){obstacle->ware, obstacle->ware_part}, part);
    if (!ks_shelf_obstacle_holds(obstacle, part.part))
        return KS_SHELF_FREE;
    return ks_shelf_obstacle_clearance(obstacle, part.item) + space->reserve_mm;
}

bool ks_shelf_weighs_on(const ks_shelf_space *space, const ks_shelf_bearer *bearer,
                        const ks_shelf_item *item, ks_stand stand)
{
    ks_arena scratch = {0};
    bool reaches = false;
    for (int p = 0; p < item->n_parts && !reaches; p++) {
        if (item->parts[p].from_mm > 0)
            continue;
        ks_outline foot = ks_outline_place(&item->parts[p].outline, stand, &scratch);
        reaches = ks_outline_distance(&foot, &bearer->outline) < space->reserve_mm;
    }
    ks_arena_finish(&scratch);
    return reaches;
}
