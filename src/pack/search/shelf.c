#include "pack/search/situation.h"
#include "pack/shelf/shelf_rule.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_BODIES = 400, EVALUATIONS_PER_UNIT = 1000 };

/* More bodies than could ever stand side by side; pieces over one another count in. */
static int room_for_bodies(const ks_instance *instance)
{
    double area = 0;
    int64_t copies = 0;
    for (int r = 0; r < instance->space.n_regions; r++)
        area = fmax(area, ks_outline_area(&instance->space.regions[r].outline));
    double least = area;
    for (int k = 0; k < instance->n_kinds; k++)
        if (!instance->kinds[k].hopeless) {
            copies += instance->items[k].copies;
            least = fmin(least, instance->kinds[k].size_mm2);
        }
    double most = 2 * area / fmax(least, area / MOST_BODIES) + 4;
    most = fmin(most, MOST_BODIES);
    return copies < (int64_t)most ? (int)copies : (int)most;
}

static double mean_reach(const ks_instance *instance)
{
    double sum = 0;
    int n = 0;
    for (int k = 0; k < instance->n_kinds; k++)
        if (!instance->kinds[k].hopeless) {
            sum += instance->kinds[k].reach;
            n++;
        }
    return n > 0 ? sum / n : 1;
}

static void take_worths(ks_shelf_search *search)
{
    search->must_worth = 1;
    for (int k = 0; k < search->instance.n_kinds; k++)
        search->must_worth +=
            fabs(search->instance.items[k].worth) * search->instance.items[k].copies;
}

static void create_states(ks_shelf_search *search, ks_arena *arena)
{
    search->state = KS_TAKE(arena, ks_n_strategies, void *);
    for (int s = 0; s < ks_n_strategies; s++)
        if (ks_strategies[s]->create)
            search->state[s] = ks_strategies[s]->create(search, arena);
}

static void begin_strategies(ks_shelf_search *search, bool anew)
{
    for (int s = 0; s < ks_n_strategies; s++)
        if (ks_strategies[s]->begin)
            ks_strategies[s]->begin(search->state[s], anew);
}

static void begin_anew(ks_shelf_search *search)
{
    ks_restarts_forget(&search->restarts, search->work);
    begin_strategies(search, true);
}

ks_shelf_search *ks_shelf_search_create(const ks_shelf_space *space, int n_items,
                                        const ks_shelf_item *items, uint64_t seed)
{
    ks_arena arena = {0};
    ks_shelf_search *search = KS_TAKE(&arena, 1, ks_shelf_search);
    ks_instance_init(&search->instance, space, n_items, items);
    search->random = ks_random_of(seed, 0);
    int room = room_for_bodies(&search->instance);
    ks_packing_init(&search->now, &search->instance, room, &arena);
    ks_packing_init(&search->trial, &search->instance, room, &arena);
    ks_packing_init(&search->spare, &search->instance, room, &arena);
    ks_descent_init(&search->descent, &search->trial, &search->work, &arena);
    search->descent.penalty.aim_mm = 0.01;
    search->descent.penalty.hands = search->hands;
    search->descent.stride_mm = 0.3 * mean_reach(&search->instance);
    search->now_count = KS_TAKE(&arena, n_items, int);
    search->trial_count = KS_TAKE(&arena, n_items, int);
    search->tabu = KS_TAKE(&arena, n_items, int);
    search->best = KS_TAKE(&arena, 2 * room, ks_shelf_spot);
    search->best_post_turn_deg = space->post_turn_deg;
    take_worths(search);
    ks_restarts_init(&search->restarts, &search->instance, room, &arena);
    create_states(search, &arena);
    search->arena = arena;
    return search;
}

void ks_shelf_search_destroy(ks_shelf_search *search)
{
    if (!search)
        return;
    ks_instance_finish(&search->instance);
    ks_arena arena = search->arena;
    ks_arena_finish(&arena);
}

ks_shelf_layout ks_shelf_search_best(const ks_shelf_search *search, ks_arena *arena)
{
    ks_shelf_spot *spots = KS_TAKE(arena, search->n_best, ks_shelf_spot);
    if (search->n_best > 0)
        memcpy(spots, search->best, (size_t)search->n_best * sizeof *spots);
    ks_shelf_owners_gather(search->instance.items, search->n_best, spots);
    return (ks_shelf_layout){search->n_best, spots, search->best_own_worth,
                             search->best_post_turn_deg};
}

