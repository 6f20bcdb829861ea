/* earlier_stack.h: the furniture of an earlier load read back into a stack. */
#ifndef KILNSTOW_PLACE_SEARCH_EARLIER_STACK_H
#define KILNSTOW_PLACE_SEARCH_EARLIER_STACK_H

#include "place/stack/stack.h"

/* The load's levels on these places of posts, in its own order; false when this kiln has no such
 * bay or shelves, or none that stand so. */
bool ks_before_stack(const ks_load *load, const ks_furniture *furniture, int places,
                     ks_stack *stack, ks_arena *arena);

/* The highest level that carries none; -1 in a stack without levels. */
int ks_before_stack_top(const ks_stack *stack);

/* The nth way to put one more level on the top one, shelved alike: the next gap of the stock that
 * leaves `clear` over it. False where there is none, or no height above. */
bool ks_before_stack_higher(const ks_furniture *furniture, const ks_stack *stack, ks_um clear,
                            int nth, ks_stack *higher, ks_arena *arena);

#endif
