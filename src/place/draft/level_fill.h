/* level_fill.h: one level filled by the packer with what is on offer. */
#ifndef KILNSTOW_PLACE_DRAFT_LEVEL_FILL_H
#define KILNSTOW_PLACE_DRAFT_LEVEL_FILL_H

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

/* Items of the layout are those of the job. Its worth is by `worth`; pins are not part of it. */
ks_shelf_layout ks_level_fill(const ks_fill *fill, ks_arena *arena);

/* Puts the pinned ware into the space, where it stands in the way like posts do. */
void ks_level_pin(const ks_fill *fill, ks_shelf_space *space, ks_arena *arena);

#endif
