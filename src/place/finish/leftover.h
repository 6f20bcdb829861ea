/* leftover.h: why a piece waits, and the least that would let it in. */
#ifndef KILNSTOW_PLACE_FINISH_LEFTOVER_H
#define KILNSTOW_PLACE_FINISH_LEFTOVER_H

#include "place/draft/draft.h"

void ks_leftover_list(const ks_job *job, const ks_draft *draft, ks_plan *plan, ks_arena *arena);

#endif