/* Puts all of the layout into the trial that is on offer, overlaps and all. */
static void trial_of(ks_shelf_search *search, const ks_shelf_layout *layout)
{
    ks_packing *trial = &search->trial;
    int *count = search->now_count;
    memset(count, 0, (size_t)search->instance.n_kinds * sizeof *count);
    trial->n = 0;
    ks_packing_turn_posts(trial, layout->post_turn_deg);
    for (int i = 0; i < layout->n_spots; i++) {
        int k = layout->spots[i].item;
        if (count[k] >= ks_search_copies(search, k) || !ks_search_may_join(search, trial, k))
            continue;
        ks_packing_add(trial, k,
                       ks_stand_placement(&search->instance.kinds[k], layout->spots[i].stand));
        count[k]++;
    }
}

static int most_strained(ks_shelf_search *search)
{
    int most = 0;
    double greatest = -INFINITY;
    for (int i = 0; i < search->trial.n; i++) {
        double penalty = ks_penalty_one(&search->descent.penalty, i, NULL);
        most = penalty > greatest ? i : most;
        greatest = fmax(greatest, penalty);
    }
    return most;
}

/* What has no room leaves, one by one at first. Where far too much stands, more and more at a time:
 * trying each number of pieces would take far longer than filling the room up again. */
static void stood(ks_shelf_search *search, const ks_shelf_layout *layout)
{
    enum { ONE_BY_ONE = 4 };
    trial_of(search, layout);
    for (int gone = 0;
         !ks_descent_run(&search->descent, (ks_descent_limits){3000, 60, 0.95, 0, INFINITY, 0});)
        for (int leave = 1 + gone / ONE_BY_ONE; leave > 0 && search->trial.n > 0; leave--, gone++)
            ks_packing_remove(&search->trial, most_strained(search));
    ks_search_take(search);
}

void ks_shelf_search_warm(ks_shelf_search *search, const ks_shelf_layout *layout)
{
    begin_anew(search);
    stood(search, layout);
}

void ks_shelf_search_reprice(ks_shelf_search *search, const ks_shelf_item *items)
{
    ks_arena arena = {0};
    ks_shelf_layout old = ks_shelf_search_best(search, &arena);
    for (int k = 0; k < search->instance.n_kinds; k++) {
        search->instance.items[k].worth = items[k].worth;
        search->instance.items[k].copies = items[k].copies;
        search->instance.items[k].must = items[k].must;
    }
    take_worths(search);
    search->n_best = 0;
    search->best_worth = search->best_own_worth = search->now_worth = 0;
    search->now.n = 0;
    search->all_in = search->filled = false;
    begin_anew(search);
    stood(search, &old);
    ks_arena_finish(&arena);
}

/* Ends the restart at hand: the next goes on from a winner, or from a bare level, its posts turned
 * by chance if they may turn. */
static void restart(ks_shelf_search *search)
{
    int bracket = ks_restarts_end(&search->restarts, &search->trial);
    if (bracket == 0) {
        search->trial.n = 0;
        if (search->descent.posts_turn)
            ks_packing_turn_posts(&search->trial, 360 * ks_random_unit(&search->random));
        search->filled = false;
    }
    ks_restarts_begin(&search->restarts, bracket, search->work);
    begin_strategies(search, false);
    ks_search_take(search);
}

/* How much work the restart at hand has left; the next is begun when that is none. */
static int64_t restart_work(ks_shelf_search *search)
{
    const ks_restarts *restarts = &search->restarts;
    if (!ks_has_choice(search))
        return INT64_MAX;
    if (search->work >= restarts->began + ks_restarts_length(restarts, search->n_best))
        restart(search);
    return restarts->began + ks_restarts_length(restarts, search->n_best) - search->work;
}

static int shares(const ks_shelf_search *search)
{
    int sum = 0;
    for (int s = 0; s < ks_n_strategies; s++)
        sum += ks_strategies[s]->suits(search) ? ks_strategies[s]->share : 0;
    return sum;
}

void ks_shelf_search_run(ks_shelf_search *search, int64_t work, ks_stop *stop)
{
    int64_t least = EVALUATIONS_PER_UNIT;
    search->stop = stop;
    search->work_end = search->work + work * EVALUATIONS_PER_UNIT;
    search->all_in = search->all_in || ks_search_all_in(search);
    while (!ks_search_over(search)) {
        int64_t ours = restart_work(search), left = search->work_end - search->work;
        left = ours < left ? ours : left;
        int all = shares(search);
        for (int s = 0; s < ks_n_strategies; s++)
            if (ks_strategies[s]->suits(search) && !ks_search_over(search))
                ks_strategies[s]->run(search, search->state[s],
                                      left * ks_strategies[s]->share / all + least);
    }
    search->stop = NULL;
}
