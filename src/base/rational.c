#include "base/rational.h"

#include "base/text.h"

#include <string.h>

enum { MOST_DIGITS = 18 };

static const char no_number[] = "start it with a number, such as 26, 11.5 or 10 1/2";
static const char too_long[] = "round it to fewer digits";
static const char in_thousands[] = "write it without parting the thousands, such as 1250.00";
static const char two_ways[] = "write 1.2 or 1200: a comma before three digits could mean either";
static const char by_nothing[] = "a fraction is not divided by 0";
static const char not_less[] = "after a whole number comes a fraction less than 1, such as 10 1/2";

/* Those of Unicode's blocks Latin-1 and Number Forms. */
static const struct {
    uint32_t code;
    int num, den;
} vulgar[] = {
    {0xBC, 1, 4},   {0xBD, 1, 2},   {0xBE, 3, 4},   {0x2150, 1, 7}, {0x2151, 1, 9}, {0x2152, 1, 10},
    {0x2153, 1, 3}, {0x2154, 2, 3}, {0x2155, 1, 5}, {0x2156, 2, 5}, {0x2157, 3, 5}, {0x2158, 4, 5},
    {0x2159, 1, 6}, {0x215A, 5, 6}, {0x215B, 1, 8}, {0x215C, 3, 8}, {0x215D, 5, 8}, {0x215E, 7, 8},
};

/* For a >= 0, b > 0. */
static int64_t common_divisor(int64_t a, int64_t b)
{
    while (a > 0) {
        int64_t rest = b % a;
        b = a;
        a = rest;
    }
    return b;
}

static ks_rational lowest(int64_t num, int64_t den)
{
    int64_t common = common_divisor(num < 0 ? -num : num, den);
    return (ks_rational){num / common, den / common};
}

bool ks_rational_times(ks_rational a, ks_rational b, ks_rational *out)
{
    ks_rational x = lowest(a.num, b.den), y = lowest(b.num, a.den);
    return !__builtin_mul_overflow(x.num, y.num, &out->num) &&
           !__builtin_mul_overflow(x.den, y.den, &out->den) && out->num != INT64_MIN;
}

bool ks_rational_plus(ks_rational a, ks_rational b, ks_rational *out)
{
    int64_t common = common_divisor(a.den, b.den), left, right, sum, den;
    if (__builtin_mul_overflow(a.num, b.den / common, &left) ||
        __builtin_mul_overflow(b.num, a.den / common, &right) ||
        __builtin_add_overflow(left, right, &sum) ||
        __builtin_mul_overflow(a.den, b.den / common, &den) || sum == INT64_MIN)
        return false;
    *out = lowest(sum, den);
    return true;
}

double ks_rational_double(ks_rational number)
{
    return (double)number.num / (double)number.den;
}

static bool is_digit(char sign)
{
    return sign >= '0' && sign <= '9';
}

/* Digits before or after the point; those beyond MOST_DIGITS only shift. */
static const char *take_digits(const char *at, int *taken, int64_t *value, int *unread)
{
    for (; is_digit(*at); at++) {
        if (*taken >= MOST_DIGITS) {
            ++*unread;
            continue;
        }
        *value = *value * 10 + (*at - '0');
        *taken += *value > 0;
    }
    return at;
}

static bool shift(ks_rational *number, int tens)
{
    for (; tens > 0; tens--)
        if (!ks_rational_times(*number, (ks_rational){10, 1}, number))
            return false;
    for (; tens < 0; tens++)
        if (!ks_rational_times(*number, (ks_rational){1, 10}, number))
            return number->num == 0;
    return true;
}

/* "e3", "E-2"; more than two digits of it are never meant. */
static const char *take_exponent(const char *at, int *tens)
{
    if (*at != 'e' && *at != 'E')
        return at;
    bool minus = at[1] == '-';
    const char *digits = at + 1 + (minus || at[1] == '+');
    if (!is_digit(*digits))
        return at;
    int exponent = 0;
    for (; is_digit(*digits); digits++)
        exponent = exponent < 100 ? exponent * 10 + (*digits - '0') : exponent;
    *tens += minus ? -exponent : exponent;
    return digits;
}

