/* leftover.h: why a piece waits, and the least that would let it in. */
#ifndef KILNSTOW_PLACE_FINISH_LEFTOVER_H
#define KILNSTOW_PLACE_FINISH_LEFTOVER_H

#include "place/draft/draft.h"

/* `look`: whether changes are tried that would let it in, which takes a while. */
void ks_leftover_list(const ks_job *job, const ks_draft *draft, bool look, ks_plan *plan,
                      ks_arena *arena);

#endif
