/* answer.h: turns a draft into the plan that is handed out. */
#ifndef KILNSTOW_PLACE_ANSWER_H
#define KILNSTOW_PLACE_ANSWER_H

#include "place/draft.h"

/* Loads with their posts, levels, pieces and steps. What is left out is not told yet. */
void ks_answer_loads(const ks_job *job, const ks_draft *draft, ks_plan *plan, ks_arena *arena);

/* The order in which a load can be built and filled. */
void ks_answer_steps(const ks_job *job, ks_load *load, ks_arena *arena);

#endif
