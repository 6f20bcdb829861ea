#include "place/limit.h"

#include "place/relax.h"
#include "place/room.h"

#include <math.h>
#include <stdlib.h>

enum { CELLS = 1500 };

/* Least radius of a circle that holds n unit discs, proven: n 2 to 10 Graham 1968, Pirl 1969; 11
 * Melissen 1994; 12 and 13 Fodor 2000, 2003; 19 Fodor 1999. Rounded down. A circle smaller than the
 * entry holds fewer than n. */
static const struct {
    int n;
    double radius;
} proven[] = {{2, 1.999999},  {3, 2.154700},  {4, 2.414213},  {5, 2.701301},
              {6, 2.999999},  {8, 3.304764},  {9, 3.613125},  {10, 3.813025},
              {11, 3.923804}, {12, 4.029601}, {13, 4.236067}, {19, 4.863703}};

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

static double reach_of(const ks_shelf_space *space)
{
    double least = INFINITY;
    for (int r = 0; r < space->n_regions; r++) {
        const ks_shelf_region *region = &space->regions[r];
        if (region->from_mm > 0 || region->to_mm <= 0 || region->grog_only)
            continue;
        double reach = ks_outline_around(&region->outline).r - region->margin_mm;
        least = reach < least ? reach : least;
    }
    return least;
}

void ks_limit_init(ks_limit *limit, const ks_job *job, const ks_load_kind *kind,
                   const ks_stack_level *level, ks_arena *arena)
{
    static const double rows[] = {15, 40, 80, 140};
    *limit = (ks_limit){.job = job, .kind = kind};
    ks_shelf_space space = ks_level_space_loosest(job, kind, level, arena);
    double grow = kind->clear.ware / 2;
    limit->room_mm2 = ks_level_room_mm2(&space, 0, grow, arena);
    limit->reach_mm = reach_of(&space);
    limit->need_mm2 = KS_TAKE(arena, job->n_goods, double);
    limit->inner_mm = KS_TAKE(arena, job->n_goods, double);
    for (int i = 0; i < job->order->n_pieces; i++) {
        limit->need_mm2[i] = ks_item_need_mm2(&space, &job->items[i], 0);
        limit->inner_mm[i] = inner_radius(&job->items[i]);
    }
    for (int r = 0; r < 4; r++) {
        double *need = KS_TAKE(arena, job->n_goods, double);
        bool more = false;
        for (int i = 0; i < job->order->n_pieces; i++) {
            need[i] = ks_item_need_mm2(&space, &job->items[i], rows[r]);
            more = more || need[i] > limit->need_mm2[i] * 1.02;
        }
        if (!more)
            continue;
        limit->at_mm[limit->n_rows] = rows[r];
        limit->row_room_mm2[limit->n_rows] = ks_level_room_mm2(&space, rows[r], grow, arena);
        limit->row_need_mm2[limit->n_rows++] = need;
    }
}

/* Needs are mixed from several rows: any mix of true sums is a true sum. */
typedef struct {
    const ks_limit *limit;
    int row;     /* -1: the shelf's row alone; else an equal mix with this one */
    double part; /* of the row in the mix */
} mix;

static double mixed_need(const mix *m, int good)
{
    double need = m->limit->need_mm2[good];
    return m->row < 0 ? need : need + m->part * (m->limit->row_need_mm2[m->row][good] - need);
}

static double mixed_room(const mix *m)
{
    double room = m->limit->room_mm2;
    return m->row < 0 ? room : room + m->part * (m->limit->row_room_mm2[m->row] - room);
}

typedef struct {
    int good, height, times;
    double gain, need;
    bool wide; /* of wide goods no two go on one level */
} ware;

static int by_height(const void *x, const void *y)
{
    const ware *a = x, *b = y;
    return a->height != b->height ? a->height - b->height : a->good - b->good;
}

static double least_apart(const ks_limit *limit)
{
    const ks_clearance *clear = &limit->kind->clear;
    return clear->ware < clear->setter ? clear->ware : clear->setter;
}

static int wares_of(const ks_limit *limit, const double *gain, const mix *m, ware *out)
{
    const ks_job *job = limit->job;
    double apart = least_apart(limit);
    int n = 0;
    for (int i = 0; i < job->order->n_pieces; i++) {
        if (gain[i] <= 0 || !limit->kind->suits[i] || job->items[i].copies <= 0 ||
            limit->inner_mm[i] > limit->reach_mm + 1e-6)
            continue;
        double wide = limit->inner_mm[i] * 2 + (job->items[i].glazed ? apart / 2 : 0);
        out[n++] = (ware){i,
                          ks_height_index(job, job->height_mm[i]),
                          job->order->pieces[i].count,
                          gain[i],
                          mixed_need(m, i),
                          wide > limit->reach_mm + 1e-6};
    }
    qsort(out, (size_t)n, sizeof *out, by_height);
    return n;
}

