/* cone_packs.h: on which levels of a load the witness cone packs stand. */
#ifndef KILNSTOW_PLACE_DRAFT_CONE_PACKS_H
#define KILNSTOW_PLACE_DRAFT_CONE_PACKS_H

#include "place/draft/draft.h"

/* Chooses the levels that get a cone pack. False when the load's levels have no place for one that
 * a peephole ought to see: such a load is not to be built. */
bool ks_ask_cones(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena);

#endif
