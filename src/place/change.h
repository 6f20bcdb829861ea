/* change.h: the least change of an order that lets a piece in that waits, found by trying. */
#ifndef KILNSTOW_PLACE_CHANGE_H
#define KILNSTOW_PLACE_CHANGE_H

#include "place/draft.h"

typedef struct {
    const char *text;    /* what to change; NULL = nothing found */
    const char *instead; /* the piece that would have to wait, NULL = none */
    double short_by_mm;  /* > 0: no level is high enough */
} ks_change;

/* Tries, in this order, and stops at the first that works: letting it be turned; a taller gap on
 * one level; one other piece waiting instead; one more load. Each is laid out before it is told. */
ks_change ks_change_found(const ks_job *job, const ks_draft *draft, int good, ks_arena *arena);

/* Whether the good surely goes into such a load by itself: it was stood on a shelf over the lowest
 * floor posts, under the lid. False only means that this one place will not do. */
bool ks_stands_alone(const ks_job *job, int kind, int good);

#endif
