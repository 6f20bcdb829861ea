/* change.h: the least change of an order that lets a piece in that waits, found by trying. */
#ifndef KILNSTOW_PLACE_FINISH_CHANGE_H
#define KILNSTOW_PLACE_FINISH_CHANGE_H

#include "place/draft/draft.h"

#include <stdatomic.h>

/* For so many kinds of ware that wait. */
enum { KS_CHANGES_LOOKED_FOR = 16 };

typedef struct {
    ks_reason change;   /* untold = nothing found */
    double short_by_mm; /* > 0: no level is high enough */
} ks_order_change;

/* Tries, in this order, and stops at the first that works: letting it be turned; a taller gap on
 * one level; one other piece waiting instead; one more load. Each is laid out before it is told.
 * `plan` is the draft written down. */
ks_order_change ks_change_find(const ks_job *job, const ks_draft *draft, const ks_plan *plan,
                               int item, ks_arena *arena);

/* Puts in what needs no change at all to go in, sets as a whole: whether there was any. */
bool ks_change_none_needed(const ks_job *job, ks_draft *draft, ks_arena *arena);

#endif
