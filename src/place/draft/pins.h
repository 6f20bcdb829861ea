/* pins.h: ware that the order keeps in a place of its own. A place where it cannot stand is not
 * given to it: that copy waits. */
#ifndef KILNSTOW_PLACE_DRAFT_PINS_H
#define KILNSTOW_PLACE_DRAFT_PINS_H

#include "place/draft/draft.h"

/* Puts a stack into a slot, empty but for pinned ware and with its cone packs asked for. False, and
 * the slot is not fired, when they have no place on it or the kiln may not carry its shelves and
 * posts. */
bool ks_draft_build(const ks_job *job, ks_draft *draft, int slot, const ks_stack *stack,
                    ks_arena *arena);

/* What pinned ware asks of the levels of a load. */
int ks_pins_needs(const ks_job *job, int slot, ks_level_need **needs, ks_arena *arena);

#endif
