/* level_fill.h: one level filled by the packer with what is on offer. */
#ifndef KILNSTOW_PLACE_DRAFT_LEVEL_FILL_H
#define KILNSTOW_PLACE_DRAFT_LEVEL_FILL_H

#include "place/stack/level_space.h"

#include <stdatomic.h>

typedef struct {
    const ks_job *job;
    const ks_load_kind *kind;
    const ks_stack_level *level;
    const double *worth;         /* of one copy of each good */
    const int *copies;           /* of each good on offer */
    const int *must;             /* of these that have to be in; NULL = none */
    const ks_shelf_layout *warm; /* items are goods; NULL = none */
    int n_pins;
    const ks_shelf_spot *pins; /* ware that stays where it is; items are goods */
    double mass_left_kg;       /* what the kiln may still carry */
    uint64_t seed;
    int64_t work;
    const atomic_bool *hurry;
} ks_fill;

/* Items of the layout are goods. Its worth is by `worth`; pins are not part of it. */
ks_shelf_layout ks_level_filled(const ks_fill *fill, ks_arena *arena);

#endif
