/* stands_alone.h: whether a piece goes into a kind of load when nothing else is in it. */
#ifndef KILNSTOW_PLACE_STACK_STANDS_ALONE_H
#define KILNSTOW_PLACE_STACK_STANDS_ALONE_H

#include "place/job/job.h"

/* Whether the item surely goes into such a load by itself: it was stood on a shelf over the lowest
 * floor posts, under the lid. False only means that this one place will not do. */
bool ks_stands_alone(const ks_job *job, int kind, int item);

#endif
