#include "pack/search/restarts.h"
#include "pack/search/moves.h"
#include "pack/search/strategies.h"

#include <math.h>

/* A pile worth more than the best layout of this life, in which pieces overlap: the strain is
 * driven down by moving one piece, by letting two change places, and by pieces in and out as long
 * as the worth stays above that best. Where nothing overlaps any more, the layout is better than
 * the best. The strain tells how near a set of pieces is to going in; a trade only tells that it
 * did not. */

enum { TRIES = 200 };

/* Relaxes the trial with pieces taken to be a little larger than they are. */
static void relaxed(ks_shelf_search *search, ks_relax_limits limits)
{
    double aim = search->relax.strain.aim_mm;
    search->relax.strain.aim_mm = aim + search->crowd.beyond_mm;
    ks_relax_down(&search->relax, limits);
    search->relax.strain.aim_mm = aim;
}

/* The trial as the pile that is held from now on; taken where it holds once it is relaxed for what
 * is needed. */
static void held(ks_shelf_search *search)
{
    struct ks_crowd *crowd = &search->crowd;
    crowd->strain_mm2 = search->relax.strain_mm2;
    ks_pile_copy(&search->held, &search->trial);
    crowd->worth = ks_search_worth_of(search, &search->held, crowd->count);
    if (search->relax.strain.worst_mm < 10 * crowd->beyond_mm &&
        ks_relax_run(&search->relax, (ks_relax_limits){300, 15, 0.9, 0, INFINITY, 0}))
        ks_search_take(search);
}

/* The trial, a pile of so much worth, with pieces in and out so that it is worth a little more than
 * the best of this life; false when chance finds no such move. */
static bool exchanged(ks_shelf_search *search, double worth, ks_move *move)
{
    double best = search->life.worth;
    ks_moves_from from = {&search->trial, search->crowd.count, best * (1 + 1e-9) - worth,
                          best * 1.02 - worth};
    return ks_move_chosen(search, &from, move) && ks_move_made(search, move);
}

/* From the pile held if there is one, else from the layout that holds now. */
static bool begun(ks_shelf_search *search)
{
    struct ks_crowd *crowd = &search->crowd;
    bool on = crowd->begun && crowd->misses < TRIES;
    ks_move move;
    ks_pile_copy(&search->trial, on ? &search->held : &search->now);
    crowd->begun = false;
    if (!exchanged(search, ks_search_worth_of(search, &search->trial, crowd->count), &move))
        return false;
    crowd->begun = true;
    crowd->misses = 0;
    crowd->beyond_mm = 0.005 * search->relax.stride_mm;
    relaxed(search, (ks_relax_limits){300, 10, 0.95, 0, INFINITY, 0});
    held(search);
    return true;
}

/* A body to the best of some places away from its own. */
static void one_elsewhere(ks_shelf_search *search)
{
    enum { SAMPLES = 30 };
    ks_pile *trial = &search->trial;
    int i = ks_random_below(&search->random, trial->n);
    ks_lie own = trial->lie[i], best = own;
    double least = INFINITY, away = 0.7 * search->kit.kinds[trial->kind[i]].reach;
    for (int s = 0; s < SAMPLES; s++) {
        double strain = ks_search_spot_anywhere(search, i, 1);
        double dx = trial->lie[i].x - own.x, dy = trial->lie[i].y - own.y;
        if (dx * dx + dy * dy < away * away || strain >= least)
            continue;
        least = strain;
        best = trial->lie[i];
    }
    ks_pile_move(trial, i, best);
}

static void hopped(ks_shelf_search *search)
{
    struct ks_crowd *crowd = &search->crowd;
    ks_move move = {0};
    crowd->misses++;
    ks_pile_copy(&search->trial, &search->held);
    int chance = ks_random_below(&search->random, 20);
    if (chance < 3)
        one_elsewhere(search);
    else if (chance < 7)
        ks_search_swapped(search);
    else if (!exchanged(search, crowd->worth, &move))
        return;
    double wanted = crowd->strain_mm2;
    relaxed(search, (ks_relax_limits){300, 10, 0.95, 3, wanted, 1e4 * wanted});
    if (search->relax.strain_mm2 >= wanted * (1 - 1e-6))
        return;
    crowd->misses = 0;
    search->moves++;
    ks_move_barred(search, &search->held, &move);
    held(search);
}

void ks_pack_crowd(ks_shelf_search *search, int64_t work)
{
    struct ks_crowd *crowd = &search->crowd;
    int64_t end = search->work + work;
    while (search->work < end && !ks_search_over(search)) {
        search->work += 40; /* drawing a move costs too, also when none is found */
        if (crowd->begun && crowd->misses < TRIES && crowd->worth > search->life.worth)
            hopped(search);
        else if (!begun(search))
            return;
    }
}

/* Where there is much to choose from, and chance has something to turn over. */
bool ks_pack_crowd_suits(const ks_shelf_search *search)
{
    return search->now.n > 0 && !ks_search_all_in(search) && !ks_pack_press_suits(search) &&
           !ks_pack_tiles_suits(search);
}
