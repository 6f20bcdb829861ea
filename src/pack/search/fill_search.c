#include "pack/search/layout_search.h"

#include <math.h>

/* Kinds by worth for the room they take, the best first. */
static int *kinds_in_order(ks_shelf_search *search, ks_arena *arena)
{
    const ks_instance *instance = &search->instance;
    int *order = KS_TAKE(arena, instance->n_kinds, int);
    double *merit = KS_TAKE(arena, instance->n_kinds, double);
    for (int k = 0; k < instance->n_kinds; k++) {
        const ks_item_type *kind = &instance->kinds[k];
        double worth = ks_search_worth_of_next(search, k, search->now_count[k]);
        /* among equals the large first: they find no room later */
        merit[k] = worth / kind->size_mm2 * (1 + 0.1 * sqrt(kind->size_mm2 / instance->area_mm2)) *
                   ks_random_between(&search->random, 0.95, 1.05);
        int at = k;
        for (; at > 0 && merit[order[at - 1]] < merit[k]; at--)
            order[at] = order[at - 1];
        order[at] = k;
    }
    return order;
}

/* One more of the kind where it stands free, or where the others can make room for it. */
static bool put_in(ks_shelf_search *search, int kind)
{
    enum { SAMPLES = 40 };
    ks_packing *trial = &search->trial;
    ks_search_retry(search);
    ks_packing_add(trial, kind, (ks_placement){0, 0, 0});
    int i = trial->n - 1;
    ks_search_spot_anywhere(search, i, SAMPLES);
    if (!ks_descent_one(&search->descent, i, 40) &&
        !ks_descent_run(&search->descent, (ks_descent_limits){100, 10, 0.6, 0, INFINITY, 0}))
        return false;
    return ks_search_take(search);
}

static void fill_up(ks_shelf_search *search, int64_t end)
{
    ks_arena arena = {0};
    int *order = kinds_in_order(search, &arena);
    for (int at = 0; at < search->instance.n_kinds; at++) {
        int kind = order[at], misses = 0;
        while (misses < 2 && ks_search_has_more(search, search->now_count, kind) &&
               ks_search_may_join(search, &search->now, kind) && !ks_search_over(search) &&
               search->work < end)
            misses += !put_in(search, kind);
    }
    ks_arena_finish(&arena);
}

/* The kind, still out, of which one is worth more than each piece that is in and more than half of
 * them together: no exchange of a few pieces brings that in. -1 = none. */
static int dearest_out(const ks_shelf_search *search)
{
    double all = 0, most = 0;
    int best = -1;
    for (int i = 0; i < search->now.n; i++) {
        double worth = search->instance.items[search->now.kind[i]].worth;
        all += worth;
        most = fmax(most, worth);
    }
    most = fmax(most, all / 2);
    for (int k = 0; k < search->instance.n_kinds; k++)
        if (ks_search_has_more(search, search->now_count, k) &&
            search->instance.items[k].worth > most) {
            most = search->instance.items[k].worth;
            best = k;
        }
    return best;
}

static void hold(ks_shelf_search *search, const ks_packing *packing)
{
    ks_packing_copy(&search->now, packing);
    search->now_worth = ks_search_worth_of(search, &search->now, search->now_count);
}

/* A level begun with the one piece, and filled up around it, where that is worth more. */
static void fill_around(ks_shelf_search *search, int kind, int64_t end)
{
    ks_packing *trial = &search->trial;
    enum { SAMPLES = 200 };
    trial->n = 0;
    if (!ks_search_may_join(search, trial, kind))
        return;
    ks_packing_add(trial, kind, (ks_placement){0, 0, 0});
    ks_search_spot_anywhere(search, 0, SAMPLES);
    if (!ks_descent_one(&search->descent, 0, SAMPLES))
        return;
    ks_arena arena = {0};
    ks_packing before;
    double worth = search->now_worth;
    ks_packing_init(&before, &search->instance, search->now.room, &arena);
    ks_packing_copy(&before, &search->now);
    hold(search, trial);
    ks_search_take(search);
    fill_up(search, end);
    if (search->now_worth < worth)
        hold(search, &before);
    ks_arena_finish(&arena);
}

static void fill(ks_shelf_search *search, void *state, int64_t work)
{
    search->filled = true;
    int64_t end = search->work + work;
    fill_up(search, end);
    int dear = dearest_out(search);
    if (dear >= 0)
        fill_around(search, dear, end);
}

static bool is_unfilled(const ks_shelf_search *search)
{
    return !search->filled;
}

const ks_strategy ks_strategy_fill = {"fill", 1, is_unfilled, NULL, NULL, fill};
