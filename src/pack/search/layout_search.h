/* layout_search.h: what the strategies of the shelf packer share: the layouts held, and how to try
 * one. */
#ifndef KILNSTOW_PACK_SEARCH_LAYOUT_SEARCH_H
#define KILNSTOW_PACK_SEARCH_LAYOUT_SEARCH_H

#include "base/random.h"
#include "pack/instance/descent.h"
#include "pack/instance/penalty.h"
#include "pack/search/restarts.h"

enum { KS_MOST_HANDS = 64 };

struct ks_shelf_search {
    ks_arena arena;
    ks_instance instance;
    ks_random random;
    int64_t work, work_end; /* pair evaluations so far, and where this run ends */
    ks_stop *stop;

    ks_packing now;   /* a layout that holds */
    double now_worth; /* with what pieces that must be in add */
    int *now_count;   /* of each kind */
    int *trial_count; /* the same of the trial, when it is asked for */
    ks_packing trial; /* what is being tried */
    ks_packing spare; /* the trial as it was, while room for hands is made in it */
    struct ks_hand hands[KS_MOST_HANDS];
    ks_descent descent; /* of the trial */
    double must_worth;  /* what a piece that must be in counts beyond its worth */
    int *tabu;          /* of each kind: not put in before this move */
    int moves;

    ks_restarts restarts;
    void **state; /* of each strategy, its own */

    int n_best; /* the best layout so far, on the plan's grid */
    ks_shelf_spot *best;
    double best_worth, best_own_worth; /* with and without must_worth */
    double best_post_turn_deg;
    bool filled; /* the first filling of this restart has been */
    bool all_in; /* the best has all that is on offer: nothing is left to look for */
};

/* One way of looking for layouts: a file and a line of strategies.c. */
typedef struct {
    const char *name;
    int share; /* of the work, in relation to the others that suit */
    bool (*suits)(const ks_shelf_search *search);
    /* Its own state, which nobody else looks into; NULL = it keeps none. */
    void *(*create)(ks_shelf_search *search, ks_arena *arena);
    /* A restart begins; anew: with other prices or from another layout. NULL = it does not care. */
    void (*begin)(void *state, bool anew);
    void (*run)(ks_shelf_search *search, void *state, int64_t work); /* pair evaluations at most */
} ks_strategy;
extern const ks_strategy *const ks_strategies[];
extern const int ks_n_strategies;

/* Whether there is nothing left to look for, or no work left to do it with. */
bool ks_search_over(const ks_shelf_search *search);

/* Whether the layout that holds now has all that is on offer; so also when nothing is. */
bool ks_search_all_in(const ks_shelf_search *search);

/* How many of a kind may be in, and what the next of it is worth when `count` are in. */
int ks_search_copies(const ks_shelf_search *search, int kind);
double ks_search_worth_of_next(const ks_shelf_search *search, int kind, int count);

/* Whether one more of a kind is on offer beside so many of each. */
bool ks_search_has_more(const ks_shelf_search *search, const int *count, int kind);

/* Whether one more of the kind keeps the mass limit, the stocks that it draws from, and the tags
 * that shun one another, in a packing.
 */
bool ks_search_may_join(const ks_shelf_search *search, const ks_packing *packing, int kind);

/* Moves body i of the trial to the best of `samples` places near `at` (within `within_mm`, any
 * turn); returns its penalty there. */
double ks_search_spot(ks_shelf_search *search, int i, ks_point at, double within_mm, int samples);

/* The same anywhere on the level. */
double ks_search_spot_anywhere(ks_shelf_search *search, int i, int samples);

/* Lets some body of the trial and one of nearly its size, but of another kind, change places. */
void ks_search_swap(ks_shelf_search *search);

/* Worth of a packing, with what pieces that must be in add; counts its kinds. */
double ks_search_worth_of(const ks_shelf_search *search, const ks_packing *packing, int *count);

/* Takes the trial, in which every clearance holds, as the layout that holds now. One worth more
 * than the best is judged exactly; should it fail, the best is what holds now. Where pieces had to
 * be taken out of the trial so that the others can go in, it is only taken if it is worth more than
 * what holds now; false when it is not. */
bool ks_search_take(ks_shelf_search *search);

/* Makes the trial one whose pieces can all go in; false when some had to be taken out for that. */
bool ks_search_made_loadable(ks_shelf_search *search);

/* Takes out of the trial what shelves side by side cannot carry each by itself: of what weighs on
 * one the pieces worth least for their mass. */
void ks_search_drop_overload(ks_shelf_search *search);

/* Puts the layout that holds now into the trial. */
void ks_search_retry(ks_shelf_search *search);

#endif
