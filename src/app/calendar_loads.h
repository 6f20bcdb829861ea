/* calendar_loads.h: steps towards the studio's calendar. */
#ifndef KILNSTOW_APP_CALENDAR_LOADS_H
#define KILNSTOW_APP_CALENDAR_LOADS_H

#include "app/calendar_outcome.h"

/* Whether the job's own times can be read; before anything is simulated. */
ks_status ks_calendar_job_check(const ks_calendar_job *job, ks_error *err);

/* What a start of the load has to suit, at any minute of the day: who is at the studio, and the
 * other loads of its kiln whose times in `now`, one for each load, are known. */
ks_start_wanted ks_calendar_wanted(const ks_calendar_outcome *out, int at, const ks_occupation *now,
                                   ks_arena *arena);

/* The times of each load as it is on the clock. */
ks_occupation *ks_calendar_now(const ks_calendar_outcome *out, ks_arena *arena);

/* Simulates the loads that are asked for, and puts each on the clock: those with a date as told,
 * the others where their kiln is free. */
ks_status ks_calendar_fill(const ks_calendar_job *job, int n_plans, const ks_calendar_plan *plans,
                           ks_arena *arena, ks_calendar_outcome *out, ks_error *err);

/* Which loads clash, and when their kilns would be free: taking every such advice at once leaves no
 * clash. */
void ks_calendar_clashes_find(ks_calendar_outcome *out, ks_arena *arena);

/* Dated ware, in time and late. */
void ks_calendar_dues_find(int n_plans, const ks_calendar_plan *plans, ks_calendar_outcome *out,
                           ks_arena *arena);

#endif
