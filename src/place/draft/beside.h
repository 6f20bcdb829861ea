/* beside.h: whether one piece more may stand on a level beside what stands there. */
#ifndef KILNSTOW_PLACE_DRAFT_BESIDE_H
#define KILNSTOW_PLACE_DRAFT_BESIDE_H

#include "place/stack/level_space.h"

/* A level and what has been stood on it so far; items of the spots are items. */
typedef struct {
    const ks_job *job;
    const ks_load_kind *kind;
    const ks_stack_level *at;
    ks_shelf_space space;
    ks_shelf_spot *spots; /* with room for one more */
    int n;
} ks_beside;

/* Adds the piece if it suits the firing, goes under the shelf above, is turned as it may be, is not
 * to be kept apart from what stands there, keeps every clearance and overloads no shelf. */
bool ks_beside_stood(ks_beside *level, ks_shelf_spot spot);

#endif
