/* job_child.h: what the process of a job does, and the messages by which it hands up its plans. */
#ifndef KILNSTOW_WEB_JOB_CHILD_H
#define KILNSTOW_WEB_JOB_CHILD_H

#include "app/place_run.h"

enum { KS_JOB_SECONDS = 3600 }; /* of the processor, at most */

typedef struct {
    const char *folder, *trial; /* real paths; trial: NULL = there is none */
    const char *language;       /* of what people read in the answer; NULL = English */
    ks_place_job job;           /* as asked for */
} ks_job_work;

enum {
    KS_JOB_PROGRESS = 1, /* ks_job_pace */
    KS_JOB_PLAN,         /* the plan's text as in a file: it is checked, and better than the last */
    KS_JOB_ENDED,        /* the exit status, an int, then place's own answer; nothing follows */
};

typedef struct {
    ks_progress progress;
    double seconds; /* since it began */
} ks_job_pace;

/* The work of a child (payload: a ks_job_work). */
void ks_job_in_child(int up, void *payload);

#endif
