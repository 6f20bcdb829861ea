/* close_up.h: a load's furniture taken anew for what stands in it: no level bare, none too tall. */
#ifndef KILNSTOW_PLACE_DRAFT_CLOSE_UP_H
#define KILNSTOW_PLACE_DRAFT_CLOSE_UP_H

#include "place/draft/draft.h"

/* Whether nothing but cone packs stands on the level. */
bool ks_level_is_bare(const ks_job *job, const ks_draft_level *level);

/* The load of this slot on as many levels as have ware, and what a wish by number asks for below
 * one; heights are chosen anew, and where it must be the ware moves to other levels. If it cannot
 * stand so, as few bare levels stay as can be. A load without ware is not fired. False, and nothing
 * is changed, where no level is bare or none can leave. */
bool ks_close_up(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena);

/* The load with all ware of level `from` on level `onto` beside what stands there, and without
 * `from`. False, and nothing is changed, where that cannot be. */
bool ks_merge_levels(const ks_job *job, ks_draft *draft, int slot, int from, int onto,
                     ks_arena *arena);

#endif
