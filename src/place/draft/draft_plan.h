/* draft_plan.h: turns a draft into the plan that is handed out. */
#ifndef KILNSTOW_PLACE_DRAFT_DRAFT_PLAN_H
#define KILNSTOW_PLACE_DRAFT_DRAFT_PLAN_H

#include "place/draft/draft.h"

/* Loads with their posts, levels, pieces and steps. Takes out of the draft what cannot be handed
 * out: broken sets, empty levels on top, pieces that could not be put in. */
void ks_answer_loads(const ks_job *job, ks_draft *draft, ks_plan *plan, ks_arena *arena);

/* The order in which a load can be built and filled. */
void ks_answer_steps(const ks_job *job, ks_load *load, ks_arena *arena);

/* A piece of the level that cannot be put in, in whatever order; -1 when all can. */
int ks_level_stuck(const ks_job *job, const ks_load *load, int level);

#endif
