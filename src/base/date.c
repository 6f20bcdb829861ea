#include "base/date.h"

#include <assert.h>
#include <stdbool.h>
#include <string.h>

enum { EPOCH = 719162 }; /* days from 0001-01-01 to 1970-01-01 */

static bool is_leap(int year)
{
    return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

static int month_days(int year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return days[month - 1] + (month == 2 && is_leap(year));
}

/* From 0001-01-01 to the year's first day. */
static int days_before(int year)
{
    int past = year - 1;
    return 365 * past + past / 4 - past / 100 + past / 400;
}

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
    if (year < 1 || month < 1 || month > 12 || date < 1 || date > month_days(year, month))
        return "name a day that the calendar has";
    int past = days_before(year) - EPOCH + date - 1;
    for (int before = 1; before < month; before++)
        past += month_days(year, before);
    *day = past;
    return NULL;
}

const char *ks_date_print(int day, ks_arena *arena)
{
    int left = day + EPOCH;
    assert(day >= -EPOCH && left < days_before(10000));
    int year = left / 366 + 1, month = 1;
    while (days_before(year + 1) <= left)
        year++;
    left -= days_before(year);
    for (; left >= month_days(year, month); month++)
        left -= month_days(year, month);
    return ks_arena_print(arena, "%04d-%02d-%02d", year, month, left + 1);
}
