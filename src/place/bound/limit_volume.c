#include "place/bound/limit.h"

#include <math.h>
#include <stdlib.h>

/* Areas at one height say nothing of how tall ware is, and where feet are small and rims wide each
 * of them lets low ware or wide ware in for nothing. But what is true at every height is true of
 * the sum over heights: volumes, each cross-section grown by half its clearance or widened to its
 * cell, come to no more than the room times the height that the tallest ware takes. So levels over
 * one another never hold more than the chamber. */

static double top_of(const ks_shelf_item *item)
{
    double top = 0;
    for (int p = 0; p < item->n_parts; p++)
        top = fmax(top, item->parts[p].to_mm);
    return top;
}

static bool has_stacks(const ks_limit_ware *ware)
{
    for (int i = 0; i < ware->n_items; i++)
        if (ware->times[i] > 0 && ware->items[i].stacks)
            return true;
    return false;
}

static double tallest_mm(const ks_limit_ware *ware)
{
    double most = 0;
    for (int i = 0; i < ware->n_items; i++)
        if (ware->times[i] > 0)
            most = fmax(most, has_stacks(ware) ? ware->ceiling_mm[ware->n_heights - 1]
                                               : top_of(&ware->items[i]));
    return most;
}

/* Room in a region that is there at every height of the ware, obstacles overlooked: those may end
 * anywhere. */
static bool room_throughout(const ks_limit *limit, double side_mm2, ks_arena *arena,
                            ks_cell_rule *rule, double *room_mm2)
{
    ks_shelf_space space = *limit->ware.space;
    ks_shelf_region *regions = KS_TAKE(arena, space.n_regions, ks_shelf_region);
    const double grow = space.ware_mm / 2, above_feet_mm = 1;
    double tallest = tallest_mm(&limit->ware);
    int n = 0;
    for (int r = 0; r < space.n_regions; r++)
        if (space.regions[r].from_mm <= 0 && space.regions[r].to_mm >= tallest)
            regions[n++] = space.regions[r];
    space.regions = regions;
    space.n_regions = n;
    space.n_obstacles = 0;
    *rule = (ks_cell_rule){0, 0};
    if (side_mm2 > 0)
        return ks_level_cell_room(&space, above_feet_mm, grow, side_mm2, arena, rule, room_mm2);
    *room_mm2 = ks_level_room_mm2(&space, above_feet_mm, grow, arena);
    return isfinite(*room_mm2);
}

static int by_value(const void *x, const void *y)
{
    double a = *(const double *)x, b = *(const double *)y;
    return (a > b) - (a < b);
}

/* Cross-sections change only where a part begins or ends. */
double ks_item_volume_mm3(const ks_shelf_space *space, const ks_shelf_item *item,
                          const ks_cell_rule *rule)
{
    ks_arena scratch = {0};
    double *ends = KS_TAKE(&scratch, 2 * item->n_parts, double), sum = 0;
    for (int p = 0; p < item->n_parts; p++) {
        ends[2 * p] = item->parts[p].from_mm;
        ends[2 * p + 1] = item->parts[p].to_mm;
    }
    qsort(ends, 2 * (size_t)item->n_parts, sizeof *ends, by_value);
    for (int e = 0; e + 1 < 2 * item->n_parts; e++)
        if (ends[e + 1] > ends[e])
            sum += (ends[e + 1] - ends[e]) * ks_item_cell_need_mm2(space, item, ends[e], rule);
    ks_arena_finish(&scratch);
    return sum;
}

void ks_limit_add_volumes(ks_limit *limit, double side_mm2, ks_arena *arena)
{
    const ks_limit_ware *w = &limit->ware;
    ks_cell_rule rule;
    ks_limit_volumes *v = &limit->volumes[limit->n_volumes];
    if (limit->n_volumes == KS_LIMIT_VOLUMES ||
        !room_throughout(limit, side_mm2, arena, &rule, &v->room_mm2))
        return;
    v->need_mm3 = KS_TAKE(arena, w->n_items, double);
    v->top_mm = KS_TAKE(arena, w->n_heights, double);
    for (int i = 0; i < w->n_items; i++) {
        int h = w->height[i];
        if (w->times[i] <= 0)
            continue;
        v->need_mm3[i] = !w->items[i].stacks ? ks_item_volume_mm3(w->space, &w->items[i], &rule)
                         : side_mm2 > 0      ? 0
                                             : w->items[i].filled_mm3;
        if (h >= 0)
            v->top_mm[h] = fmax(v->top_mm[h], top_of(&w->items[i]));
    }
    for (int h = 0; h < w->n_heights && has_stacks(w); h++)
        v->top_mm[h] = w->ceiling_mm[h];
    for (int h = 1; h < w->n_heights; h++)
        v->top_mm[h] = fmax(v->top_mm[h], v->top_mm[h - 1]);
    limit->n_volumes++;
}

typedef struct {
    int height, times;
    double gain, need_mm3;
} liquid;

/* The best for its volume first; what takes none, before all. */
static int by_density(const void *x, const void *y)
{
    const liquid *a = x, *b = y;
    double first = a->gain * b->need_mm3, second = b->gain * a->need_mm3;
    return (first < second) - (first > second);
}

/* As if ware up to this height were liquid. */
static double most_up_to(const liquid *ware, int n, int height, double room_mm3)
{
    double sum = 0;
    for (int i = 0; i < n && room_mm3 > 0; i++) {
        double all = ware[i].times * ware[i].need_mm3;
        if (ware[i].height > height)
            continue;
        sum += ware[i].gain * ware[i].times * (all <= room_mm3 ? 1 : room_mm3 / all);
        room_mm3 -= all;
    }
    return sum;
}

void ks_limit_lower_by_volume(ks_limit *limit, const double *gain)
{
    const ks_limit_ware *w = &limit->ware;
    ks_arena scratch = {0};
    liquid *ware = KS_TAKE(&scratch, w->n_items, liquid);
    for (int k = 0; k < limit->n_volumes; k++) {
        const ks_limit_volumes *v = &limit->volumes[k];
        int n = 0;
        for (int i = 0; i < w->n_items; i++)
            if (gain[i] > 0 && w->times[i] > 0)
                ware[n++] = (liquid){w->height[i], w->times[i], gain[i], v->need_mm3[i]};
        qsort(ware, (size_t)n, sizeof *ware, by_density);
        for (int h = 0; h < w->n_heights; h++)
            limit->table[h] =
                fmin(limit->table[h], most_up_to(ware, n, h, v->room_mm2 * v->top_mm[h]));
    }
    ks_arena_finish(&scratch);
}
