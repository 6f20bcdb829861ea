/* zone.h: clock time at the studio, by a rule the user gives, never by the process's own zone. */
#ifndef KILNSTOW_CLOCK_ZONE_H
#define KILNSTOW_CLOCK_ZONE_H

#include "kilnstow/arena.h"

#include <stdbool.h>
#include <stdint.h>

/* When the clock changes: "M3.5.0/2" the last Sunday of March at 2, "J60" the 60th day not counting
 * 29 February, "59" the day 59 days after 1 January. */
typedef struct {
    char kind; /* 'M', 'J' or 'n' */
    int month, week, weekday, day;
    int at_s; /* seconds of the local day */
} ks_clock_change;

/* The TZ rule of POSIX.1-2017, 8.3: "CET-1CEST,M3.5.0,M10.5.0/3". Offsets are east of Greenwich. */
typedef struct {
    int standard_s, summer_s;
    bool has_summer;
    ks_clock_change to_summer, to_standard;
} ks_zone_rule;

/* NULL and *out, or what is wrong with it, in words. "" is UTC. */
const char *ks_zone_rule_parse(const char *text, ks_zone_rule *out);

/* Seconds since 1970-01-01 00:00 on the studio's clock, from the same count in UTC. */
int64_t ks_local_of_utc(const ks_zone_rule *zone, int64_t utc_s);

/* The other way. A local time that the clock skips counts as if it had not been put forward; of one
 * that comes twice the earlier is meant. */
int64_t ks_utc_of_local(const ks_zone_rule *zone, int64_t local_s);

/* Local time as "2026-10-25 02:30"; where that time comes twice, with its offset: "2026-10-25
 * 02:30+01:00". */
const char *ks_zone_print(const ks_zone_rule *zone, int64_t utc_s, ks_arena *arena);

#endif
