#include "base/days/civil.h"

enum { DAY_S = 86400 };

static int64_t floor_div(int64_t a, int64_t b)
{
    return a / b - (a % b < 0);
}

/* Counted in eras of 400 years, counted each from a March so that the leap day is the last of its
 * year. */
int64_t ks_day_of(int year, int month, int day)
{
    int64_t y = year - (month <= 2);
    int64_t era = floor_div(y, 400), in_era = y - era * 400;
    int64_t in_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
    return era * 146097 + in_era * 365 + in_era / 4 - in_era / 100 + in_year - 719468;
}

ks_civil ks_civil_of(int64_t local_s)
{
    int64_t day = floor_div(local_s, DAY_S), shifted = day + 719468;
    int64_t era = floor_div(shifted, 146097), in_era = shifted - era * 146097;
    int64_t year = (in_era - in_era / 1460 + in_era / 36524 - in_era / 146096) / 365;
    int64_t in_year = in_era - (365 * year + year / 4 - year / 100),
            march = (5 * in_year + 2) / 153;
    int month = (int)(march < 10 ? march + 3 : march - 9);
    return (ks_civil){.year = (int)(year + era * 400 + (month <= 2)),
                      .month = month,
                      .day = (int)(in_year - (153 * march + 2) / 5 + 1),
                      .weekday = (int)(((day + 3) % 7 + 7) % 7),
                      .minute = (int)((local_s - day * DAY_S) / 60)};
}

const char *ks_civil_print(int64_t local_s, ks_arena *arena)
{
    ks_civil at = ks_civil_of(local_s);
    return ks_arena_print(arena, "%04d-%02d-%02d %02d:%02d", at.year, at.month, at.day,
                          at.minute / 60, at.minute % 60);
}