/* Of this many equal pieces put in at once; what they take is rounded down to whole cells. */
static void put_in(double *best, int cells, double cell_mm2, double need, double gain)
{
    int takes = (int)(need / cell_mm2);
    for (int c = cells; c >= takes; c--)
        if (best[c - takes] + gain > best[c])
            best[c] = best[c - takes] + gain;
}

static void put_copies(double *best, int cells, double cell_mm2, const ware *w)
{
    int left = w->times;
    for (int lot = 1; left > 0; lot *= 2) {
        int n = lot < left ? lot : left;
        put_in(best, cells, cell_mm2, n * w->need, n * w->gain);
        left -= n;
    }
}

static double with_one_wide(const double *best, int cells, double cell_mm2, const ware *wares,
                            int n)
{
    double most = best[cells];
    for (int i = 0; i < n; i++) {
        int takes = (int)(wares[i].need / cell_mm2);
        if (wares[i].wide && takes <= cells && best[cells - takes] + wares[i].gain > most)
            most = best[cells - takes] + wares[i].gain;
    }
    return most;
}

/* Takes the most that whole pieces can earn in the room, for each tallest ware, if that is less. */
static void lower_by_area(ks_limit *limit, const double *gain, const mix *m)
{
    const ks_job *job = limit->job;
    ks_arena scratch = {0};
    ware *wares = KS_TAKE(&scratch, job->n_goods, ware);
    double *best = KS_TAKE(&scratch, CELLS + 1, double);
    int n = wares_of(limit, gain, m, wares);
    double cell = mixed_room(m) / CELLS;
    for (int h = 0, i = 0; h < job->n_heights; h++) {
        for (; i < n && wares[i].height <= h; i++)
            if (!wares[i].wide && cell > 0)
                put_copies(best, CELLS, cell, &wares[i]);
        double most = cell > 0 ? with_one_wide(best, CELLS, cell, wares, i) : 0;
        if (most < limit->table[h])
            limit->table[h] = most;
    }
    ks_arena_finish(&scratch);
}

static int by_gain(const void *x, const void *y)
{
    const ware *a = x, *b = y;
    if (a->gain != b->gain)
        return a->gain > b->gain ? -1 : 1;
    return a->good - b->good;
}

static int discs_most(double circle, double disc)
{
    for (size_t i = 0; i < sizeof proven / sizeof *proven; i++)
        if (circle < disc * proven[i].radius * (1 - 1e-9))
            return proven[i].n - 1;
    return -1;
}

/* Every piece holds a disc of the least radius among them, and of such discs only so many fit. */
static void lower_by_count(ks_limit *limit, const double *gain)
{
    const ks_job *job = limit->job;
    ks_arena scratch = {0};
    mix plain = {limit, -1, 0};
    ware *wares = KS_TAKE(&scratch, job->n_goods, ware),
         *some = KS_TAKE(&scratch, job->n_goods, ware);
    int n = wares_of(limit, gain, &plain, wares);
    double apart = least_apart(limit) / 2;
    for (int h = 0, i = 0; h < job->n_heights; h++) {
        while (i < n && wares[i].height <= h)
            i++;
        double least = INFINITY;
        for (int k = 0; k < i; k++) {
            some[k] = wares[k];
            double r =
                limit->inner_mm[wares[k].good] + (job->items[wares[k].good].glazed ? apart : 0);
            least = r < least ? r : least;
        }
        int most = i > 0 && least > 0 ? discs_most(limit->reach_mm + apart, least) : -1;
        if (most < 0)
            continue;
        qsort(some, (size_t)i, sizeof *some, by_gain);
        double sum = 0;
        for (int k = 0; k < i && most > 0; k++) {
            int times = some[k].times < most ? some[k].times : most;
            sum += times * some[k].gain;
            most -= times;
        }
        if (sum < limit->table[h])
            limit->table[h] = sum;
    }
    ks_arena_finish(&scratch);
}

/* Wide pieces waste room that the area row does not see. For each n of the proven packings, pieces
 * that hold a disc of which n do not fit are at most n - 1; each such sum gets a charge, which its
 * pieces pay and the level gets back n - 1 times. Any charges give a true limit. */
enum { CHARGES = sizeof proven / sizeof *proven, CHARGE_STEPS = 14 };

typedef struct {
    double of[CHARGES];
} charges;

