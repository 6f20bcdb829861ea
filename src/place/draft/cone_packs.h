/* cone_packs.h: on which levels of a load the witness cone packs stand. */
#ifndef KILNSTOW_PLACE_DRAFT_CONE_PACKS_H
#define KILNSTOW_PLACE_DRAFT_CONE_PACKS_H

#include "place/draft/draft.h"

/* Chooses the levels that get a cone pack. False when one of them has no place for it, or none that
 * a peephole ought to see has: such a load is not to be built. */
bool ks_ask_cones(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena);

/* A place for a pack on the level beside what is pinned there; false where it has none. */
bool ks_cones_find_place(const ks_job *job, const ks_load_kind *kind, const ks_draft_level *level,
                         ks_shelf_spot *out);

/* The level gets a pack as this one stood, pinned where a peephole sees it, whatever was asked for
 * before; NULL = none. */
void ks_cones_keep(const ks_job *job, ks_draft_load *load, int level, const ks_shelf_spot *pack,
                   ks_arena *arena);

/* Whether packs stand on all levels of the load where the order asks for them. */
bool ks_cones_stand(const ks_job *job, const ks_draft_load *load);

#endif
