/* cone_packs.h: on which levels of a load the witness cone packs stand. */
#ifndef KILNSTOW_PLACE_DRAFT_CONE_PACKS_H
#define KILNSTOW_PLACE_DRAFT_CONE_PACKS_H

#include "place/draft/draft.h"

/* Chooses the levels that get a cone pack. False when one of them has no place for it, or none that
 * a peephole ought to see has: such a load is not to be built. */
bool ks_ask_cones(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena);

/* Whether packs stand on all levels of the load where the order asks for them. */
bool ks_cones_stand(const ks_job *job, const ks_draft_load *load);

#endif
