/* date.h: days of the calendar as numbers. */
#ifndef KILNSTOW_BASE_DATE_H
#define KILNSTOW_BASE_DATE_H

#include "kilnstow/arena.h"

#include <stdbool.h>
#include <stdint.h>

/* "2026-11-28" into days since 1970-01-01, proleptic Gregorian, years 1 to 9999. NULL or the
 * reason. */
const char *ks_date_parse(const char *text, int *day);

/* "2026-11-28 18:00" into minutes since 1970-01-01 00:00 of the same clock; false, and *local_min
 * untouched, where it is no such time. */
bool ks_moment_parse(const char *text, int64_t *local_min);

/* Back; asserts that the day is in those years. */
const char *ks_date_print(int day, ks_arena *arena);

#endif
