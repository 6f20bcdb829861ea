#include "app/measured/measured_cells.h"

#include "base/days/civil.h"
#include "base/number.h"
#include "base/text.h"
#include "base/unit_names.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

/* "1,186" or "12,345,678": nothing but groups of three behind the first. */
static bool is_grouped(const char *text, size_t length)
{
    size_t first = strspn(text, "0123456789");
    if (first == 0 || first > 3 || first == length)
        return false;
    for (size_t at = first; at < length; at += 4)
        if (text[at] != ',' || strspn(text + at + 1, "0123456789") < 3 || at + 4 > length)
            return false;
    return true;
}

/* The mark that stands for nothing but thousands, NUL = none. */
static char mark_of_thousands(const char *text, size_t length, bool commas_part_cells)
{
    const char *comma = memchr(text, ',', length), *point = memchr(text, '.', length);
    if (comma && point)
        return comma < point ? ',' : '.';
    return comma && commas_part_cells && is_grouped(text, length) ? ',' : '\0';
}

bool ks_measured_number(const char *text, bool commas_part_cells, double *number, const char **rest)
{
    char plain[48];
    size_t sign = strspn(text, "+-"), length = sign + strspn(text + sign, "0123456789.,"), n = 0;
    if (length == sign || length >= sizeof plain || sign > 1)
        return false;
    char thousands = mark_of_thousands(text + sign, length - sign, commas_part_cells);
    for (size_t i = 0; i < length; i++)
        if (text[i] != thousands)
            plain[n++] = text[i] == ',' ? '.' : text[i];
    plain[n] = '\0';
    *rest = ks_blanks_skip(text + length);
    size_t read = ks_number_read(plain, number);
    return read > 0 && (plain[read] == '\0' || (plain[read] == '.' && read + 1 == n));
}

/* Figures, so many at most; -1 = there are none, or more. */
static int take_figures(const char **at, int most)
{
    int value = 0, n = 0;
    for (; isdigit((unsigned char)**at) && n <= most; n++, (*at)++)
        value = 10 * value + (**at - '0');
    return n > 0 && n <= most ? value : -1;
}

static bool take_sixtieth(const char **at, int *value)
{
    if (**at != ':' || !isdigit((unsigned char)(*at)[1]) || !isdigit((unsigned char)(*at)[2]))
        return false;
    ++*at;
    *value = take_figures(at, 2);
    return *value >= 0 && *value < 60;
}

/* "AM", "p.m.": hours to be added to what the clock shows; what is no such word is left. */
static double take_half_day(const char **at, int hour)
{
    const char *word = ks_blanks_skip(*at);
    char first = (char)tolower((unsigned char)*word);
    if ((first != 'a' && first != 'p') || hour < 1 || hour > 12)
        return 0;
    word++;
    word += *word == '.';
    if (tolower((unsigned char)*word) != 'm')
        return 0;
    word++;
    word += *word == '.';
    *at = word;
    return first == 'p' ? (hour == 12 ? 0 : 12) : hour == 12 ? -12 : 0;
}

static bool take_clock(const char **at, double *seconds)
{
    int hour = take_figures(at, 6), minute, second = 0;
    if (hour < 0 || !take_sixtieth(at, &minute))
        return false;
    if (**at == ':' && !take_sixtieth(at, &second))
        return false;
    *seconds = hour * 3600.0 + minute * 60.0 + second;
    if ((**at == '.' || **at == ',') && isdigit((unsigned char)(*at)[1])) {
        double part = 1;
        for (++*at; isdigit((unsigned char)**at); ++*at)
            *seconds += (part /= 10) * (**at - '0');
    }
    *seconds += 3600 * take_half_day(at, hour);
    return true;
}

static double day_s(int year, int month, int day)
{
    if (month < 1 || month > 12 || day < 1 || day > 31)
        return NAN;
    int64_t at_s = ks_day_of(year < 100 ? 2000 + year : year, month, day) * 86400;
    return ks_civil_of(at_s).day == day ? (double)at_s : NAN;
}

/* "Nov", "November": 1 to 12; 0 = no month. */
static int take_month(const char **at)
{
    static const char *const months[] = {"jan", "feb", "mar", "apr", "may", "jun",
                                         "jul", "aug", "sep", "oct", "nov", "dec"};
    for (int m = 0; m < 12; m++) {
        int same = 0;
        while (same < 3 && tolower((unsigned char)(*at)[same]) == months[m][same])
            same++;
        if (same < 3)
            continue;
        while (isalpha((unsigned char)**at))
            ++*at;
        return m + 1;
    }
    return 0;
}

static bool take_date(const char **at, ks_moment *out)
{
    int first = take_figures(at, 4);
    char mark = **at;
    if (first < 0 || !mark || !strchr("-/. ", mark))
        return false;
    ++*at;
    int named = take_month(at), second = named ? named : take_figures(at, 2);
    if (second < 0 || **at != mark)
        return false;
    ++*at;
    int third = take_figures(at, 4);
    if (third < 0)
        return false;
    if (first > 31)
        out->day_first = out->month_first = day_s(first, second, third);
    else
        out->day_first = day_s(third, second, first);
    if (first <= 31)
        out->month_first = named || mark == '.' ? out->day_first : day_s(third, first, second);
    return isfinite(out->day_first) || isfinite(out->month_first);
}

/* "Z", "UTC", "+01:00" */
static const char *skip_zone(const char *at)
{
    at = ks_blanks_skip(at);
    if (*at == 'Z' || *at == 'z')
        return at + 1;
    if (strncmp(at, "UTC", 3) == 0 || strncmp(at, "GMT", 3) == 0)
        at += 3;
    return *at == '+' || *at == '-' ? at + 1 + strspn(at + 1, "0123456789:") : at;
}

static bool take_dated(const char *text, ks_moment *out)
{
    const char *at = text;
    double seconds = 0;
    if (!take_date(&at, out))
        return false;
    const char *behind = ks_blanks_skip(at);
    behind += *behind == 'T' || *behind == ',' ? 1 : 0;
    behind = ks_blanks_skip(behind);
    if (*behind && !take_clock(&behind, &seconds))
        return false;
    out->kind = KS_MOMENT_DATE;
    out->month_first += seconds;
    out->day_first += seconds;
    return !*ks_blanks_skip(skip_zone(behind));
}

ks_moment ks_measured_moment(const char *text, bool commas_part_cells)
{
    ks_moment out = {0};
    double seconds;
    const char *at = text, *rest;
    if (take_dated(text, &out))
        return out;
    if (take_clock(&at, &seconds) && !*ks_blanks_skip(skip_zone(at)))
        return (ks_moment){KS_MOMENT_CLOCK, seconds, seconds};
    if (ks_measured_number(text, commas_part_cells, &seconds, &rest) && !*rest)
        return (ks_moment){KS_MOMENT_NUMBER, seconds, seconds};
    return (ks_moment){KS_MOMENT_NONE, NAN, NAN};
}
