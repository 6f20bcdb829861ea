/* earlier_plan.h: a plan made earlier, taken up again as far as this order still has its ware, and
 * what of it stands where it stood. */
#ifndef KILNSTOW_PLACE_SEARCH_EARLIER_PLAN_H
#define KILNSTOW_PLACE_SEARCH_EARLIER_PLAN_H

#include "place/draft/draft.h"

/* Where a copy of an item stood. */
typedef struct {
    int slot, item;
    ks_um z; /* of its shelf's top */
    ks_stand stand;
} ks_stood;

typedef struct {
    int n, room;
    ks_stood *at; /* of pieces whose ids the order still has */
    int wanted;   /* of these no more than it has copies */
} ks_before;

/* The loads of the earlier plan that this order's kilns can still build, each in a slot of its
 * kind, with what can still stand there: ware that the order no longer has, or not in that shape,
 * is left out. What stood where goes into *before. `higher`: with one more level on top
 * where there is room, so that new ware has somewhere to go. */
ks_draft ks_before_draft(const ks_job *job, bool higher, ks_before *before, ks_arena *arena);

/* How many pieces of a draft stand where they stood. */
int ks_before_stayed(const ks_job *job, const ks_before *before, const ks_draft *draft);

#endif