static double disc_of(const ks_limit *limit, int good)
{
    return limit->inner_mm[good] + (limit->job->items[good].glazed ? least_apart(limit) / 2 : 0);
}

static bool is_counted(const ks_limit *limit, int good, int which)
{
    return limit->reach_mm + least_apart(limit) / 2 <
           disc_of(limit, good) * proven[which].radius * (1 - 1e-9);
}

static double charged(const ks_limit *limit, const charges *c, int good, double gain)
{
    for (int k = 0; k < CHARGES; k++)
        if (c->of[k] > 0 && is_counted(limit, good, k))
            gain -= c->of[k];
    return gain;
}

static void lower_by_charges(ks_limit *limit, const double *gain, const charges *c)
{
    ks_arena scratch = {0};
    double *less = KS_TAKE(&scratch, limit->job->n_goods, double);
    double *before = KS_TAKE(&scratch, limit->job->n_heights, double), back = 0;
    for (int i = 0; i < limit->job->order->n_pieces; i++)
        less[i] = charged(limit, c, i, gain[i]);
    for (int k = 0; k < CHARGES; k++)
        back += c->of[k] * (proven[k].n - 1);
    for (int h = 0; h < limit->job->n_heights; h++) {
        before[h] = limit->table[h];
        limit->table[h] = INFINITY;
    }
    mix plain = {limit, -1, 0};
    lower_by_area(limit, less, &plain);
    for (int h = 0; h < limit->job->n_heights; h++) {
        double with = limit->table[h] + back;
        limit->table[h] = with < before[h] ? with : before[h];
    }
    ks_arena_finish(&scratch);
}

static int by_rate(const void *x, const void *y)
{
    const ware *a = x, *b = y;
    double p = a->gain * b->need, q = b->gain * a->need;
    if (p != q)
        return p > q ? -1 : 1;
    return a->good - b->good;
}

/* One step of charging more where a liquid filling puts in more than may be, less where fewer. */
static void step_charges(const ks_limit *limit, const double *gain, int height, double step,
                         charges *c)
{
    const ks_job *job = limit->job;
    ks_arena scratch = {0};
    mix plain = {limit, -1, 0};
    ware *wares = KS_TAKE(&scratch, job->n_goods, ware);
    double *less = KS_TAKE(&scratch, job->n_goods, double), in[CHARGES] = {0}, sum = 0;
    for (int i = 0; i < job->order->n_pieces; i++)
        less[i] = charged(limit, c, i, gain[i]);
    int n = wares_of(limit, less, &plain, wares);
    qsort(wares, (size_t)n, sizeof *wares, by_rate);
    double room = limit->room_mm2;
    for (int i = 0; i < n && room > 0; i++) {
        if (wares[i].height > height)
            continue;
        double whole =
            room / wares[i].need < wares[i].times ? room / wares[i].need : wares[i].times;
        room -= whole * wares[i].need;
        sum += whole * wares[i].gain;
        for (int k = 0; k < CHARGES; k++)
            in[k] += is_counted(limit, wares[i].good, k) ? whole : 0;
    }
    for (int k = 0; k < CHARGES; k++) {
        c->of[k] += step * sum * (in[k] - (proven[k].n - 1));
        c->of[k] = c->of[k] > 0 ? c->of[k] : 0;
    }
    ks_arena_finish(&scratch);
}

static void charge_wide(ks_limit *limit, const double *gain)
{
    int heights = limit->job->n_heights;
    for (int target = 1; target <= 2; target++) {
        charges c = {{0}};
        for (int s = 0; s < CHARGE_STEPS; s++) {
            step_charges(limit, gain, heights * target / 2 - 1, 0.03 / (1 + 0.4 * s), &c);
            lower_by_charges(limit, gain, &c);
        }
    }
}

void ks_limit_gain(ks_limit *limit, const double *gain, ks_arena *arena)
{
    static const double parts[] = {1, 0.5};
    if (!limit->table)
        limit->table = KS_TAKE(arena, limit->job->n_heights, double);
    for (int h = 0; h < limit->job->n_heights; h++)
        limit->table[h] = INFINITY;
    mix m = {limit, -1, 0};
    lower_by_area(limit, gain, &m);
    for (int r = 0; r < limit->n_rows; r++)
        for (int p = 0; p < 2; p++) {
            m = (mix){limit, r, parts[p]};
            lower_by_area(limit, gain, &m);
        }
    lower_by_count(limit, gain);
    charge_wide(limit, gain);
}

double ks_limit_of(const ks_limit *limit, int height)
{
    return height < 0 ? 0 : limit->table[height];
}
