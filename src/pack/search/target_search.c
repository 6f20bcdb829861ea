#include "pack/search/moves.h"
#include "pack/search/situation.h"

#include <math.h>

/* A packing worth more than the best layout of this life, in which pieces overlap: the penalty is
 * driven down by moving one piece, by letting two change places, and by pieces in and out as long
 * as the worth stays above that best. Where nothing overlaps any more, the layout is better than
 * the best. The penalty tells how near a set of pieces is to going in; a trade only tells that it
 * did not. */

enum { TRIES = 200 };

typedef struct {
    bool begun;
    int misses; /* hops in vain since the last that was not */
    double penalty_mm2, beyond_mm, worth;
    int *count;      /* of each kind held */
    ks_packing held; /* what the next hop starts from */
} target;

/* Relaxes the trial with pieces taken to be a little larger than they are. */
static void relax_larger(ks_shelf_search *search, target *at, ks_descent_limits limits)
{
    double aim = search->descent.penalty.aim_mm;
    search->descent.penalty.aim_mm = aim + at->beyond_mm;
    ks_descent_down(&search->descent, limits);
    search->descent.penalty.aim_mm = aim;
}

/* The trial as the packing that is held from now on; taken where it holds once it is relaxed for
 * what is needed. */
static void hold(ks_shelf_search *search, target *at)
{
    at->penalty_mm2 = search->descent.penalty_mm2;
    ks_packing_copy(&at->held, &search->trial);
    at->worth = ks_search_worth_of(search, &at->held, at->count);
    if (search->descent.penalty.worst_mm < 10 * at->beyond_mm &&
        ks_descent_run(&search->descent, (ks_descent_limits){300, 15, 0.9, 0, INFINITY, 0}))
        ks_search_take(search);
}

/* The trial, a packing of so much worth, with pieces in and out so that it is worth a little more
 * than the best of this life; false when chance finds no such move. */
static bool exchange(ks_shelf_search *search, target *at, double worth, ks_move *move)
{
    double best = search->restarts.worth;
    ks_moves_from from = {&search->trial, at->count, best * (1 + 1e-9) - worth,
                          best * 1.02 - worth};
    return ks_move_choose(search, &from, move) && ks_move_make(search, move);
}

/* From the packing held if there is one, else from the layout that holds now. */
static bool start(ks_shelf_search *search, target *at)
{
    bool on = at->begun && at->misses < TRIES;
    ks_move move;
    ks_packing_copy(&search->trial, on ? &at->held : &search->now);
    at->begun = false;
    if (!exchange(search, at, ks_search_worth_of(search, &search->trial, at->count), &move))
        return false;
    at->begun = true;
    at->misses = 0;
    at->beyond_mm = 0.005 * search->descent.stride_mm;
    relax_larger(search, at, (ks_descent_limits){300, 10, 0.95, 0, INFINITY, 0});
    hold(search, at);
    return true;
}

/* A body to the best of some places away from its own. */
static void move_one(ks_shelf_search *search)
{
    enum { SAMPLES = 30 };
    ks_packing *trial = &search->trial;
    int i = ks_random_below(&search->random, trial->n);
    ks_placement own = trial->place[i], best = own;
    double least = INFINITY, away = 0.7 * search->instance.kinds[trial->kind[i]].reach;
    for (int s = 0; s < SAMPLES; s++) {
        double penalty = ks_search_spot_anywhere(search, i, 1);
        double dx = trial->place[i].x - own.x, dy = trial->place[i].y - own.y;
        if (dx * dx + dy * dy < away * away || penalty >= least)
            continue;
        least = penalty;
        best = trial->place[i];
    }
    ks_packing_move(trial, i, best);
}

static void hop(ks_shelf_search *search, target *at)
{
    ks_move move = {0};
    at->misses++;
    ks_packing_copy(&search->trial, &at->held);
    int chance = ks_random_below(&search->random, 20);
    if (chance < 3)
        move_one(search);
    else if (chance < 7)
        ks_search_swap(search);
    else if (!exchange(search, at, at->worth, &move))
        return;
    double wanted = at->penalty_mm2;
    relax_larger(search, at, (ks_descent_limits){300, 10, 0.95, 3, wanted, 1e4 * wanted});
    if (search->descent.penalty_mm2 >= wanted * (1 - 1e-6))
        return;
    at->misses = 0;
    search->moves++;
    ks_move_barred(search, &at->held, &move);
    hold(search, at);
}

static void search_target(ks_shelf_search *search, void *state, int64_t work)
{
    target *at = state;
    int64_t end = search->work + work;
    while (search->work < end && !ks_search_over(search)) {
        search->work += 40; /* drawing a move costs too, also when none is found */
        if (at->begun && at->misses < TRIES && at->worth > search->restarts.worth)
            hop(search, at);
        else if (!start(search, at))
            return;
    }
}

static void *create(ks_shelf_search *search, ks_arena *arena)
{
    target *at = KS_TAKE(arena, 1, target);
    at->count = KS_TAKE(arena, search->instance.n_kinds, int);
    ks_packing_init(&at->held, &search->instance, search->now.room, arena);
    return at;
}

static void begin(void *state, bool anew)
{
    ((target *)state)->begun = false;
}

const ks_strategy ks_strategy_target = {"target", 3, ks_has_choice, create, begin, search_target};
