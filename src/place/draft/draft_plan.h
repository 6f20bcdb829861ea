/* draft_plan.h: turns a draft into the plan that is handed out. */
#ifndef KILNSTOW_PLACE_DRAFT_DRAFT_PLAN_H
#define KILNSTOW_PLACE_DRAFT_DRAFT_PLAN_H

#include "place/draft/draft.h"

/* Loads with their posts, levels, pieces and steps. Takes out of the draft what cannot be handed
 * out: broken sets, empty levels on top. */
void ks_answer_loads(const ks_job *job, ks_draft *draft, ks_plan *plan, ks_arena *arena);

/* The order in which a load can be built and filled. */
void ks_answer_steps(const ks_job *job, const ks_draft_load *draft, ks_load *load, ks_arena *arena);

#endif
