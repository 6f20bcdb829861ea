/* pack_sight.h: what can be seen of a cone pack through a peephole. */
#ifndef KILNSTOW_PLACE_DRAFT_PACK_SIGHT_H
#define KILNSTOW_PLACE_DRAFT_PACK_SIGHT_H

#include "place/draft/draft.h"

bool ks_is_peephole(const ks_keep_out *out);

/* Whether a pack on the level would be at the peephole's height and its shelves on the way from
 * there to the chamber's middle. */
bool ks_sight_looks(const ks_job *job, const ks_load_kind *kind, const ks_stack_level *at,
                    const ks_keep_out *peephole);

/* Whether a pack that stands so is on the way from the peephole to the chamber's middle, no post
 * or sensor of its level being before it. */
bool ks_sight_of(const ks_job *job, const ks_load_kind *kind, const ks_stack_level *at,
                 const ks_keep_out *peephole, ks_stand pack);

/* Whether a pack of the level is seen so, past all the ware that stands there. */
bool ks_sight_past(const ks_job *job, const ks_load_kind *kind, const ks_draft_level *level,
                   const ks_keep_out *peephole);

/* Puts the pack as far out towards the peephole as it can stand in its sight, beside what is pinned
 * on the level: one pin more. False where it cannot. */
bool ks_sight_stood(const ks_job *job, const ks_load_kind *kind, ks_draft_level *level,
                    const ks_keep_out *peephole, ks_arena *arena);

#endif
