/* greedy.h: a first plan, load by load and level by level. */
#ifndef KILNSTOW_PLACE_SEARCH_GREEDY_H
#define KILNSTOW_PLACE_SEARCH_GREEDY_H

#include "place/draft/draft.h"
#include "place/bound/relaxation.h"
#include "place/job/stream.h"

typedef struct {
    const ks_job *job;
    double density; /* of a level's area that ware is thought to cover */
    int64_t work;   /* for each filling of a level */
    ks_random *random;
    int rank;         /* of one load: so many better stacks are passed over */
    bool must_first;  /* chosen as if little else counted than what must go */
    bool past_wishes; /* the stack is chosen whatever levels are wished for; else what is
                       * wished for finds its level, if it can */
} ks_greedy;

/* Builds and fills this slot from what is left; takes no stack when nothing fits. `after` says how
 * many more loads of each kind will be built from what it leaves. */
void ks_greedy_load(const ks_greedy *greedy, ks_draft *draft, int slot, const int *after,
                    ks_arena *arena);

/* Builds every load of a draft that is not built yet, in turn. */
void ks_greedy_loads(const ks_greedy *greedy, ks_draft *draft, ks_arena *arena);

#endif
