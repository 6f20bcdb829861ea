/* top_up.h: more ware on a level where all that stands there already stays where it is. */
#ifndef KILNSTOW_PLACE_SEARCH_TOP_UP_H
#define KILNSTOW_PLACE_SEARCH_TOP_UP_H

#include "place/search/rounds.h"

/* What the job still has on offer goes into the room left on every level of every load, the tallest
 * first, within `work` units each. */
void ks_top_up(const ks_run *run, ks_draft *draft, int64_t work, ks_random *random,
               ks_arena *arena);

#endif
