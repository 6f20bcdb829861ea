/* tidy_effort.h: what tidying a plan may cost, counted by the corners of what is tried. */
#ifndef KILNSTOW_PLACE_FINISH_TIDY_EFFORT_H
#define KILNSTOW_PLACE_FINISH_TIDY_EFFORT_H

#include "place/draft/draft.h"

/* Of all parts on the level, pins included. */
int64_t ks_level_corners(const ks_job *job, const ks_draft_level *level);

#endif
