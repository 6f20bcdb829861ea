/* answer.h: the one JSON object with which every command answers another program. */
#ifndef KILNSTOW_APP_ANSWER_H
#define KILNSTOW_APP_ANSWER_H

#include "app/calendar_run.h"
#include "app/cost_run.h"
#include "app/draw_run.h"
#include "app/fire_run.h"
#include "app/fitting/fit_run.h"
#include "app/place_run.h"

/* Each is JSON text ending in a newline, in `arena`: format, version, command, status, warnings and
 * result, as docs/commands.md lists them. */
const char *ks_answer_failure(const char *command, const ks_error *err, ks_arena *arena);
const char *ks_answer_place(const ks_place_outcome *outcome, ks_arena *arena);
const char *ks_answer_check(const ks_check_report *report, ks_arena *arena);
const char *ks_answer_draw(const ks_draw_outcome *outcome, ks_arena *arena);
const char *ks_answer_fire(const ks_fire_outcome *outcome, ks_arena *arena);
const char *ks_answer_cost(const ks_cost_outcome *outcome, ks_arena *arena);
const char *ks_answer_calendar(const ks_calendar_outcome *outcome, ks_arena *arena);
const char *ks_answer_fit(const ks_fit_outcome *outcome, ks_arena *arena);

#endif
