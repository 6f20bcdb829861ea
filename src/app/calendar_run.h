/* calendar_run.h: the loads of one or several plans on the studio's calendar: when each is in its
 * kiln, which clash, what is in time. */
#ifndef KILNSTOW_APP_CALENDAR_RUN_H
#define KILNSTOW_APP_CALENDAR_RUN_H

#include "app/calendar_outcome.h"
#include "kilnstow/draw.h"

/* KS_BAD_INPUT when the plans tell different zones; KS_BAD_USAGE for a load they have not. */
ks_status ks_calendar_of(const ks_calendar_job *job, int n_plans, const ks_calendar_plan *plans,
                         ks_arena *arena, ks_calendar_outcome *out, ks_error *err);

/* The outcome as what the path's ending asks for; an .ics file goes on from the one there. */
ks_status ks_calendar_drawn(const char *out_path, const ks_calendar_outcome *outcome,
                            const ks_draw_options *options, ks_arena *arena, ks_drawing *out,
                            ks_error *err);

/* Reads the plans, and writes what is asked for. */
ks_status ks_calendar_run(const ks_calendar_job *job, ks_arena *arena, ks_calendar_outcome *out,
                          ks_error *err);

#endif
