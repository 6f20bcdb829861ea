#include "base/language_print.h"

#include "base/language.h"

#include <assert.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_ARGUMENTS = 32 };

/* One conversion of a format: "%2$-8.*f". */
typedef struct {
    const char *flags;
    int n_flags;
    int width, precision; /* 0, -1 = none; a negative width fills up at the right */
    int position;         /* of its argument, from 0; -1 = the next */
    bool star_width, star_precision;
    char size[3]; /* "", "l", "ll", "z", … */
    char kind;    /* 'd', 's', … */
} conversion;

typedef union {
    long long whole;
    double real;
    const void *pointer;
} argument;

/* What has been printed so far: as much of it as has room, and how long it is. */
typedef struct {
    char *text;
    size_t room, length;
} output;

static void put(output *to, const char *bytes, size_t n)
{
    if (to->length < to->room) {
        size_t left = to->room - to->length - 1, fits = n < left ? n : left;
        memcpy(to->text + to->length, bytes, fits);
        to->text[to->length + fits] = '\0';
    }
    to->length += n;
}

static int read_number(const char **at)
{
    char *end;
    long number = strtol(*at, &end, 10);
    *at = end;
    return (int)number;
}

static bool is_digit(char sign)
{
    return sign >= '0' && sign <= '9';
}

static const char *read_star(const char *at, bool *star, int *number)
{
    *star = *at == '*';
    if (*star)
        at++;
    else if (is_digit(*at))
        *number = read_number(&at);
    return at;
}

/* Reads what follows a '%'; returns what follows the conversion. */
static const char *read_conversion(const char *at, conversion *out)
{
    *out = (conversion){.precision = -1, .position = -1};
    size_t digits = strspn(at, "0123456789");
    if (digits > 0 && at[digits] == '$') {
        out->position = read_number(&at) - 1;
        at++;
    }
    out->flags = at;
    out->n_flags = (int)strspn(at, "-+ #0");
    at = read_star(at + out->n_flags, &out->star_width, &out->width);
    if (*at == '.') {
        out->precision = 0;
        at = read_star(at + 1, &out->star_precision, &out->precision);
    }
    for (int i = 0; i < 2 && *at && strchr("hlzj", *at); i++)
        out->size[i] = *at++;
    out->kind = *at;
    return *at ? at + 1 : at;
}

static bool has_argument(const conversion *c)
{
    return c->kind != '%' && c->kind != '\0';
}

static argument whole_of(const conversion *c, va_list *args)
{
    if (strcmp(c->size, "ll") == 0 || *c->size == 'j')
        return (argument){.whole = va_arg(*args, long long)};
    if (*c->size == 'l' || *c->size == 'z')
        return (argument){.whole = va_arg(*args, long)};
    bool is_unsigned = strchr("ouxX", c->kind) != NULL;
    return (argument){.whole = is_unsigned ? (long long)va_arg(*args, unsigned)
                                           : (long long)va_arg(*args, int)};
}

static argument take_argument(const conversion *c, va_list *args)
{
    if (strchr("feEgGaA", c->kind))
        return (argument){.real = va_arg(*args, double)};
    if (strchr("sp", c->kind))
        return (argument){.pointer = va_arg(*args, const void *)};
    return whole_of(c, args);
}

/* All arguments, in the order in which the format of the sources takes them. */
static int take_arguments(const char *format, va_list *args, argument *taken)
{
    int n = 0;
    while ((format = strchr(format, '%'))) {
        conversion c;
        format = read_conversion(format + 1, &c);
        int stars = c.star_width + c.star_precision;
        assert(n + stars < MOST_ARGUMENTS && c.position < 0);
        for (int i = 0; i < stars; i++)
            taken[n++] = (argument){.whole = va_arg(*args, int)};
        if (has_argument(&c))
            taken[n++] = take_argument(&c, args);
    }
    return n;
}

/* Literals lie in the segments of the program, or of the shared library, that this is linked into;
 * the linker gives their bounds. Hidden, so that a library finds its own and not its program's. */
static bool is_ours(const char *text)
{
    extern const char __ehdr_start[] __attribute__((visibility("hidden")));
    extern const char _end[] __attribute__((visibility("hidden")));
    return text >= __ehdr_start && text < _end;
}

static void put_text(output *to, const conversion *c, const char *text, bool in_quotes)
{
    if (!text)
        text = "(null)"; /* as the C library has it */
    if (!in_quotes && c->precision < 0 && is_ours(text))
        text = ks_tr(text);
    size_t length = c->precision >= 0 ? strnlen(text, (size_t)c->precision) : strlen(text);
    int letters = 0;
    for (size_t i = 0; i < length; i++)
        letters += ((unsigned char)text[i] & 0xC0) != 0x80;
    bool left = memchr(c->flags, '-', (size_t)c->n_flags) || c->width < 0;
    int blanks = abs(c->width) - letters;
    for (int i = 0; !left && i < blanks; i++)
        put(to, " ", 1);
    put(to, text, length);
    for (int i = 0; left && i < blanks; i++)
        put(to, " ", 1);
}

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
static void put_number(output *to, const conversion *c, argument value)
{
    char format[32], text[512];
    bool real = strchr("feEgGaA", c->kind) != NULL;
    (void)snprintf(format, sizeof format, "%%%.*s*.*%s%c", c->n_flags, c->flags,
                   real || c->kind == 'c' ? "" : "ll", c->kind);
    int n = real ? snprintf(text, sizeof text, format, c->width, c->precision, value.real)
            : c->kind == 'c'
                ? snprintf(text, sizeof text, "%*c", c->width, (int)value.whole)
                : snprintf(text, sizeof text, format, c->width, c->precision, value.whole);
    if (n > 0)
        put(to, text, (size_t)n < sizeof text ? (size_t)n : sizeof text - 1);
}
#pragma GCC diagnostic pop

static void put_conversion(output *to, conversion *c, const argument *taken, int *next,
                           bool in_quotes)
{
    if (c->star_width)
        c->width = (int)taken[(*next)++].whole;
    if (c->star_precision)
        c->precision = (int)taken[(*next)++].whole;
    argument value = taken[c->position >= 0 ? c->position : (*next)++];
    if (c->kind == 's')
        put_text(to, c, value.pointer, in_quotes);
    else
        put_number(to, c, value);
}

int ks_language_print(char *text, size_t room, const char *format, va_list args)
{
    if (strcmp(ks_language(), "en") == 0)
        return vsnprintf(text, room, format, args);
    argument taken[MOST_ARGUMENTS] = {{0}};
    va_list own;
    va_copy(own, args);
    (void)take_arguments(format, &own, taken);
    va_end(own);
    output to = {text, room, 0};
    int next = 0;
    put(&to, "", 0);
    for (const char *at = ks_tr(format), *plain = at; *plain; plain = at) {
        at = plain + strcspn(plain, "%");
        put(&to, plain, (size_t)(at - plain));
        if (!*at)
            break;
        bool in_quotes = at > plain && at[-1] == '"';
        conversion c;
        at = read_conversion(at + 1, &c);
        if (has_argument(&c))
            put_conversion(&to, &c, taken, &next, in_quotes);
        else
            put(&to, "%", 1);
    }
    return (int)to.length;
}
