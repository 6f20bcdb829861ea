/* share_job.h: one load of a job as a job of its own, with the ware that it is offered. */
#ifndef KILNSTOW_PLACE_JOB_SHARE_JOB_H
#define KILNSTOW_PLACE_JOB_SHARE_JOB_H

#include "place/job/job.h"

typedef struct {
    ks_job job; /* of one slot and one kind of load; items are those of the whole job */
    ks_order order;
} ks_share_job;

/* `copies` of each item are on offer; of a set all or none. Ware that would be late in this load
 * counts there no more than any other. */
void ks_share_job_init(ks_share_job *share, const ks_job *job, int slot, const int *copies,
                       ks_arena *arena);

#endif
