/* answer_room.h: what could still go into the loads of a plan, as the JSON of `list room`. */
#ifndef KILNSTOW_APP_ANSWERS_ANSWER_ROOM_H
#define KILNSTOW_APP_ANSWERS_ANSWER_ROOM_H

#include "kilnstow/place.h"

/* One load for each of the plan's. */
const char *ks_answer_room(const ks_plan *plan, const ks_load_room *rooms, ks_arena *arena);

/* How many copies of a piece wait, by the plan. */
int ks_copies_waiting(const ks_plan *plan, int piece);

#endif
