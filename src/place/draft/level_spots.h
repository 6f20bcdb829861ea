/* level_spots.h: what stands on a plan's level, as the job's own items. */
#ifndef KILNSTOW_PLACE_DRAFT_LEVEL_SPOTS_H
#define KILNSTOW_PLACE_DRAFT_LEVEL_SPOTS_H

#include "place/job/job.h"

/* The item of a placed piece, whatever it stands on; -1 = the order has none of that id. */
int ks_placed_item(const ks_job *job, const ks_placed *placed);

/* Into `out`, which has room for all of its pieces: a spot for each piece that stands on the shelf,
 * as the tower that it carries, or of one the job does not know, as much of it from below as it
 * does. How many; `lost` (may be NULL) gets how many pieces are in none of them. */
int ks_level_spots(const ks_job *job, const ks_level *level, ks_shelf_spot *out, int *lost);

#endif
