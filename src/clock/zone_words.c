#include "clock/zone_words.h"

#include "base/days/civil.h"
#include "base/language.h"

#include <stdlib.h>

enum { DAY_S = 86400, HOUR_S = 3600, MINUTE_S = 60, WEEKDAYS = 7, MONTHS = 12, WEEKS = 5 };

static const char *const weekdays[WEEKDAYS] = {
    KS_WORDS("Sunday"),   KS_WORDS("Monday"), KS_WORDS("Tuesday"), KS_WORDS("Wednesday"),
    KS_WORDS("Thursday"), KS_WORDS("Friday"), KS_WORDS("Saturday")};

static const char *const months[MONTHS] = {
    KS_WORDS("January"),   KS_WORDS("February"), KS_WORDS("March"),    KS_WORDS("April"),
    KS_WORDS("May"),       KS_WORDS("June"),     KS_WORDS("July"),     KS_WORDS("August"),
    KS_WORDS("September"), KS_WORDS("October"),  KS_WORDS("November"), KS_WORDS("December")};

/* Of a weekday in its month; the fifth is the last, whatever the month's length. */
static const char *const weeks[WEEKS] = {KS_WORDS("the first"), KS_WORDS("the second"),
                                         KS_WORDS("the third"), KS_WORDS("the fourth"),
                                         KS_WORDS("the last")};

/* "+1", "-3:30". */
static const char *offset_words(int offset_s, ks_arena *arena)
{
    int minutes = abs(offset_s) / MINUTE_S, hour = HOUR_S / MINUTE_S;
    char sign = offset_s < 0 ? '-' : '+';
    return minutes % hour == 0
               ? ks_arena_print(arena, "%c%d", sign, minutes / hour)
               : ks_arena_print(arena, "%c%d:%02d", sign, minutes / hour, minutes % hour);
}

/* Days told by number are those of a year without 29 February. */
static const char *day_words(const ks_clock_change *change, ks_arena *arena)
{
    enum { PLAIN_YEAR = 2023 };
    if (change->kind == 'M')
        return ks_arena_print(arena, "%s %s of %s", ks_tr(weeks[change->week - 1]),
                              ks_tr(weekdays[change->weekday]), ks_tr(months[change->month - 1]));
    int day = change->kind == 'J' ? change->day - 1 : change->day;
    ks_civil civil = ks_civil_of((ks_day_of(PLAIN_YEAR, 1, 1) + day) * (int64_t)DAY_S);
    return ks_arena_print(arena, "%d %s", civil.day, ks_tr(months[civil.month - 1]));
}

static const char *change_words(const ks_clock_change *change, ks_arena *arena)
{
    const char *day = day_words(change, arena);
    int minutes = abs(change->at_s) / MINUTE_S, hour = HOUR_S / MINUTE_S;
    if (change->at_s < 0)
        return ks_arena_print(arena, "%d:%02d hours before %s begins", minutes / hour,
                              minutes % hour, day);
    if (change->at_s > DAY_S)
        return ks_arena_print(arena, "%d:%02d hours after %s began", minutes / hour, minutes % hour,
                              day);
    return ks_arena_print(arena, "%s at %d:%02d", day, minutes / hour, minutes % hour);
}

const char *ks_zone_words(const ks_zone_rule *zone, ks_arena *arena)
{
    const char *standard = offset_words(zone->standard_s, arena);
    if (!zone->has_summer)
        return ks_arena_print(arena, "UTC%s all the year", standard);
    return ks_arena_print(arena, "UTC%s, in summer UTC%s from %s to %s", standard,
                          offset_words(zone->summer_s, arena),
                          change_words(&zone->to_summer, arena),
                          change_words(&zone->to_standard, arena));
}
