#include "place/draft/offer.h"
#include "place/bound/room.h"
#include "place/search/rounds.h"
#include "place/search/workers.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* How much of a level's area an unpriced class is thought to fill. */
#define HOPED_DENSITY 0.88
#define SMOOTHING 0.4

/* Of a load's worth that a shelf is said to cost more or less than nothing in turns, so that stacks
 * of more levels and of fewer become known. */
#define SHELF_SHARE 0.02

/* Items by what a mm2 of them is worth at the prices of the day, dearest first. */
typedef struct {
    double rate, gain, area;
    int height, copies, item;
} ware;

typedef struct {
    ks_run *search;
    int kind;
    int n;
    ware *wares;
    int *left; /* of each piece, while towers share its copies with it */
} market;

static int by_rate(const void *x, const void *y)
{
    const ware *a = x, *b = y;
    if (a->rate != b->rate)
        return a->rate > b->rate ? -1 : 1;
    return a->item - b->item;
}

static double gain_of(const ks_run *search, int item)
{
    double sum = 0;
    for (int m = 0; m < ks_job_members(search->job, item); m++) {
        int piece = ks_job_member(search->job, item, m);
        sum += search->pool.worth[piece] - search->price[piece];
    }
    return sum;
}

/* Of a tower as many as any one of its members lets there be. */
static int copies_of(const ks_job *job, int item)
{
    int most = INT_MAX;
    for (int m = 0; m < ks_job_members(job, item); m++) {
        int piece = ks_job_member(job, item, m);
        int count = piece < job->order->n_pieces && job->items[piece].copies > 0
                        ? job->order->pieces[piece].count
                        : 0;
        most = count < most ? count : most;
    }
    return most;
}

static market market_of(ks_run *search, int kind, ks_arena *arena)
{
    const ks_job *job = search->job;
    const ks_load_kind *k = &job->kinds[kind];
    market m = {search, kind, 0, KS_TAKE(arena, job->n_items, ware),
                KS_TAKE(arena, job->order->n_pieces, int)};
    for (int i = 0; i < job->n_items; i++) {
        int copies = copies_of(job, i);
        double gain = gain_of(search, i);
        if (gain <= 0 || !k->suits[i] || copies <= 0)
            continue;
        double area = ks_item_area_mm2(job, k, i);
        m.wares[m.n++] =
            (ware){gain / area, gain, area, ks_height_index(job, job->height_mm[i]), copies, i};
    }
    qsort(m.wares, (size_t)m.n, sizeof *m.wares, by_rate);
    return m;
}

/* What there still is of it beside the towers taken before, and `n` of them taken. */
static double left_of(const market *m, const ware *w)
{
    const ks_job *job = m->search->job;
    double least = w->copies;
    for (int k = 0; k < ks_job_members(job, w->item); k++)
        least = fmin(least, m->left[ks_job_member(job, w->item, k)]);
    return least > 0 ? least : 0;
}

static void take(const market *m, const ware *w, double n)
{
    const ks_job *job = m->search->job;
    for (int k = 0; k < ks_job_members(job, w->item); k++)
        m->left[ks_job_member(job, w->item, k)] -= (int)n;
}

static double liquid_towers(const market *m, int height, double area)
{
    const ks_job *job = m->search->job;
    double sum = 0;
    for (int i = 0; i < job->order->n_pieces; i++)
        m->left[i] = job->order->pieces[i].count;
    for (int i = 0; i < m->n && area > 0; i++) {
        const ware *w = &m->wares[i];
        if (w->height > height)
            continue;
        double whole = fmin(left_of(m, w) / ks_job_members(job, w->item), area / w->area);
        sum += whole * w->gain;
        area -= whole * w->area;
        take(m, w, whole);
    }
    return sum;
}

