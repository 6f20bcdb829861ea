#include "pack/search/restarts.h"

#include "pack/search/strategies.h"

#include <math.h>

void ks_lives_init(ks_shelf_search *search, ks_arena *arena)
{
    ks_pile_init(&search->life.best, &search->kit, search->now.room, arena);
    for (int h = 0; h < KS_HEATS; h++)
        ks_pile_init(&search->heats[h].best, &search->kit, search->now.room, arena);
}

/* A life of a heat, whose layout now is the trial's. */
static void life_begun(ks_shelf_search *search, int heat)
{
    search->life.heat = heat;
    search->life.began = search->work;
    search->life.worth = 0;
    search->crowd.begun = false;
    ks_search_take(search);
}

void ks_lives_forget(ks_shelf_search *search)
{
    for (int h = 0; h < KS_HEATS; h++)
        search->heats[h].entrants = 0;
    search->life.heat = 0;
    search->life.began = search->work;
    search->life.worth = 0;
    search->crowd.begun = false;
}

void ks_life_watched(ks_shelf_search *search)
{
    if (search->now_worth <= search->life.worth)
        return;
    ks_pile_copy(&search->life.best, &search->now);
    search->life.worth = search->now_worth;
}

/* Pairs of bodies count: with more of them each attempt costs more, and more are to be made. */
static int64_t life_length(const ks_shelf_search *search)
{
    enum { PER_PAIR = 28000 };
    return ((int64_t)PER_PAIR * search->n_best * search->n_best) << search->life.heat;
}

/* The level laid bare, its posts turned by chance if they may turn. */
static void born(ks_shelf_search *search)
{
    search->trial.n = 0;
    if (search->relax.posts_turn)
        ks_pile_turn_posts(&search->trial, 360 * ks_random_unit(&search->random));
    search->filled = false;
    life_begun(search, 0);
}

static void life_ended(ks_shelf_search *search)
{
    enum { ENTRANTS = 4 };
    int last = search->life.heat;
    struct ks_heat *heat = &search->heats[last];
    if (heat->entrants == 0 || search->life.worth > heat->worth) {
        heat->worth = search->life.worth;
        ks_pile_copy(&heat->best, &search->life.best);
    }
    if (++heat->entrants < ENTRANTS) {
        born(search);
        return;
    }
    heat->entrants = 0;
    ks_pile_copy(&search->trial, &heat->best);
    life_begun(search, last + 1 < KS_HEATS ? last + 1 : last);
}

int64_t ks_lives_led(ks_shelf_search *search)
{
    if (!ks_pack_crowd_suits(search))
        return INT64_MAX;
    if (search->work >= search->life.began + life_length(search))
        life_ended(search);
    return search->life.began + life_length(search) - search->work;
}
