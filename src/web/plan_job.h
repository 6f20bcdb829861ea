/* plan_job.h: /api/jobs: planning that goes on while the page shows each better plan. */
#ifndef KILNSTOW_WEB_PLAN_JOB_H
#define KILNSTOW_WEB_PLAN_JOB_H

#include "web/call.h"

/* So many plan at once, others wait for their turn; so many that have ended are remembered. */
enum { KS_JOBS_MOST = 2, KS_JOBS_KEPT = 16 };

typedef struct ks_plan_job ks_plan_job;

/* The answers to POST /api/jobs, GET and DELETE /api/jobs/N. */
void ks_plan_job_post(ks_call *call);
void ks_plan_job_get(ks_call *call);
void ks_plan_job_delete(ks_call *call);

/* Ends all at once, and frees them. */
void ks_plan_jobs_finish(struct ks_server *server);

#endif