static const char *read_decimal(const char **at, ks_rational *out, bool *whole)
{
    const char *starts = *at, *text = *at;
    int taken = 0, unread = 0, beyond = 0;
    int64_t value = 0;
    text = take_digits(text, &taken, &value, &unread);
    long before = text - starts, after = 0;
    if ((*text == '.' || *text == ',') && (is_digit(text[1]) || (*text == '.' && before > 0))) {
        bool comma = *text == ',';
        const char *point = text++;
        text = take_digits(text, &taken, &value, &beyond);
        after = text - point - 1;
        if ((*text == ',' || *text == '.') && is_digit(text[1]))
            return in_thousands;
        if (comma && after == 3 && before > 0 && before < 4 && *starts != '0')
            return two_ways;
    }
    if (before + after == 0)
        return no_number;
    int tens = unread - (int)(after - beyond);
    *whole = after == 0;
    *at = take_exponent(text, &tens);
    *out = (ks_rational){value, 1};
    return tens > -400 && tens < 400 && shift(out, tens) ? NULL : too_long;
}

static const char *skip_blanks(const char *at)
{
    for (;;) {
        uint32_t code = 0;
        int bytes = ks_utf8_next(at, strlen(at), &code);
        if (code != ' ' && code != '\t' && code != 0xA0 && code != 0x2009 && code != 0x202F)
            return at;
        at += bytes;
    }
}

/* The fraction slash, or the plain one. */
static int slash_bytes(const char *at)
{
    return *at == '/' ? 1 : strncmp(at, "\xE2\x81\x84", 3) == 0 ? 3 : 0;
}

/* Up to nine digits; 0 digits read when there are none or more. */
static const char *take_small(const char *at, int64_t *value)
{
    size_t digits = strspn(at, "0123456789");
    *value = 0;
    if (digits > 9)
        return at;
    for (; digits > 0; digits--)
        *value = *value * 10 + (*at++ - '0');
    return at;
}

/* A fraction "3/8" or a vulgar one at *at. False: none is there. */
static bool take_fraction(const char **at, ks_rational *out, const char **fault)
{
    uint32_t code = 0;
    int bytes = ks_utf8_next(*at, strlen(*at), &code);
    for (size_t i = 0; i < sizeof vulgar / sizeof *vulgar; i++)
        if (vulgar[i].code == code) {
            *out = (ks_rational){vulgar[i].num, vulgar[i].den};
            *at += bytes;
            return true;
        }
    int64_t num, den;
    const char *slash = take_small(*at, &num);
    if (slash == *at || slash_bytes(slash) == 0)
        return false;
    const char *below = slash + slash_bytes(slash), *end = take_small(below, &den);
    if (end == below)
        return false;
    *fault = den == 0 ? by_nothing : NULL;
    *out = den == 0 ? (ks_rational){0, 1} : lowest(num, den);
    *at = end;
    return true;
}

/* What may follow a whole number: blanks or a dash and a fraction. */
static const char *add_fraction(const char **at, ks_rational *whole)
{
    const char *from = skip_blanks(*at), *fault = NULL;
    if (*from == '-')
        from++;
    ks_rational part;
    if (!take_fraction(&from, &part, &fault))
        return NULL;
    if (fault)
        return fault;
    if (part.num >= part.den)
        return not_less;
    *at = from;
    return ks_rational_plus(*whole, part, whole) ? NULL : too_long;
}

static const char *read_unsigned(const char **at, ks_rational *out)
{
    const char *fault = NULL;
    if (take_fraction(at, out, &fault))
        return fault;
    bool whole = false;
    fault = read_decimal(at, out, &whole);
    return fault || !whole ? fault : add_fraction(at, out);
}

const char *ks_rational_read(const char **at, ks_rational *out)
{
    const char *from = skip_blanks(*at);
    size_t minus = *from == '-' ? 1 : strncmp(from, "\xE2\x88\x92", 3) == 0 ? 3 : 0;
    from += minus + (minus == 0 && *from == '+');
    const char *fault = read_unsigned(&from, out);
    if (fault)
        return fault;
    if (minus > 0)
        out->num = -out->num;
    *at = from;
    return NULL;
}
