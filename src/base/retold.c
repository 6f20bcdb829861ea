#include "base/retold.h"

#include "base/language.h"
#include "base/language_table.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>
#include <string.h>

enum { MOST_TAKEN = 12 };

/* What a text has where its message has conversions. */
typedef struct {
    int n;
    struct {
        const char *at;
        size_t length;
        bool in_quotes;
    } taken[MOST_TAKEN];
} contents;

/* Bytes of the conversion at `format`, which begins with '%'. */
static size_t conversion_length(const char *format)
{
    size_t flags = 1 + strspn(format + 1, "-+#0123456789.$*");
    size_t size = strspn(format + flags, "hlzj");
    return flags + size + (format[flags + size] != '\0');
}

static size_t number_length(const char *text)
{
    return strspn(text, "0123456789.+-");
}

/* How much of the text a conversion takes that has the `plain` bytes of `format` behind it: as
 * little as it can, but all there is where nothing follows. -1 = it cannot have made it. */
static ptrdiff_t taken_by(char kind, const char *format, size_t plain, const char *text)
{
    size_t number = number_length(text), length = strlen(text);
    if (kind != 's')
        return number > 0 && strncmp(text + number, format, plain) == 0 ? (ptrdiff_t)number : -1;
    if (format[plain] == '\0')
        return length >= plain && memcmp(text + length - plain, format, plain) == 0
                   ? (ptrdiff_t)(length - plain)
                   : -1;
    for (size_t i = 0; i + plain <= length; i++)
        if (memcmp(text + i, format, plain) == 0)
            return (ptrdiff_t)i;
    return -1;
}

/* Whether `text` can have been made of the format. The first place of each plain part is taken, as
 * for wildcards, so that time grows with the text alone. */
static bool fits(const char *format, const char *text, contents *found)
{
    size_t plain = strcspn(format, "%");
    if (strncmp(format, text, plain) != 0)
        return false;
    bool quoted = plain > 0 && format[plain - 1] == '"';
    format += plain;
    text += plain;
    while (*format) {
        size_t length = conversion_length(format);
        char kind = format[length - 1];
        format += length;
        plain = strcspn(format, "%");
        if (kind == '%' || found->n == MOST_TAKEN)
            return false;
        ptrdiff_t taken = taken_by(kind, format, plain, text);
        if (taken < 0)
            return false;
        found->taken[found->n].at = text;
        found->taken[found->n].length = (size_t)taken;
        found->taken[found->n++].in_quotes = quoted;
        quoted = plain > 0 && format[plain - 1] == '"';
        text += (size_t)taken + plain;
        format += plain;
    }
    return !*text;
}

/* Letters that a format says itself. */
static int own_letters(const char *format)
{
    int n = 0;
    while (*format)
        if (*format == '%')
            format += conversion_length(format);
        else
            n += *format++ != ' ';
    return n;
}

static const char *best_message(const ks_catalogue *catalogue, const char *text, contents *best)
{
    const char *said = NULL;
    int most = 2; /* ": " says nothing */
    for (int i = 0; i < catalogue->n; i++) {
        contents found = {0};
        const char *message = catalogue->messages[i].message;
        int own = own_letters(message);
        if (own <= most || !strchr(message, '%') || !fits(message, text, &found))
            continue;
        most = own;
        *best = found;
        said = catalogue->messages[i].said[0];
    }
    return said;
}

static void put_taken(ks_text *to, const contents *found, int nth)
{
    if (nth >= found->n)
        return;
    const char *text = ks_arena_text_n(to->arena, found->taken[nth].at, found->taken[nth].length);
    ks_text_add(to, found->taken[nth].in_quotes ? text : ks_retold(text, to->arena));
}

static const char *say(const char *format, const contents *found, ks_arena *arena)
{
    ks_text words = {.arena = arena};
    int next = 0;
    while (*format) {
        size_t plain = strcspn(format, "%");
        ks_text_add_n(&words, format, plain);
        format += plain;
        if (!*format)
            break;
        size_t length = conversion_length(format);
        bool numbered = format[1] >= '1' && format[1] <= '9' && format[2] == '$';
        if (format[length - 1] == '%')
            ks_text_add(&words, "%");
        else
            put_taken(&words, found, numbered ? format[1] - '1' : next++);
        format += length;
    }
    return ks_text_end(&words);
}

const char *ks_retold(const char *text, ks_arena *arena)
{
    const ks_catalogue *catalogue = ks_language_catalogue();
    if (!catalogue || !text || !*text)
        return text;
    const char *whole = ks_tr(text);
    if (whole != text)
        return whole;
    contents found = {0};
    const char *said = best_message(catalogue, text, &found);
    return said ? say(said, &found, arena) : text;
}

const char *ks_retold_list(const char *list, ks_arena *arena)
{
    ks_text words = {.arena = arena};
    for (size_t length; list && *list; list += length + strspn(list + length, ", ")) {
        length = strcspn(list, ",");
        ks_text_add(&words, words.length > 0 ? ", " : "");
        ks_text_add(&words, ks_retold(ks_arena_text_n(arena, list, length), arena));
    }
    return ks_text_end(&words);
}
