/* draft_settled.h: a draft as the answer will hold it: whole sets, and no bare shelves on top. */
#ifndef KILNSTOW_PLACE_DRAFT_DRAFT_SETTLED_H
#define KILNSTOW_PLACE_DRAFT_DRAFT_SETTLED_H

#include "place/draft/draft.h"

/* Takes out what is left of sets that are not together in one load, and the tiers of shelves at the
 * top with nothing on them, unless cone packs would then stand on other levels than they are asked
 * for. */
void ks_draft_settle(const ks_job *job, ks_draft *draft);

#endif
