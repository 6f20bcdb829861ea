/* civil.h: days and times of the Gregorian calendar, whatever the zone. */
#ifndef KILNSTOW_BASE_CIVIL_H
#define KILNSTOW_BASE_CIVIL_H

#include "kilnstow/arena.h"

#include <stdint.h>

typedef struct {
    int year, month, day; /* month 1 to 12 */
    int weekday;          /* 0 = Monday */
    int minute;           /* of the day */
} ks_civil;
ks_civil ks_civil_of(int64_t local_s);

const char *ks_civil_print(int64_t local_s, ks_arena *arena); /* "2026-11-28 18:00" */

/* Days since 1970-01-01 of a date of the Gregorian calendar. */
int64_t ks_day_of(int year, int month, int day);

#endif
