#include "place/bound/limit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Published least sizes of what holds n unit discs, proven and rounded down; what is smaller holds
 * fewer than n. The radius of a circle: n 2 to 10 Graham 1968, Pirl 1969; 11 Melissen 1994; 12 and
 * 13 Fodor 2000, 2003; 19 Fodor 1999. The side of a square (from memory): n 2 to 9 Schaer 1964,
 * 1965, Schwartz 1970; 10 to 20 Peikert, Wuertz, Monagan, de Groot 1992; 14, 16, 25 Wengerodt 1983,
 * 1987; 36 Kirchner, Wengerodt 1987. */
typedef struct {
    int n;
    double size;
    bool square;
} packing;

static const packing proven[] = {
    {2, 1.999999, false},  {3, 2.154700, false},  {4, 2.414213, false},  {5, 2.701301, false},
    {6, 2.999999, false},  {8, 3.304764, false},  {9, 3.613125, false},  {10, 3.813025, false},
    {11, 3.923804, false}, {12, 4.029601, false}, {13, 4.236067, false}, {19, 4.863703, false},
    {2, 3.414213, true},   {3, 3.931851, true},   {4, 3.999999, true},   {5, 4.828427, true},
    {6, 5.328201, true},   {7, 5.732050, true},   {8, 5.863703, true},   {9, 5.999999, true},
    {10, 6.7474, true},    {11, 7.0225, true},    {12, 7.1449, true},    {13, 7.4630, true},
    {14, 7.732050, true},  {15, 7.863703, true},  {16, 7.999999, true},  {17, 8.5326, true},
    {18, 8.6562, true},    {19, 8.9074, true},    {20, 8.9780, true},    {25, 9.999999, true},
    {36, 11.999999, true}};

enum { PROVEN = sizeof proven / sizeof *proven };

/* What the level is, for discs grown by half their distance: smaller than any that holds n of them.
 */
static bool too_small(const ks_limit *limit, const packing *p, double disc)
{
    double circle = limit->reach_mm + limit->apart_mm / 2,
           square = limit->side_mm + limit->apart_mm;
    return (p->square ? square : circle) < disc * p->size * (1 - 1e-9);
}

static const ks_limit_mix plain = {0, 0};

static int by_gain(const void *x, const void *y)
{
    const ks_limit_item *a = x, *b = y;
    if (a->gain != b->gain)
        return a->gain > b->gain ? -1 : 1;
    return a->item - b->item;
}

/* Of discs so large this many at most; -1 = not known. */
static int discs_most(const ks_limit *limit, double disc)
{
    int most = -1;
    for (int i = 0; i < PROVEN; i++)
        if (too_small(limit, &proven[i], disc) && (most < 0 || proven[i].n - 1 < most))
            most = proven[i].n - 1;
    return most;
}

/* What so many of the items can earn at the most. */
static double most_of(ks_limit_item *items, int n, int many)
{
    double sum = 0;
    qsort(items, (size_t)n, sizeof *items, by_gain);
    for (int k = 0; k < n && many > 0; k++) {
        int times = items[k].times < many ? items[k].times : many;
        sum += times * items[k].gain;
        many -= times;
    }
    return sum;
}

void ks_limit_lower_by_count(ks_limit *limit, const double *gain)
{
    ks_arena scratch = {0};
    ks_limit_item *items = KS_TAKE(&scratch, limit->ware.n_items, ks_limit_item),
                  *some = KS_TAKE(&scratch, limit->ware.n_items, ks_limit_item);
    int n = ks_limit_items(limit, gain, plain, items);
    double least = INFINITY;
    for (int h = 0, i = 0; h < limit->ware.n_heights; h++) {
        for (; i < n && items[i].height <= h; i++)
            least = fmin(least, ks_limit_disc_mm(limit, items[i].item));
        int many = i > 0 && least > 0 ? discs_most(limit, least) : -1;
        if (many < 0)
            continue;
        memcpy(some, items, (size_t)i * sizeof *some);
        double sum = most_of(some, i, many);
        if (sum < limit->table[h])
            limit->table[h] = sum;
    }
    ks_arena_finish(&scratch);
}