static double liquid(const market *m, int height, double area)
{
    double sum = 0;
    if (m->search->job->n_items > m->search->job->first_tower)
        return liquid_towers(m, height, area);
    for (int i = 0; i < m->n && area > 0; i++) {
        const ware *w = &m->wares[i];
        if (w->height > height)
            continue;
        double whole = w->copies < area / w->area ? w->copies : area / w->area;
        sum += whole * w->gain;
        area -= whole * w->area;
    }
    return sum;
}

static double pattern_gain(const ks_run *search, const ks_pattern *pattern)
{
    double sum = 0;
    for (int k = 0; k < pattern->n; k++)
        sum += pattern->counts[k] *
               (search->pool.worth[pattern->items[k]] - search->price[pattern->items[k]]);
    return sum;
}

typedef struct {
    market *m;
    double *gain; /* of each pattern, once for all */
} valuer;

/* What a level earns: the best pattern known for it, or for a class the packer has not looked at
 * yet, what it may hope for. */
static double level_value(void *context, const ks_stack_level *level)
{
    valuer *v = context;
    ks_run *search = v->m->search;
    ks_pool *pool = &search->pool;
    const ks_load_kind *kind = &search->job->kinds[v->m->kind];
    int group = ks_pool_group(pool, v->m->kind, level);
    int height = ks_height_index(search->job, ks_level_clear_mm(kind, level));
    bool top = level->posts < 0;
    double most = 0;
    for (int p = 0; p < pool->n_patterns; p++)
        if (v->gain[p] > most && ks_pattern_fits(&pool->patterns[p], group, height, top))
            most = v->gain[p];
    int priced = 0;
    for (int c = 0; c < pool->n_classes; c++)
        if (pool->classes[c].group == group && pool->classes[c].height == height &&
            pool->classes[c].top == top)
            priced = pool->classes[c].priced;
    if (priced > 0)
        return most;
    double hoped = liquid(v->m, height, HOPED_DENSITY * pool->groups[group].room_mm2[top]);
    return hoped > most ? hoped : most;
}

/* The stack worth most at these prices, for each kind of load. */
static void price_stacks(ks_run *search, int *fresh, int *n_fresh)
{
    const ks_job *job = search->job;
    for (int k = 0; k < job->n_kinds; k++) {
        ks_arena scratch = {0};
        market m = market_of(search, k, &scratch);
        valuer v = {&m, KS_TAKE(&scratch, search->pool.n_patterns, double)};
        for (int p = 0; p < search->pool.n_patterns; p++)
            v.gain[p] = pattern_gain(search, &search->pool.patterns[p]);
        double shelf = (search->round % 3 - 1) * SHELF_SHARE * search->best.score / job->n_slots;
        ks_stack_wish wish = {job, &job->kinds[k], level_value, &v, 0, NULL, shelf, NULL, 0};
        ks_stack stack = ks_stack_best(&wish, search->arena);
        if (search->pool.loads[k] > 0 && stack.n_levels > 0 &&
            ks_pool_add_stack(&search->pool, k, &stack))
            fresh[(*n_fresh)++] = search->pool.n_stacks - 1;
        ks_arena_finish(&scratch);
    }
}

static void smooth_prices(ks_run *search)
{
    for (int i = 0; i < search->job->n_items; i++) {
        double now = search->pool.price[i];
        search->price[i] =
            search->priced ? SMOOTHING * search->price[i] + (1 - SMOOTHING) * now : now;
    }
    search->priced = true;
}

typedef struct {
    int class;
    double rank;
} candidate;

static int by_rank(const void *x, const void *y)
{
    const candidate *a = x, *b = y;
    if (a->rank != b->rank)
        return a->rank > b->rank ? -1 : 1;
    return a->class - b->class;
}

