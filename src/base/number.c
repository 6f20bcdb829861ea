#include "base/number.h"

#include "base/language_print.h"

#include <assert.h>
#include <locale.h>
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The "C" locale is built into the C library: nothing is loaded, and it cannot be missing. */
static locale_t plain_locale(void)
{
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    assert(plain);
    return plain;
}

int ks_print_plain(char *text, size_t room, const char *format, va_list args)
{
    locale_t plain = plain_locale();
    locale_t before = uselocale(plain);
    int length = ks_language_print(text, room, format, args);
    (void)uselocale(before);
    freelocale(plain);
    return length;
}

static int print_it(char *text, size_t room, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static int print_it(char *text, size_t room, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    int length = ks_print_plain(text, room, format, args);
    va_end(args);
    return length;
}

static size_t digits_at(const char *text)
{
    return strspn(text, "0123456789");
}

static size_t exponent_length(const char *text)
{
    if (*text != 'e' && *text != 'E')
        return 0;
    size_t sign = text[1] == '-' || text[1] == '+';
    size_t digits = digits_at(text + 1 + sign);
    return digits > 0 ? 1 + sign + digits : 0;
}

static size_t number_length(const char *text)
{
    size_t at = *text == '-' || *text == '+';
    size_t whole = digits_at(text + at);
    size_t point = text[at + whole] == '.';
    size_t decimals = point ? digits_at(text + at + whole + 1) : 0;
    if (whole + decimals == 0)
        return 0;
    at += whole + point + decimals;
    return at + exponent_length(text + at);
}

size_t ks_number_read(const char *text, double *number)
{
    size_t length = number_length(text);
    if (length == 0)
        return 0;
    locale_t plain = plain_locale();
    char *end;
    *number = strtod_l(text, &end, plain);
    freelocale(plain);
    if (end != text + length) /* it read on: hexadecimal, of which the number here is the 0 */
        *number = 0;
    return length;
}

static char *put_whole(char *at, uint64_t whole)
{
    char digits[20];
    int n = 0;
    do
        digits[n++] = (char)('0' + whole % 10);
    while ((whole /= 10) > 0);
    while (n > 0)
        *at++ = digits[--n];
    return at;
}

/* Up to three decimals, as nearly all numbers in our files have; false = needs another way. */
static bool put_thousandths(double number, char *text)
{
    double scaled = fabs(number) * 1000;
    if (!(scaled < 1e15))
        return false;
    uint64_t thousandths = (uint64_t)(scaled + 0.5);
    if ((double)thousandths / 1000 != fabs(number))
        return false;
    if (number < 0)
        *text++ = '-';
    text = put_whole(text, thousandths / 1000);
    unsigned rest = (unsigned)(thousandths % 1000);
    if (rest > 0)
        *text++ = '.';
    for (unsigned place = 100; rest > 0; rest %= place, place /= 10)
        *text++ = (char)('0' + rest / place);
    *text = '\0';
    return true;
}

/* "1e+09" -> "1e9", "1e-07" -> "1e-7". */
static void tidy_exponent(char *text)
{
    char *from = strchr(text, 'e');
    if (!from)
        return;
    char *to = ++from;
    if (*from == '-')
        to++;
    from++;
    while (*from == '0')
        from++;
    memmove(to, from, strlen(from) + 1);
}

void ks_number_write(double number, char text[KS_NUMBER_ROOM])
{
    assert(isfinite(number));
    if (put_thousandths(number, text))
        return;
    double back = 0;
    for (int digits = 15; digits <= 17 && back != number; digits++) {
        (void)print_it(text, KS_NUMBER_ROOM, "%.*g", digits, number);
        (void)ks_number_read(text, &back);
    }
    tidy_exponent(text);
}

const char *ks_number_print(double number, ks_arena *arena)
{
    char text[KS_NUMBER_ROOM];
    ks_number_write(number, text);
    return ks_arena_text(arena, text);
}

const char *ks_number_fixed(double number, int decimals, ks_arena *arena)
{
    char text[400]; /* the largest double has 309 digits before its point */
    assert(isfinite(number) && decimals >= 0 && decimals <= 30);
    (void)print_it(text, sizeof text, "%.*f", decimals, number);
    bool minus_nothing = *text == '-' && strspn(text, "-0.") == strlen(text);
    return ks_arena_text(arena, text + minus_nothing);
}
