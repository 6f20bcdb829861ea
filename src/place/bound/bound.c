#include "place/bound/bound.h"

#include "place/stack/stands_alone.h"
#include "place/bound/limit.h"
#include "place/bound/relaxation.h"
#include "place/stack/stack.h"

#include <math.h>
#include <stdlib.h>

/* Added to every bound: far more than the rounding in the sums behind it. */
#define OUTWARD 1e-9

/* Limits of the levels of one kind of load, worked out when first asked for; those stay when prices
 * change. */
typedef struct {
    ks_limit limit;
    int priced; /* at which prices it is */
} level_limit;

typedef struct {
    const ks_job *job;
    ks_arena *arena;
    const ks_load_kind *kind;
    const double *gain;
    int priced;           /* how many prices there have been */
    int supports;         /* of the bay with most */
    level_limit **levels; /* [((bay * supports + support) * post_layouts + standing) * 2 + top] */
    int *times, *height;
    double *ceiling_mm; /* [height class] */
} bounding;

static bounding begin_bounding(const ks_job *job, int kind, ks_arena *arena)
{
    bounding b = {job, arena, &job->kinds[kind], NULL, 0, 0, NULL, NULL, NULL, NULL};
    const ks_kiln *kiln = b.kind->furniture->kiln;
    for (int i = 0; i < kiln->n_bays; i++)
        if (kiln->bays[i].n_supports > b.supports)
            b.supports = kiln->bays[i].n_supports;
    b.levels = KS_TAKE(arena, kiln->n_bays * b.supports * b.kind->furniture->n_post_layouts * 2,
                       level_limit *);
    b.times = KS_TAKE(arena, job->n_items, int);
    b.height = KS_TAKE(arena, job->n_items, int);
    for (int i = 0; i < job->order->n_pieces; i++) {
        b.times[i] = b.kind->suits[i] ? job->items[i].copies : 0;
        b.height[i] = ks_height_index(job, job->height_mm[i]);
    }
    b.ceiling_mm = KS_TAKE(arena, job->n_heights, double);
    for (int h = 0; h < job->n_heights; h++)
        b.ceiling_mm[h] = h + 1 < job->n_heights ? job->heights_mm[h + 1] : kiln->height_mm;
    return b;
}

static level_limit *begin_level(bounding *b, const ks_stack_level *level)
{
    level_limit *made = KS_TAKE(b->arena, 1, level_limit);
    ks_shelf_space *space = KS_TAKE(b->arena, 1, ks_shelf_space);
    *space = ks_level_space_loosest(b->job, b->kind, level, b->arena);
    ks_limit_ware ware = {space,     b->job->order->n_pieces, b->job->items, b->times,
                          b->height, b->job->n_heights,       b->ceiling_mm};
    ks_limit_init(&made->limit, &ware, b->arena);
    return made;
}

static ks_limit *limit_for(bounding *b, const ks_stack_level *level)
{
    int n = b->kind->furniture->n_post_layouts;
    level_limit **known =
        &b->levels[((level->bay * b->supports + level->support) * n + level->standing) * 2 +
                   (level->posts < 0)];
    if (!*known)
        *known = begin_level(b, level);
    if ((*known)->priced < b->priced)
        ks_limit_gain(&(*known)->limit, b->gain);
    (*known)->priced = b->priced;
    return &(*known)->limit;
}

static double most_on_level(void *context, const ks_stack_level *level)
{
    bounding *b = context;
    if (ks_stop_is_asked(b->job->stop))
        return 0; /* no bound is made of it then */
    return ks_limit_of(limit_for(b, level),
                       ks_height_index(b->job, ks_level_clear_mm(b->kind, level)));
}

/* With ware so tall on some level; 0 = whatever. */
static double load_limit(bounding *b, const double *gain, double tall_mm)
{
    ks_arena scratch = {0};
    b->gain = gain;
    b->priced++;
    ks_stack_wish wish = {b->job, b->kind, most_on_level, b, 0, NULL, 0, NULL, tall_mm};
    double most = ks_stack_bound(&wish, &scratch);
    ks_arena_finish(&scratch);
    return most;
}

static bounding *all_begun(const ks_job *job, ks_arena *arena)
{
    bounding *all = KS_TAKE(arena, job->n_kinds, bounding);
    for (int k = 0; k < job->n_kinds; k++)
        all[k] = begin_bounding(job, k, arena);
    return all;
}

/* Whether a slot may be fired as a load of this kind: one may leave its firing open. */
static bool is_of_kind(const ks_slot *slot, const ks_load_kind *kind)
{
    return kind->kiln == slot->kiln && (slot->firing < 0 || slot->firing == kind->firing);
}

