/* alone.h: one load of a draft, judged as if there were no other. */
#ifndef KILNSTOW_PLACE_ALONE_H
#define KILNSTOW_PLACE_ALONE_H

#include "place/draft.h"

/* What the checker finds wrong with the loads of a draft that has one, whatever of the order is not
 * in it; and how many pieces could be put in, cone packs counted. */
int ks_alone_faults(const ks_job *job, const ks_draft *draft, int *pieces);

#endif
