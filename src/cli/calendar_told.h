/* calendar_told.h: the studio's calendar in words on standard output. */
#ifndef KILNSTOW_CLI_CALENDAR_TOLD_H
#define KILNSTOW_CLI_CALENDAR_TOLD_H

#include "app/calendar_run.h"
#include "cli/frame/speech.h"

void ks_cli_calendar_told(const ks_calendar_outcome *outcome, ks_arena *arena);

#endif
