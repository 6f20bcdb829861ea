/* filling.h: ware counted as "fill": as much as goes in once the counted ware has its place. */
#ifndef KILNSTOW_PLACE_FINISH_FILLING_H
#define KILNSTOW_PLACE_FINISH_FILLING_H

#include "place/job/fill_job.h"
#include "place/search/rounds.h"

/* First it goes into the room left beside counted ware that stays where it is. Then the loads are
 * searched anew with all ware on offer, and of the plans found only those are taken that hold no
 * less of what is counted. */
typedef struct {
    ks_fill_job fill;
    ks_run run;
    int rounds;
} ks_filling;

/* From a plan of the counted ware. `rounds` of searching may follow. */
void ks_filling_begin(ks_filling *filling, const ks_job *job, const ks_draft *counted, int rounds,
                      ks_arena *arena);

/* Whether more may be found, and a step of looking for it. */
bool ks_filling_goes_on(const ks_filling *filling);
void ks_filling_step(ks_filling *filling);

/* The best so far, as a draft of the whole job. */
ks_draft ks_filling_best(const ks_filling *filling, const ks_job *job, ks_arena *arena);

/* Takes out of a draft of the whole job what only fills. */
void ks_filling_take_out(const ks_job *job, ks_draft *draft);

#endif
