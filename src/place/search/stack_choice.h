/* stack_choice.h: the stacks of several loads chosen together, before any of them is filled. */
#ifndef KILNSTOW_PLACE_SEARCH_STACK_CHOICE_H
#define KILNSTOW_PLACE_SEARCH_STACK_CHOICE_H

#include "base/random.h"
#include "place/draft/draft.h"

typedef struct {
    const ks_job *job;
    const int *copies;   /* of each item that these loads are for */
    const double *worth; /* of one copy of each */
    const bool *open;    /* of each slot: whether it may be built */
    int loads;           /* at most */
    ks_random *random;
} ks_choice;

/* Builds the stacks, empty, in open slots of the draft, so that the levels of all of them together
 * suit the ware. `rent` becomes what a copy of each item takes of the room at its height. Returns
 * how dense the levels have to become for all of it, as ks_relax_ask.density; 0 = nothing built. */
double ks_choose_stacks(const ks_choice *choice, ks_draft *draft, double *rent, ks_arena *arena);

#endif
