/* moved.h: a plan in which one piece stands elsewhere, with all that stands on it. */
#ifndef KILNSTOW_WEB_MOVED_H
#define KILNSTOW_WEB_MOVED_H

#include "kilnstow/plan.h"

/* Moves the piece `item` of `level` to `to_level` and `stand`, on the plan's grid; whatever it
 * stood on it leaves. The load's levels, pieces and steps are written anew in `arena`. *moved are
 * the pieces where they now stand, itself first; returns how many. */
int ks_moved(ks_load *load, const ks_order *order, int level, int item, int to_level,
             ks_stand stand, ks_arena *arena, const ks_placed *const **moved);

#endif
