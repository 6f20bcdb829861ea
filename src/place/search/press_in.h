/* press_in.h: what is too large for the room that is left is put in first, and others give way. */
#ifndef KILNSTOW_PLACE_SEARCH_PRESS_IN_H
#define KILNSTOW_PLACE_SEARCH_PRESS_IN_H

#include "place/search/rounds.h"

/* What waits and may go in, by what a copy of each item counts. */
double ks_draft_waits(const ks_job *job, const ks_draft *draft, const double *counts);

/* The largest of what waits goes in, and what has to make room for it is worked in elsewhere. True
 * when less waits then by what items count; else the draft stays as it was. `time` tells the
 * mendings of a run apart and is counted up by them, to `end` at the most. */
bool ks_run_press_in(ks_run *run, ks_draft *draft, const double *counts, int *time, int end);

#endif
