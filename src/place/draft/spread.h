/* spread.h: the ware of a load laid out anew on other levels, each piece on any of them. */
#ifndef KILNSTOW_PLACE_DRAFT_SPREAD_H
#define KILNSTOW_PLACE_DRAFT_SPREAD_H

#include "place/draft/draft.h"

/* All that stands in `was`, pins not counted, on the levels of `load`, just built, with the packs
 * that belong there. False where a piece or a pack finds no room. */
bool ks_spread(const ks_job *job, const ks_draft_load *was, int slot, ks_draft_load *load,
               ks_arena *arena);

#endif
