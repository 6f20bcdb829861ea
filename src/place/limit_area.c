#include "place/limit_part.h"

#include <stdlib.h>

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
    const ks_limit_good *a = x, *b = y;
    return a->height != b->height ? a->height - b->height : a->item - b->item;
}

int ks_limit_goods(const ks_limit *limit, const double *gain, ks_limit_mix mix, ks_limit_good *out)
{
    const ks_limit_ware *ware = &limit->ware;
    int n = 0;
    for (int i = 0; i < ware->n_items; i++) {
        if (gain[i] <= 0 || ware->times[i] <= 0 || limit->inner_mm[i] > limit->reach_mm + 1e-6)
            continue;
        double wide = limit->inner_mm[i] + ks_limit_disc_mm(limit, i);
        out[n++] =
            (ks_limit_good){i,       ware->height[i],           ware->times[i],
                            gain[i], mixed_need(limit, mix, i), wide > limit->reach_mm + 1e-6};
    }
    qsort(out, (size_t)n, sizeof *out, by_height);
    return n;
}

/* Of this many equal pieces put in at once; what they take is rounded down to whole cells. */
static void put_in(double *best, double cell_mm2, double need, double gain)
{
    double whole = need / cell_mm2;
    if (whole > CELLS)
        return;
    int takes = (int)whole;
    for (int c = CELLS; c >= takes; c--)
        if (best[c - takes] + gain > best[c])
            best[c] = best[c - takes] + gain;
}

static void put_copies(double *best, double cell_mm2, const ks_limit_good *good)
{
    int left = good->times;
    for (int lot = 1; left > 0; lot *= 2) {
        int n = lot < left ? lot : left;
        put_in(best, cell_mm2, n * good->need_mm2, n * good->gain);
        left -= n;
    }
}

static double with_one_wide(const double *best, double cell_mm2, const ks_limit_good *goods, int n)
{
    double most = best[CELLS];
    for (int i = 0; i < n; i++) {
        double whole = goods[i].need_mm2 / cell_mm2;
        if (!goods[i].wide || whole > CELLS)
            continue;
        double with = best[CELLS - (int)whole] + goods[i].gain;
        most = with > most ? with : most;
    }
    return most;
}

void ks_limit_lower_by_area(ks_limit *limit, const double *gain, ks_limit_mix mix)
{
    ks_arena scratch = {0};
    ks_limit_good *goods = KS_TAKE(&scratch, limit->ware.n_items, ks_limit_good);
    double *best = KS_TAKE(&scratch, CELLS + 1, double);
    int n = ks_limit_goods(limit, gain, mix, goods);
    double cell = ks_limit_room_mm2(limit, mix) / CELLS;
    for (int h = 0, i = 0; h < limit->ware.n_heights; h++) {
        for (; i < n && goods[i].height <= h; i++)
            if (!goods[i].wide && cell > 0)
                put_copies(best, cell, &goods[i]);
        double most = cell > 0 ? with_one_wide(best, cell, goods, i) : 0;
        if (most < limit->table[h])
            limit->table[h] = most;
    }
    ks_arena_finish(&scratch);
}