/* Wide pieces waste room that the area row does not see. For each n of the proven packings, pieces
 * that hold a disc of which n do not fit are at most n - 1; each such sum gets a charge, which its
 * pieces pay and the level gets back n - 1 times. Any charges give a true limit. */
enum { CHARGE_STEPS = 8 };

typedef struct {
    double of[PROVEN];
} charges;

static bool is_counted(const ks_limit *limit, int item, int which)
{
    return too_small(limit, &proven[which], ks_limit_disc_mm(limit, item));
}

static double charge(const ks_limit *limit, const charges *c, int item, double gain)
{
    for (int k = 0; k < PROVEN; k++)
        if (c->of[k] > 0 && is_counted(limit, item, k))
            gain -= c->of[k];
    return gain;
}

static void lower_at(ks_limit *limit, const double *gain, const charges *c, ks_limit_mix mix)
{
    ks_arena scratch = {0};
    int heights = limit->ware.n_heights;
    double *less = KS_TAKE(&scratch, limit->ware.n_items, double);
    double *before = KS_TAKE(&scratch, heights, double), back = 0;
    for (int i = 0; i < limit->ware.n_items; i++)
        less[i] = charge(limit, c, i, gain[i]);
    for (int k = 0; k < PROVEN; k++)
        back += c->of[k] * (proven[k].n - 1);
    for (int h = 0; h < heights; h++) {
        before[h] = limit->table[h];
        limit->table[h] = INFINITY;
    }
    ks_limit_lower_by_area(limit, less, mix);
    for (int h = 0; h < heights; h++) {
        double with = limit->table[h] + back;
        limit->table[h] = with < before[h] ? with : before[h];
    }
    ks_arena_finish(&scratch);
}

static int by_rate(const void *x, const void *y)
{
    const ks_limit_item *a = x, *b = y;
    double p = a->gain * b->need_mm2, q = b->gain * a->need_mm2;
    if (p != q)
        return p > q ? -1 : 1;
    return a->item - b->item;
}

/* One step of charging more where a liquid filling puts in more than may be, less where fewer. */
static void step_charges(const ks_limit *limit, const double *gain, int height, double step,
                         ks_limit_mix mix, charges *c)
{
    ks_arena scratch = {0};
    ks_limit_item *items = KS_TAKE(&scratch, limit->ware.n_items, ks_limit_item);
    double *less = KS_TAKE(&scratch, limit->ware.n_items, double), in[PROVEN] = {0}, sum = 0;
    for (int i = 0; i < limit->ware.n_items; i++)
        less[i] = charge(limit, c, i, gain[i]);
    int n = ks_limit_items(limit, less, mix, items);
    qsort(items, (size_t)n, sizeof *items, by_rate);
    double room = ks_limit_room_mm2(limit, mix);
    for (int i = 0; i < n && room > 0; i++) {
        const ks_limit_item *item = &items[i];
        if (item->height > height)
            continue;
        double whole = item->times;
        if (whole * item->need_mm2 > room)
            whole = room / item->need_mm2;
        room -= whole * item->need_mm2;
        sum += whole * item->gain;
        for (int k = 0; k < PROVEN; k++)
            in[k] += is_counted(limit, item->item, k) ? whole : 0;
    }
    for (int k = 0; k < PROVEN; k++) {
        c->of[k] += step * sum * (in[k] - (proven[k].n - 1));
        c->of[k] = c->of[k] > 0 ? c->of[k] : 0;
    }
    ks_arena_finish(&scratch);
}

void ks_limit_lower_by_charges(ks_limit *limit, const double *gain, ks_limit_mix mix)
{
    int heights = limit->ware.n_heights;
    for (int target = 1; target <= 2; target++) {
        charges c = {{0}};
        for (int s = 0; s < CHARGE_STEPS; s++) {
            step_charges(limit, gain, heights * target / 2 - 1, 0.03 / (1 + 0.4 * s), mix, &c);
            lower_at(limit, gain, &c, mix);
        }
    }
}
