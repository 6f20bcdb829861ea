#include "place/draft/alone.h"

#include "kilnstow/check.h"
#include "place/draft/draft_plan.h"

#include <string.h>

/* `but`: a rule that is not looked at, NULL = all are. */
static int faults_of(const ks_job *job, const ks_draft *draft, const char *but, int *pieces)
{
    ks_arena scratch = {0};
    ks_draft copy = ks_draft_copy(job, draft, &scratch);
    ks_plan plan = {.order = job->order};
    ks_check_report report;
    int faults = 0;
    ks_answer_loads(job, &copy, &plan, &scratch);
    ks_check(&plan, &scratch, &report);
    for (int i = 0; i < report.n_broken; i++)
        faults += strncmp(report.broken[i].where, "load", 4) == 0 &&
                  (!but || strcmp(report.broken[i].rule, but) != 0);
    *pieces = 0;
    for (int l = 0; plan.n_loads > 0 && l < plan.loads[0].n_levels; l++)
        *pieces += plan.loads[0].levels[l].n_pieces;
    ks_arena_finish(&scratch);
    return faults;
}

int ks_alone_faults(const ks_job *job, const ks_draft *draft, int *pieces)
{
    return faults_of(job, draft, NULL, pieces);
}

static int faults_in(const ks_job *job, const ks_draft *draft, int slot, const char *but,
                     int *pieces)
{
    ks_arena scratch = {0};
    ks_draft alone = ks_draft_empty(job, &scratch);
    alone.loads[slot] = draft->loads[slot];
    int faults = faults_of(job, &alone, but, pieces);
    ks_arena_finish(&scratch);
    return faults;
}

int ks_alone_faults_of(const ks_job *job, const ks_draft *draft, int slot, int *pieces)
{
    return faults_in(job, draft, slot, NULL, pieces);
}

int ks_alone_faults_begun(const ks_job *job, const ks_draft *draft, int slot)
{
    int pieces;
    return faults_in(job, draft, slot, "cones", &pieces);
}
