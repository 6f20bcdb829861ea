#include "pack/search/moves.h"

#include <math.h>

static void swap_once(ks_shelf_search *search)
{
    ks_move move;
    double best = search->restarts.worth, stride = search->descent.stride_mm;
    double loss = 0.01 * best * ks_random_unit(&search->random);
    ks_moves_from from = {&search->now, search->now_count,
                          search->now_worth < 0.96 * best ? 0 : -loss, INFINITY};
    if (!ks_move_choose(search, &from, &move))
        return;
    ks_search_retry(search);
    if (!ks_move_make(search, &move))
        return;
    search->moves++;
    /* where nothing goes out, the others have to move far */
    double excess = (move.n_out > 0 ? 30 : 300) * stride * stride;
    if (!ks_descent_run(&search->descent, (ks_descent_limits){250, 12, 0.6, 1.5, 0, excess}))
        return;
    ks_move_barred(search, &search->now, &move);
    ks_search_take(search);
}

static void swap(ks_shelf_search *search, void *state, int64_t work)
{
    int64_t end = search->work + work;
    while (search->work < end && !ks_search_over(search)) {
        search->work += 40; /* drawing a move costs too, also when none is found */
        swap_once(search);
    }
}

static bool suits_always(const ks_shelf_search *search)
{
    return true;
}

const ks_strategy ks_strategy_swap = {"swap", 1, suits_always, NULL, NULL, swap};
