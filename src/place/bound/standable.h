/* standable.h: how tall the ware is that can stand on a support at all. */
#ifndef KILNSTOW_PLACE_BOUND_STANDABLE_H
#define KILNSTOW_PLACE_BOUND_STANDABLE_H

#include "place/stack/stack.h"

/* Works out for all kinds of load what can stand where, before any of its rounds. */
void ks_standable_find(ks_job *job);

/* Index of the tallest of the job's heights under the level's lid or shelf of which some ware can
 * stand on the level's shelves; -1 if there is none. Where that is not worked out, all can. */
int ks_standable_height(const ks_job *job, const ks_load_kind *kind, const ks_stack_level *level);

#endif