typedef bool takes_good(const ks_job *job, int kind, int item);

static bool is_taken(const ks_job *job, int item, takes_good *takes)
{
    for (int s = 0; s < job->n_slots; s++)
        for (int k = 0; k < job->n_kinds; k++)
            if (is_of_kind(&job->order->slots[s], &job->kinds[k]) && takes(job, k, item))
                return true;
    return false;
}

static bool is_high_enough(const ks_job *job, int kind, int item)
{
    const ks_load_kind *k = &job->kinds[kind];
    return k->suits[item] &&
           job->height_mm[item] <=
               ks_gap_clear_mm(k, ks_um_of(job->order->kilns[k->kiln].height_mm), true);
}

/* Whether any slot could take the piece: fired so that it suits, and tall enough inside. */
static bool could_go(const ks_job *job, int item)
{
    return ks_job_is_wanted(job, item) && is_taken(job, item, is_high_enough);
}

static double most_of_slot(const ks_job *job, const ks_slot *slot, const double *most)
{
    double best = 0;
    for (int k = 0; k < job->n_kinds; k++)
        if (is_of_kind(slot, &job->kinds[k]) && most[k] > best)
            best = most[k];
    return best;
}

/* Plans of one load are parted into families by the tallest ware that they hold, so none is
 * worth more than the best bound of any. Ware on offer goes in up to this class of height; with
 * `is_in` some of that class does, and so a level is as tall. */
typedef struct {
    int highest;
    bool is_in;
} family;

static family whole(const ks_job *job)
{
    return (family){job->n_heights, false};
}

/* What is not on offer, as it is kept somewhere, counts whatever its height. */
static bool is_of(const ks_job *job, family of, int item)
{
    return job->items[item].copies <= 0 || ks_height_index(job, job->height_mm[item]) <= of.highest;
}

static double bound_at(bounding *kinds, const ks_job *job, family of, const double *price)
{
    ks_arena scratch = {0};
    double *gain = KS_TAKE(&scratch, job->n_items, double);
    double sum = 0, tall_mm = of.is_in ? job->heights_mm[of.highest] : 0;
    for (int i = 0; i < job->order->n_pieces; i++) {
        if (!is_of(job, of, i))
            continue;
        double paid = job->items[i].copies > 0 ? price[i] : job->worth[i];
        sum += could_go(job, i) ? paid * job->order->pieces[i].count : 0;
        gain[i] = job->worth[i] - paid;
    }
    double *most = KS_TAKE(&scratch, job->n_kinds, double);
    for (int k = 0; k < job->n_kinds; k++)
        most[k] = load_limit(&kinds[k], gain, tall_mm);
    for (int s = 0; s < job->n_slots; s++)
        sum += most_of_slot(job, &job->order->slots[s], most);
    ks_arena_finish(&scratch);
    return sum * (1 + OUTWARD);
}

double ks_bound_at(const ks_job *job, const double *price)
{
    ks_arena scratch = {0};
    double value = bound_at(all_begun(job, &scratch), job, whole(job), price);
    ks_arena_finish(&scratch);
    return value;
}

/* `gain` has room for n_items. */
static int loads_for(bounding *kinds, const ks_job *job, const double *share, const bool *goes_in,
                     double *gain)
{
    double sum = 0, most = 0;
    for (int i = 0; i < job->order->n_pieces; i++) {
        gain[i] = goes_in[i] ? share[i] : 0;
        sum += gain[i] * job->order->pieces[i].count;
    }
    for (int k = 0; k < job->n_kinds; k++) {
        double load = load_limit(&kinds[k], gain, 0);
        most = load > most ? load : most;
    }
    int loads = most > 0 ? (int)(sum / most * (1 - OUTWARD)) : 0;
    return loads + (loads * most < sum * (1 - OUTWARD));
}

int ks_bound_loads(const ks_job *job, int n, double *const *shares)
{
    ks_arena scratch = {0};
    bounding *kinds = all_begun(job, &scratch);
    double *gain = KS_TAKE(&scratch, job->n_items, double);
    bool *goes_in = KS_TAKE(&scratch, job->n_items, bool);
    int fewest = 0;
    for (int i = 0; i < job->order->n_pieces && !ks_stop_is_asked(job->stop); i++)
        goes_in[i] = job->items[i].copies > 0 && is_taken(job, i, ks_stands_alone);
    for (int s = 0; s < n && !ks_stop_is_asked(job->stop); s++) {
        int loads = loads_for(kinds, job, shares[s], goes_in, gain);
        fewest = loads > fewest ? loads : fewest;
    }
    ks_arena_finish(&scratch);
    return ks_stop_is_asked(job->stop) ? 0 : fewest;
}