/* Classes of stacks in use, and of the new ones, those least looked at first. */
static int choose_classes(ks_run *search, const int *fresh, int n_fresh, int *chosen)
{
    ks_pool *pool = &search->pool;
    ks_arena scratch = {0};
    candidate *all = KS_TAKE(&scratch, pool->n_classes, candidate);
    for (int c = 0; c < pool->n_classes; c++)
        all[c] = (candidate){c, 0};
    for (int s = 0; s < pool->n_stacks; s++) {
        double used = pool->stack_used ? pool->stack_used[s] : 0;
        for (int f = 0; f < n_fresh; f++)
            used += fresh[f] == s ? 0.7 : 0;
        for (int l = 0; l < pool->stacks[s].stack.n_levels && used > 1e-9; l++)
            all[ks_pool_class(pool, pool->stacks[s].kind, &pool->stacks[s].stack.levels[l])].rank +=
                used;
    }
    for (int c = 0; c < pool->n_classes; c++)
        all[c].rank /= 1 + pool->classes[c].priced;
    qsort(all, (size_t)pool->n_classes, sizeof *all, by_rank);
    int n = 0;
    while (n < KS_TASKS && n < pool->n_classes && all[n].rank > 0) {
        chosen[n] = all[n].class;
        n++;
    }
    for (int i = n; i < KS_TASKS && n > 0; i++)
        chosen[i] = chosen[i % n];
    ks_arena_finish(&scratch);
    return n > 0 ? KS_TASKS : 0;
}

typedef struct {
    ks_run *search;
    const int *classes;
    double *gain; /* of one copy of each item */
    int *copies;
    ks_arena arenas[KS_TASKS];
    ks_shelf_layout layouts[KS_TASKS];
} pricing;

static const ks_shelf_layout *best_known(const ks_run *search, const ks_class *class)
{
    const ks_pattern *best = NULL;
    double most = 0;
    for (int p = 0; p < search->pool.n_patterns; p++) {
        const ks_pattern *pattern = &search->pool.patterns[p];
        if (!ks_pattern_fits(pattern, class->group, class->height, class->top))
            continue;
        double gain = pattern_gain(search, pattern);
        if (gain > most) {
            most = gain;
            best = pattern;
        }
    }
    return best ? &best->layout : NULL;
}

static void price_pattern(void *context, int task)
{
    pricing *p = context;
    ks_run *search = p->search;
    const ks_class *class = &search->pool.classes[p->classes[task]];
    ks_random random = ks_run_random(search, KS_FOR_PRICING, task);
    ks_fill fill = {
        .job = search->job,
        .kind = &search->job->kinds[search->pool.groups[class->group].kind],
        .level = &class->level,
        .worth = p->gain,
        .copies = p->copies,
        .warm = best_known(search, class),
        .mass_left_kg = 1e300,
        .seed = ks_random_bits(&random),
        .work = search->work,
    };
    p->layouts[task] = ks_level_fill(&fill, &p->arenas[task]);
}

static void price_patterns(ks_run *search, const int *classes, int n)
{
    pricing p = {.search = search, .classes = classes};
    const ks_job *job = search->job;
    ks_arena scratch = {0};
    p.gain = KS_TAKE(&scratch, job->n_items, double);
    p.copies = KS_TAKE(&scratch, job->n_items, int);
    for (int i = 0; i < job->order->n_pieces; i++) {
        p.gain[i] = search->pool.worth[i] - search->price[i];
        p.copies[i] = job->items[i].copies > 0 ? job->order->pieces[i].count : 0;
    }
    ks_workers_do(job->options.threads, n, price_pattern, &p);
    for (int t = 0; t < n; t++) {
        ks_class *class = &search->pool.classes[classes[t]];
        class->priced++;
        ks_pool_add_pattern(&search->pool, search->pool.groups[class->group].kind, &class->level,
                            &p.layouts[t]);
        ks_arena_finish(&p.arenas[t]);
    }
    ks_arena_finish(&scratch);
}

void ks_run_pricing(ks_run *search)
{
    int *fresh = KS_TAKE(search->arena, search->job->n_kinds, int), n_fresh = 0;
    int chosen[KS_TASKS];
    if (ks_pool_solve(&search->pool))
        smooth_prices(search);
    price_stacks(search, fresh, &n_fresh);
    int n = choose_classes(search, fresh, n_fresh, chosen);
    price_patterns(search, chosen, n);
}
