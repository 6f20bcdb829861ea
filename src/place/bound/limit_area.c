#include "place/bound/limit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { CELLS = 2000 };

double ks_limit_room_mm2(const ks_limit *limit, ks_limit_mix mix)
{
    double first = limit->rows[0].room_mm2;
    return first + mix.part * (limit->rows[mix.row].room_mm2 - first);
}

static double mixed_need(const ks_limit *limit, ks_limit_mix mix, int item)
{
    double first = limit->rows[0].need_mm2[item];
    return first + mix.part * (limit->rows[mix.row].need_mm2[item] - first);
}

double ks_limit_disc_mm(const ks_limit *limit, int item)
{
    return limit->inner_mm[item] + (limit->ware.items[item].glazed ? limit->apart_mm / 2 : 0);
}

static int by_height(const void *x, const void *y)
{
    const ks_limit_item *a = x, *b = y;
    return a->height != b->height ? a->height - b->height : a->item - b->item;
}

/* Two discs stand side by side only if their radii come to no more than this: their middles are
 * then as far apart as a circle or a square around the level lets them be. */
static double pair_most(const ks_limit *limit)
{
    double circle = limit->reach_mm + limit->apart_mm / 2,
           square = (limit->side_mm + limit->apart_mm) / 1.7071067811865475;
    return (circle < square ? circle : square) + 1e-6;
}

int ks_limit_items(const ks_limit *limit, const double *gain, ks_limit_mix mix, ks_limit_item *out)
{
    const ks_limit_ware *ware = &limit->ware;
    double pair = pair_most(limit);
    int n = 0;
    for (int i = 0; i < ware->n_items; i++) {
        double disc = ks_limit_disc_mm(limit, i);
        if (gain[i] <= 0 || ware->times[i] <= 0 || limit->inner_mm[i] > limit->reach_mm + 1e-6)
            continue;
        out[n++] = (ks_limit_item){
            i,    ware->height[i], ware->times[i], gain[i], mixed_need(limit, mix, i),
            disc, 2 * disc > pair};
    }
    qsort(out, (size_t)n, sizeof *out, by_height);
    return n;
}

/* Of this many equal pieces put in at once; what they take is rounded down to whole cells. Read
 * from a copy, so that several cells are worked out at a time. */
static void put_in(double *restrict best, double cell_mm2, double need, double gain)
{
    double whole = need / cell_mm2, before[CELLS + 1];
    if (whole > CELLS)
        return;
    int takes = (int)whole, n = CELLS + 1 - takes;
    memcpy(before, best, (size_t)n * sizeof *before);
    for (int c = 0; c < n; c++) {
        double with = before[c] + gain, without = best[takes + c];
        best[takes + c] = with > without ? with : without;
    }
}

static void put_copies(double *best, double cell_mm2, const ks_limit_item *item)
{
    int left = item->times;
    for (int lot = 1; left > 0; lot *= 2) {
        int n = lot < left ? lot : left;
        put_in(best, cell_mm2, n * item->need_mm2, n * item->gain);
        left -= n;
    }
}

/* Some of the wide ones, of which one at most is in: beside it go only pieces that it leaves room.
 */
typedef struct {
    double from_mm, to_mm; /* radii of their discs: > from, <= to; to 0 = none is in */
} wides;

static bool may_join(const ks_limit_item *item, const wides *w, double pair)
{
    return !item->wide && (w->to_mm <= 0 || item->disc_mm + w->from_mm <= pair);
}

static double most_with(const double *best, double cell_mm2, const ks_limit_item *items, int n,
                        const wides *w)
{
    double most = w->to_mm > 0 ? 0 : best[CELLS];
    for (int i = 0; i < n; i++) {
        double whole = items[i].need_mm2 / cell_mm2;
        if (!items[i].wide || items[i].disc_mm <= w->from_mm || items[i].disc_mm > w->to_mm ||
            whole > CELLS)
            continue;
        double with = best[CELLS - (int)whole] + items[i].gain;
        most = with > most ? with : most;
    }
    return most;
}

/* For each tallest ware what whole pieces can earn with one of these wide ones, or none. */
static void fill(const ks_limit *limit, const ks_limit_item *items, int n, double cell_mm2,
                 const wides *w, double *most)
{
    ks_arena scratch = {0};
    double *best = KS_TAKE(&scratch, CELLS + 1, double), pair = pair_most(limit);
    for (int h = 0, i = 0; h < limit->ware.n_heights; h++) {
        for (; i < n && items[i].height <= h; i++)
            if (may_join(&items[i], w, pair))
                put_copies(best, cell_mm2, &items[i]);
        double with = most_with(best, cell_mm2, items, i, w);
        most[h] = with > most[h] ? with : most[h];
    }
    ks_arena_finish(&scratch);
}

/* The wide ones in at most three groups of like size, the groups' ends into `ends`. How many. */
static int group(const ks_limit_item *items, int n, double *ends)
{
    enum { GROUPS = 3 };
    double least = INFINITY, most = 0;
    for (int i = 0; i < n; i++)
        if (items[i].wide) {
            least = items[i].disc_mm < least ? items[i].disc_mm : least;
            most = items[i].disc_mm > most ? items[i].disc_mm : most;
        }
    if (!(most > 0))
        return 0;
    int groups = most > least ? GROUPS : 1;
    for (int g = 0; g < groups; g++)
        ends[g] = least * (1 - 1e-9) + (most - least) * g / groups;
    ends[groups] = INFINITY;
    return groups;
}

void ks_limit_lower_by_area(ks_limit *limit, const double *gain, ks_limit_mix mix)
{
    ks_arena scratch = {0};
    ks_limit_item *items = KS_TAKE(&scratch, limit->ware.n_items, ks_limit_item);
    double *most = KS_TAKE(&scratch, limit->ware.n_heights, double), ends[4];
    int n = ks_limit_items(limit, gain, mix, items), groups = group(items, n, ends);
    double cell = ks_limit_room_mm2(limit, mix) / CELLS;
    if (cell > 0)
        fill(limit, items, n, cell, &(wides){0, 0}, most);
    for (int g = 0; g < groups && cell > 0; g++)
        fill(limit, items, n, cell, &(wides){ends[g], ends[g + 1]}, most);
    for (int h = 0; h < limit->ware.n_heights; h++)
        if (most[h] < limit->table[h])
            limit->table[h] = most[h];
    ks_arena_finish(&scratch);
}
