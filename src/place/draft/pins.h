/* pins.h: ware that the order keeps in a place of its own. A place where it cannot stand is not
 * given to it: that copy waits. */
#ifndef KILNSTOW_PLACE_DRAFT_PINS_H
#define KILNSTOW_PLACE_DRAFT_PINS_H

#include "place/draft/draft.h"

/* Puts what is kept in a load just built, still bare, where it can stand by all rules. */
void ks_pins_set(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena);

/* What pinned ware asks of the levels of a load. */
int ks_pins_needs(const ks_job *job, int slot, ks_level_need **needs, ks_arena *arena);

#endif