static double all_wanted(const ks_job *job, family of)
{
    double sum = 0;
    for (int i = 0; i < job->order->n_pieces; i++)
        if (could_go(job, i) && is_of(job, of, i))
            sum += job->worth[i] * job->order->pieces[i].count;
    return sum;
}

/* Ware pays rent for the area it takes; what it is worth beyond that is its price. */
static void prices_at(const ks_job *job, const ks_relaxed *relaxed, double scale, double side_mm2,
                      double *price)
{
    for (int i = 0; i < job->order->n_pieces; i++) {
        int h = ks_height_index(job, job->height_mm[i]);
        double rent = ks_item_cell_mm2(job, &job->kinds[0], i, side_mm2) * relaxed->price_mm2[h];
        price[i] = job->worth[i] > rent * scale ? job->worth[i] - rent * scale : 0;
    }
}

double ks_side_price_mm2(const ks_job *job, const int *copies)
{
    double area = 0, n = 0;
    for (int i = 0; i < job->order->n_pieces; i++) {
        area += copies[i] * ks_item_area_mm2(job, &job->kinds[0], i);
        n += copies[i];
    }
    return n > 0 ? KS_SIDE_SHARE * area / n : 0;
}

void ks_bound_volumes(const ks_job *job, double *volume_mm3)
{
    const ks_clearance *clear = &job->kinds[0].clear;
    ks_shelf_space space = {.ware_mm = clear->ware, .setter_mm = clear->setter};
    ks_cell_rule plain = {0, 0};
    for (int i = 0; i < job->order->n_pieces; i++)
        volume_mm3[i] = ks_item_volume_mm3(&space, &job->items[i], &plain);
}

typedef struct {
    double volume_mm3, rate; /* of all copies; worth for its volume */
} rated;

static int by_rate(const void *x, const void *y)
{
    const rated *a = x, *b = y;
    return (a->rate < b->rate) - (a->rate > b->rate);
}

/* The worth for its volume that so much of the ware's volume exceeds. */
static double rate_at(const rated *ware, int n, double part)
{
    double all = 0, sum = 0;
    for (int i = 0; i < n; i++)
        all += ware[i].volume_mm3;
    int at = 0;
    while (at < n - 1 && (sum += ware[at].volume_mm3) < part * all)
        at++;
    return n > 0 ? ware[at].rate : 0;
}

/* The same with rent for volume instead of area and height: chambers fill up. */
static double find_least_by_volume(bounding *kinds, const ks_job *job, family of, const int *copies)
{
    static const double parts[] = {0.35, 0.5, 0.65, 0.8, 0.95};
    ks_arena scratch = {0};
    double least = INFINITY, *price = KS_TAKE(&scratch, job->n_items, double),
           *volume = KS_TAKE(&scratch, job->n_items, double);
    rated *ware = KS_TAKE(&scratch, job->n_items, rated);
    int n = 0;
    ks_bound_volumes(job, volume);
    for (int i = 0; i < job->order->n_pieces; i++)
        if (copies[i] > 0 && volume[i] > 0)
            ware[n++] = (rated){volume[i] * copies[i], job->worth[i] / volume[i]};
    qsort(ware, (size_t)n, sizeof *ware, by_rate);
    for (size_t p = 0; p < sizeof parts / sizeof *parts; p++) {
        double rate = rate_at(ware, n, parts[p]);
        for (int i = 0; i < job->order->n_pieces; i++)
            price[i] = fmax(0, job->worth[i] - rate * volume[i]);
        least = fmin(least, bound_at(kinds, job, of, price));
    }
    ks_arena_finish(&scratch);
    return least;
}

static double find_least(bounding *kinds, const ks_job *job, family of, const int *copies,
                         const int *loads)
{
    /* Of the rent, and then of what is left. The liquid problem may think that all goes in where
     * whole pieces do not: then everything has its full price, and less is better. */
    static const struct {
        double rent, rest;
    } scales[] = {{1.03, 1}, {1, 1}, {0.97, 1}, {1, 0.7}, {1, 0}};
    double least = INFINITY, side = ks_side_price_mm2(job, copies);
    ks_arena scratch = {0};
    double *price = KS_TAKE(&scratch, job->n_items, double);
    for (int cells = 0; cells < 2; cells++) {
        ks_relax_ask ask = {job, copies, job->worth, loads, 1, cells ? side : 0, 0, NULL};
        ks_relaxed relaxed = ks_relax(&ask, &scratch);
        for (int s = 0; s < (cells ? 5 : 3) && !ks_stop_is_asked(job->stop); s++) {
            prices_at(job, &relaxed, scales[s].rent, ask.side_mm2, price);
            for (int i = 0; i < job->order->n_pieces; i++)
                price[i] *= scales[s].rest;
            least = fmin(least, bound_at(kinds, job, of, price));
        }
    }
    least = fmin(least, find_least_by_volume(kinds, job, of, copies));
    ks_arena_finish(&scratch);
    return least;
}

