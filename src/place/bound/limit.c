#include "place/bound/limit.h"

#include <math.h>

static double inner_radius(const ks_shelf_item *item)
{
    double most = 0;
    for (int i = 0; i < item->n_parts; i++) {
        const ks_part *part = &item->parts[i];
        if (part->from_mm > 0 || !ks_outline_convex(&part->outline))
            continue;
        double r = -ks_outline_from_point(&part->outline, ks_outline_centroid(&part->outline));
        most = r > most ? r : most;
    }
    return most;
}

/* The least circle and square around where ware may be at the shelf. */
static void surround(ks_limit *limit)
{
    const ks_shelf_space *space = limit->ware.space;
    limit->reach_mm = limit->side_mm = INFINITY;
    for (int r = 0; r < space->n_regions; r++) {
        const ks_shelf_region *region = &space->regions[r];
        if (region->from_mm > 0 || region->to_mm <= 0 || region->grog_only)
            continue;
        ks_box box = ks_outline_box(&region->outline);
        double side = fmax(box.x1 - box.x0, box.y1 - box.y0) - 2 * region->margin_mm;
        limit->reach_mm =
            fmin(limit->reach_mm, ks_outline_around(&region->outline).r - region->margin_mm);
        limit->side_mm = fmin(limit->side_mm, side);
    }
}

/* A row at this height and price of a side; the caller's to keep or not. False where there is none.
 */
static bool row_at(const ks_limit *limit, double at_mm, double side_mm2, ks_limit_row *row,
                   ks_arena *arena)
{
    const ks_limit_ware *w = &limit->ware;
    double grow = w->space->ware_mm / 2;
    ks_cell_rule rule = {0, 0};
    row->room_mm2 = 0;
    if (!(side_mm2 > 0))
        row->room_mm2 = ks_level_room_mm2(w->space, at_mm, grow, arena);
    else if (!ks_level_cell_room(w->space, at_mm, grow, side_mm2, arena, &rule, &row->room_mm2))
        return false;
    row->need_mm2 = KS_TAKE(arena, w->n_items, double);
    for (int i = 0; i < w->n_items; i++)
        if (w->times[i] > 0 && !w->items[i].stacks)
            row->need_mm2[i] = ks_item_cell_need_mm2(w->space, &w->items[i], at_mm, &rule);
    return true;
}

/* Whether ware needs more here than at the shelf, so that the height is worth a row. */
static bool needs_more(const ks_limit *limit, const ks_limit_row *row)
{
    for (int i = 0; i < limit->ware.n_items; i++)
        if (row->need_mm2[i] > limit->rows[0].need_mm2[i] * 1.02)
            return true;
    return false;
}

static double mean_need(const ks_limit *limit)
{
    double sum = 0, n = 0;
    for (int i = 0; i < limit->ware.n_items; i++) {
        sum += limit->ware.times[i] * limit->rows[0].need_mm2[i];
        n += limit->ware.times[i];
    }
    return n > 0 ? sum / n : 0;
}

static const double shares[] = {KS_SIDE_SHARE / 2, KS_SIDE_SHARE, KS_SIDE_SHARE * 2};

static void add_volumes(ks_limit *limit, ks_arena *arena)
{
    double mean = mean_need(limit);
    ks_limit_add_volumes(limit, 0, arena);
    for (int s = 0; s < 3 && mean > 0; s++)
        ks_limit_add_volumes(limit, shares[s] * mean, arena);
}

static void add_cell_rows(ks_limit *limit, double at_mm, ks_arena *arena)
{
    double mean = mean_need(limit);
    for (int s = 0; s < 3 && mean > 0 && limit->n_rows < KS_LIMIT_ROWS; s++)
        if (row_at(limit, at_mm, shares[s] * mean, &limit->rows[limit->n_rows], arena))
            limit->n_rows++;
}

void ks_limit_init(ks_limit *limit, const ks_limit_ware *ware, ks_arena *arena)
{
    static const double heights[] = {15, 40, 80, 140};
    const ks_shelf_space *space = ware->space;
    *limit = (ks_limit){.ware = *ware, .n_rows = 1};
    limit->apart_mm = space->ware_mm < space->setter_mm ? space->ware_mm : space->setter_mm;
    surround(limit);
    limit->inner_mm = KS_TAKE(arena, ware->n_items, double);
    limit->table = KS_TAKE(arena, ware->n_heights, double);
    for (int i = 0; i < ware->n_items; i++)
        limit->inner_mm[i] = ware->items[i].stacks ? 0 : inner_radius(&ware->items[i]);
    row_at(limit, 0, 0, &limit->rows[0], arena);
    add_cell_rows(limit, 0, arena);
    add_volumes(limit, arena);
    for (int h = 0; h < 4; h++) {
        ks_limit_row *row = &limit->rows[limit->n_rows];
        if (limit->n_rows == KS_LIMIT_ROWS || !row_at(limit, heights[h], 0, row, arena) ||
            !needs_more(limit, row))
            continue;
        limit->n_rows++;
        add_cell_rows(limit, heights[h], arena);
    }
}

void ks_limit_gain(ks_limit *limit, const double *gain)
{
    int last = limit->ware.n_heights - 1;
    ks_limit_mix tightest = {0, 1};
    for (int h = 0; h <= last; h++)
        limit->table[h] = INFINITY;
    for (int r = 0; r < limit->n_rows; r++)
        for (int half = 0; half < (r > 0 ? 2 : 1); half++) {
            ks_limit_mix mix = {r, half ? 0.5 : 1};
            double before = limit->table[last];
            ks_limit_lower_by_area(limit, gain, mix);
            if (limit->table[last] < before)
                tightest = mix;
        }
    ks_limit_lower_by_volume(limit, gain);
    ks_limit_lower_by_count(limit, gain);
    ks_limit_lower_by_charges(limit, gain, tightest);
}

double ks_limit_of(const ks_limit *limit, int height)
{
    return height < 0 ? 0 : limit->table[height];
}
