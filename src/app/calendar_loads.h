/* calendar_loads.h: steps towards the studio's calendar. */
#ifndef KILNSTOW_APP_CALENDAR_LOADS_H
#define KILNSTOW_APP_CALENDAR_LOADS_H

#include "app/calendar_outcome.h"

/* Whether the job's own times can be read; before anything is simulated. */
ks_status ks_calendar_job_check(const ks_calendar_job *job, ks_arena *arena, ks_error *err);

/* The other loads of its kiln whose times are known, one of each in `now`; how many. */
int ks_calendar_others(const ks_calendar_outcome *out, int at, const ks_occupation *now,
                       const ks_occupation **others);

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