ks_bound ks_bound_wanted(const ks_job *job)
{
    if (job->n_slots == 0)
        return (ks_bound){0, "no firing is planned"};
    return (ks_bound){all_wanted(job, whole(job)), "everything wanted"};
}

/* The liquid problem does not know that a level has to be as tall as some ware; so what is paid for
 * that ware is tried. */
static double find_least_with_tall(bounding *kinds, const ks_job *job, family of, const int *copies,
                                   const int *loads)
{
    static const double tall[] = {1, 0.75, 0.55, 0.4};
    ks_arena scratch = {0};
    double side = ks_side_price_mm2(job, copies), least = INFINITY;
    double *price = KS_TAKE(&scratch, job->n_items, double);
    ks_relax_ask ask = {job, copies, job->worth, loads, 1, side, 0, NULL};
    ks_relaxed relaxed = ks_relax(&ask, &scratch);
    prices_at(job, &relaxed, 1, side, price);
    for (size_t t = 0; t < sizeof tall / sizeof *tall && !ks_stop_is_asked(job->stop); t++) {
        for (int i = 0; i < job->order->n_pieces; i++)
            if (ks_height_index(job, job->height_mm[i]) == of.highest)
                price[i] = tall[t] * job->worth[i];
        least = fmin(least, bound_at(kinds, job, of, price));
    }
    ks_arena_finish(&scratch);
    return least;
}

/* What no plan of the family exceeds; not lower than `enough`, below which it does not matter. */
static double bound_of(bounding *kinds, const ks_job *job, family of, const int *loads,
                       double enough)
{
    double wanted = all_wanted(job, of);
    if (wanted <= enough)
        return wanted;
    ks_arena scratch = {0};
    int *copies = KS_TAKE(&scratch, job->n_items, int);
    for (int i = 0; i < job->n_items; i++)
        copies[i] = is_of(job, of, i) ? job->items[i].copies : 0;
    double least = of.is_in ? find_least_with_tall(kinds, job, of, copies, loads)
                            : find_least(kinds, job, of, copies, loads);
    ks_arena_finish(&scratch);
    return fmin(wanted, least);
}

static int tallest_on_offer(const ks_job *job, int below)
{
    int tallest = -1;
    for (int i = 0; i < job->order->n_pieces; i++) {
        int h = ks_height_index(job, job->height_mm[i]);
        if (job->items[i].copies > 0 && could_go(job, i) && h < below && h > tallest)
            tallest = h;
    }
    return tallest;
}

/* Plans that hold the tallest ware, those that hold the next tallest and none of it, and so on, as
 * long as leaving more out could help; then all the others. */
static double bound_by_families(bounding *kinds, const ks_job *job, const int *loads,
                                double undivided)
{
    enum { FAMILIES_MOST = 3 };
    double most = 0;
    family rest = whole(job);
    for (int n = 0; n < FAMILIES_MOST && all_wanted(job, rest) > most; n++) {
        int tallest = tallest_on_offer(job, rest.highest + 1);
        if (tallest < 0)
            break;
        family with = {tallest, true};
        most = fmax(most, bound_of(kinds, job, with, loads, most));
        if (most >= undivided || ks_stop_is_asked(job->stop))
            return undivided;
        rest = (family){tallest - 1, false};
    }
    return fmax(most, bound_of(kinds, job, rest, loads, most));
}

ks_bound ks_bound_find(const ks_job *job)
{
    ks_bound best = ks_bound_wanted(job);
    if (job->n_slots == 0)
        return best;
    ks_arena scratch = {0};
    int *loads = KS_TAKE(&scratch, job->n_kinds, int);
    for (int s = 0; s < job->n_slots; s++)
        loads[job->slot_kind[s]]++;
    bounding *kinds = all_begun(job, &scratch);
    double value = bound_of(kinds, job, whole(job), loads, 0);
    if (job->n_slots == 1 && !ks_stop_is_asked(job->stop))
        value = fmin(value, bound_by_families(kinds, job, loads, value));
    if (value < best.value && !ks_stop_is_asked(job->stop))
        best = (ks_bound){value, "area and height of levels at the best prices found"};
    ks_arena_finish(&scratch);
    return best;
}
