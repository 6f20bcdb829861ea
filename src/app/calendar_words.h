/* calendar_words.h: what a calendar tells, in sentences for terminals and sheets. */
#ifndef KILNSTOW_APP_CALENDAR_WORDS_H
#define KILNSTOW_APP_CALENDAR_WORDS_H

#include "app/calendar_outcome.h"

/* "Thu 12-03 08:00", with the offset where the clock shows that twice; "-" for no time. */
const char *ks_calendar_time_words(const ks_calendar_outcome *outcome, int64_t utc_s,
                                   ks_arena *arena);

/* "load 2", with its plan where there are several. */
const char *ks_calendar_load_words(const ks_calendar_outcome *outcome, int at, ks_arena *arena);

const char *ks_calendar_clash_words(const ks_calendar_outcome *outcome, int clash, ks_arena *arena);
const char *ks_calendar_due_words(const ks_calendar_outcome *outcome, int due, ks_arena *arena);

#endif
