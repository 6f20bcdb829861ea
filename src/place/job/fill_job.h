/* fill_job.h: the question put again once the counted ware has its loads: what only fills is on
 * offer too. */
#ifndef KILNSTOW_PLACE_JOB_FILL_JOB_H
#define KILNSTOW_PLACE_JOB_FILL_JOB_H

#include "place/job/job.h"

typedef struct {
    ks_job job;
    ks_order order; /* with a number of copies no kiln could hold; its slots are those below */
    int *slot;      /* of each slot of the job: which it is of the whole job's */
    bool alone;     /* nothing is counted */
} ks_fill_job;

/* Whether some ware is to fill. */
bool ks_job_fills(const ks_job *job);

/* Of the slots that are fired, so that ware that fills makes no firing of its own; of all where
 * nothing is counted. */
void ks_fill_job_init(ks_fill_job *fill, const ks_job *job, const bool *fired, ks_arena *arena);

#endif
