/* fill_ask.h: what one level may be filled with. */
#ifndef KILNSTOW_PLACE_DRAFT_FILL_ASK_H
#define KILNSTOW_PLACE_DRAFT_FILL_ASK_H

#include "place/stack/level_space.h"

typedef struct {
    const ks_job *job;
    const ks_load_kind *kind;
    const ks_stack_level *level;
    const double *worth;         /* of one copy of each item */
    const int *copies;           /* of each item on offer */
    const int *must;             /* of these that have to be in; NULL = none */
    const ks_shelf_layout *warm; /* items are those of the job; NULL = none */
    int n_pins;
    const ks_shelf_spot *pins; /* ware that stays where it is; items are those of the job */
    double mass_left_kg;       /* what the kiln may still carry */
    uint64_t seed;
    int64_t work;
} ks_fill;

#endif
