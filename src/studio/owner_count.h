/* owner_count.h: how many pieces of each owner a plan holds, of how many. */
#ifndef KILNSTOW_STUDIO_OWNER_COUNT_H
#define KILNSTOW_STUDIO_OWNER_COUNT_H

#include "kilnstow/plan.h"

typedef struct {
    const char *owner;  /* a member's id */
    int placed, wanted; /* counted pieces */
} ks_owner_count;

/* Owners in the order in which the order names them first; how many. */
int ks_owner_counts(const ks_plan *plan, ks_arena *arena, ks_owner_count **out);

#endif
