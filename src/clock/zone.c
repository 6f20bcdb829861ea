#include "clock/zone.h"

#include "base/days/civil.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

enum { DAY_S = 86400, HOUR_S = 3600, MINUTE_S = 60 };

static bool leap(int year)
{
    return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

/* The day of a change in a year. POSIX counts weekdays from Sunday = 0. */
static int64_t change_day(const ks_clock_change *change, int year)
{
    if (change->kind == 'n')
        return ks_day_of(year, 1, 1) + change->day;
    if (change->kind == 'J')
        return ks_day_of(year, 1, 1) + change->day - 1 + (leap(year) && change->day >= 60);
    int64_t first = ks_day_of(year, change->month, 1);
    int weekday = (int)(((first + 4) % 7 + 7) % 7);
    int64_t day = first + (change->weekday - weekday + 7) % 7 + 7 * (change->week - 1);
    int64_t next =
        change->month == 12 ? ks_day_of(year + 1, 1, 1) : ks_day_of(year, change->month + 1, 1);
    return day >= next ? day - 7 : day;
}

static bool summer_at(const ks_zone_rule *zone, int64_t utc_s)
{
    if (!zone->has_summer)
        return false;
    int year = ks_civil_of(utc_s + zone->standard_s).year;
    int64_t from =
        change_day(&zone->to_summer, year) * DAY_S + zone->to_summer.at_s - zone->standard_s;
    int64_t to =
        change_day(&zone->to_standard, year) * DAY_S + zone->to_standard.at_s - zone->summer_s;
    return from < to ? utc_s >= from && utc_s < to : utc_s >= from || utc_s < to;
}

int64_t ks_local_of_utc(const ks_zone_rule *zone, int64_t utc_s)
{
    return utc_s + (summer_at(zone, utc_s) ? zone->summer_s : zone->standard_s);
}

int64_t ks_utc_of_local(const ks_zone_rule *zone, int64_t local_s)
{
    int64_t in_summer = local_s - zone->summer_s;
    if (zone->has_summer && summer_at(zone, in_summer))
        return in_summer;
    return local_s - zone->standard_s;
}

/* Reads up to `digits` digits; -1 when there is none. */
static int take_number(const char **at, int digits)
{
    int number = -1;
    for (; digits > 0 && isdigit((unsigned char)**at); digits--)
        number = (number < 0 ? 0 : number) * 10 + *(*at)++ - '0';
    return number;
}

/* [+-]hh[:mm[:ss]] in seconds; false when it is none, or beyond a week (POSIX allows 24, common
 * rule files 167 hours). */
static bool take_time(const char **at, int *seconds)
{
    int sign = **at == '-' ? -1 : 1;
    if (**at == '-' || **at == '+')
        (*at)++;
    int part[3] = {take_number(at, 3), 0, 0};
    for (int i = 1; i < 3 && **at == ':'; i++) {
        (*at)++;
        part[i] = take_number(at, 2);
    }
    *seconds = sign * (part[0] * HOUR_S + part[1] * 60 + part[2]);
    return part[0] >= 0 && part[0] <= 167 && part[1] >= 0 && part[1] < 60 && part[2] >= 0 &&
           part[2] < 60;
}

/* A zone's name: three or more letters, or anything in <>. */
static bool skip_name(const char **at)
{
    const char *from = *at;
    if (*from == '<') {
        const char *end = strchr(from, '>');
        *at = end ? end + 1 : from;
        return end && end - from > 3;
    }
    while (isalpha((unsigned char)**at))
        (*at)++;
    return *at - from >= 3;
}

static bool take_change(const char **at, ks_clock_change *out)
{
    if (*(*at)++ != ',')
        return false;
    *out = (ks_clock_change){.kind = 'n', .at_s = 2 * HOUR_S};
    if (**at == 'M' || **at == 'J')
        out->kind = *(*at)++;
    if (out->kind == 'M') {
        out->month = take_number(at, 2);
        out->week = *(*at) == '.' ? ((*at)++, take_number(at, 1)) : -1;
        out->weekday = *(*at) == '.' ? ((*at)++, take_number(at, 1)) : -1;
        if (out->month < 1 || out->month > 12 || out->week < 1 || out->week > 5 ||
            out->weekday < 0 || out->weekday > 6)
            return false;
    } else {
        out->day = take_number(at, 3);
        if (out->day < (out->kind == 'J') || out->day > 365)
            return false;
    }
    if (**at != '/')
        return true;
    (*at)++;
    return take_time(at, &out->at_s);
}

static const char *summer_parse(const char *at, ks_zone_rule *out)
{
    if (!skip_name(&at))
        return "after the offset it needs the summer time's name, or nothing";
    out->has_summer = true;
    out->summer_s = out->standard_s + HOUR_S;
    if (*at != ',' && *at) {
        if (!take_time(&at, &out->summer_s))
            return "the summer time's offset is no time";
        out->summer_s = -out->summer_s;
    }
    if (!take_change(&at, &out->to_summer) || !take_change(&at, &out->to_standard) || *at)
        return "it needs the two days when the clock changes, as in CET-1CEST,M3.5.0,M10.5.0/3";
    return NULL;
}

const char *ks_zone_rule_parse(const char *text, ks_zone_rule *out)
{
    *out = (ks_zone_rule){0};
    const char *at = text;
    if (!*at)
        return NULL;
    if (!skip_name(&at))
        return "it starts with the zone's name of three letters or more, as in CET-1";
    if (!take_time(&at, &out->standard_s))
        return "after the name it needs the hours west of Greenwich, as in CET-1 or EST5";
    out->standard_s = -out->standard_s;
    return *at ? summer_parse(at, out) : NULL;
}

/* Whether another moment has the same local time: the hour that the clock repeats. */
static bool comes_twice(const ks_zone_rule *zone, int64_t local_s)
{
    int64_t summer = local_s - zone->summer_s, standard = local_s - zone->standard_s;
    return zone->has_summer && summer != standard && ks_local_of_utc(zone, summer) == local_s &&
           ks_local_of_utc(zone, standard) == local_s;
}

const char *ks_zone_print(const ks_zone_rule *zone, int64_t utc_s, ks_arena *arena)
{
    int64_t local_s = ks_local_of_utc(zone, utc_s);
    const char *text = ks_civil_print(local_s, arena);
    if (!comes_twice(zone, local_s))
        return text;
    int offset_min = (int)((local_s - utc_s) / MINUTE_S), hour = 60;
    return ks_arena_print(arena, "%s%c%02d:%02d", text, offset_min < 0 ? '-' : '+',
                          abs(offset_min) / hour, abs(offset_min) % hour);
}
