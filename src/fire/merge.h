/* merge.h: a schedule made to fit a controller that holds few segments. */
#ifndef KILNSTOW_FIRE_MERGE_H
#define KILNSTOW_FIRE_MERGE_H

#include "kilnstow/fire.h"

/* Merges neighbours, those first that cost the least time, each pair at its slower rate and never
 * over a hold, until at most `most` are left or none can be. Fills worked->merged. */
void ks_schedule_merge(ks_worked_schedule *worked, int most, ks_arena *arena);

#endif
