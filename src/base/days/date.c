#include "base/days/date.h"

#include "base/days/civil.h"

#include <assert.h>
#include <string.h>

enum { DAY_S = 86400, DATE_LENGTH = 10, MOMENT_LENGTH = 16 };

/* `digits` digits at text as a number; -1 if they are not there. */
static int number_at(const char *text, int digits)
{
    int value = 0;
    for (int i = 0; i < digits; i++) {
        if (text[i] < '0' || text[i] > '9')
            return -1;
        value = 10 * value + (text[i] - '0');
    }
    return value;
}

const char *ks_date_parse(const char *text, int *day)
{
    static const char shape[] = "a date is written year-month-day, such as \"2026-11-28\"";
    if (strlen(text) != 10 || text[4] != '-' || text[7] != '-')
        return shape;
    int year = number_at(text, 4), month = number_at(text + 5, 2), date = number_at(text + 8, 2);
    if (year < 0 || month < 0 || date < 0)
        return shape;
    static const char none[] = "name a day that the calendar has";
    if (year < 1 || month < 1 || month > 12)
        return none;
    int64_t counted = ks_day_of(year, month, date);
    ks_civil back = ks_civil_of(counted * DAY_S);
    if (back.month != month || back.day != date)
        return none;
    *day = (int)counted;
    return NULL;
}

bool ks_moment_parse(const char *text, int64_t *local_min)
{
    char date[DATE_LENGTH + 1];
    int day;
    if (strlen(text) != MOMENT_LENGTH || text[DATE_LENGTH] != ' ' || text[DATE_LENGTH + 3] != ':')
        return false;
    memcpy(date, text, DATE_LENGTH);
    date[DATE_LENGTH] = '\0';
    int hour = number_at(text + DATE_LENGTH + 1, 2), minute = number_at(text + DATE_LENGTH + 4, 2);
    if (ks_date_parse(date, &day) || hour < 0 || hour > 23 || minute < 0 || minute > 59)
        return false;
    *local_min = ((int64_t)day * 24 + hour) * 60 + minute;
    return true;
}

const char *ks_date_print(int day, ks_arena *arena)
{
    ks_civil at = ks_civil_of((int64_t)day * DAY_S);
    assert(at.year >= 1 && at.year <= 9999);
    return ks_arena_print(arena, "%04d-%02d-%02d", at.year, at.month, at.day);
}
