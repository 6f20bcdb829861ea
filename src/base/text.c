#include "base/text.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

enum { LONGEST_WORD = 64 };

static void make_room(ks_text *to, size_t more)
{
    if (to->text && more < to->room - to->length)
        return;
    size_t room = to->room > 0 ? to->room : 64;
    while (room - to->length <= more)
        room *= 2;
    char *moved = ks_arena_take(to->arena, room, 1);
    if (to->length > 0)
        memcpy(moved, to->text, to->length);
    to->text = moved;
    to->room = room;
}

void ks_text_add_n(ks_text *to, const char *bytes, size_t length)
{
    make_room(to, length);
    if (length > 0)
        memcpy(to->text + to->length, bytes, length);
    to->length += length;
    to->text[to->length] = '\0';
}

void ks_text_add(ks_text *to, const char *text)
{
    ks_text_add_n(to, text, strlen(text));
}

void ks_text_print_list(ks_text *to, const char *format, va_list args)
{
    va_list again;
    va_copy(again, args);
    int length = ks_print_plain(NULL, 0, format, args);
    if (length > 0) {
        make_room(to, (size_t)length);
        (void)ks_print_plain(to->text + to->length, to->room - to->length, format, again);
        to->length += (size_t)length;
    }
    va_end(again);
}

void ks_text_print(ks_text *to, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    ks_text_print_list(to, format, args);
    va_end(args);
}

void ks_text_add_number(ks_text *to, double number)
{
    char text[KS_NUMBER_ROOM];
    ks_number_write(number, text);
    ks_text_add(to, text);
}

const char *ks_text_end(const ks_text *text)
{
    return text->text ? text->text : "";
}

const char *ks_joined(const char *a, const char *between, const char *b, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    ks_text_add(&text, a);
    ks_text_add(&text, between);
    ks_text_add(&text, b);
    return ks_text_end(&text);
}

/* Table 3-7 of the Unicode Standard: what may follow each first byte. */
static const struct {
    unsigned char first, last; /* first byte */
    int length;
    unsigned char least, most; /* second byte; later ones are 80 to BF */
} utf8_forms[] = {
    {0x00, 0x7F, 1, 0, 0},       {0xC2, 0xDF, 2, 0x80, 0xBF}, {0xE0, 0xE0, 3, 0xA0, 0xBF},
    {0xE1, 0xEC, 3, 0x80, 0xBF}, {0xED, 0xED, 3, 0x80, 0x9F}, {0xEE, 0xEF, 3, 0x80, 0xBF},
    {0xF0, 0xF0, 4, 0x90, 0xBF}, {0xF1, 0xF3, 4, 0x80, 0xBF}, {0xF4, 0xF4, 4, 0x80, 0x8F},
};

static bool follows(const unsigned char *byte, int length, unsigned char least, unsigned char most)
{
    for (int i = 1; i < length; i++)
        if (byte[i] < (i == 1 ? least : 0x80) || byte[i] > (i == 1 ? most : 0xBF))
            return false;
    return true;
}

int ks_utf8_next(const char *text, size_t left, uint32_t *code)
{
    static const uint32_t bits[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
    const unsigned char *byte = (const unsigned char *)text;
    for (size_t form = 0; left > 0 && form < sizeof utf8_forms / sizeof *utf8_forms; form++) {
        int length = utf8_forms[form].length;
        if (*byte < utf8_forms[form].first || *byte > utf8_forms[form].last)
            continue;
        if ((size_t)length > left ||
            !follows(byte, length, utf8_forms[form].least, utf8_forms[form].most))
            return 0;
        uint32_t value = *byte & bits[length];
        for (int i = 1; i < length; i++)
            value = value << 6 | (byte[i] & 0x3F);
        if (code)
            *code = value;
        return length;
    }
    return 0;
}

bool ks_is_control(uint32_t code)
{
    return code < 0x20 || (code >= 0x7F && code <= 0x9F) || (code >= 0x2028 && code <= 0x202E) ||
           (code >= 0x2066 && code <= 0x2069);
}

int ks_utf8_put(uint32_t code, char bytes[4])
{
    assert(code <= 0x10FFFF && (code < 0xD800 || code > 0xDFFF));
    int length = code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
    static const unsigned char first[] = {0, 0, 0xC0, 0xE0, 0xF0};
    for (int i = length - 1; i > 0; i--, code >>= 6)
        bytes[i] = (char)(0x80 | (code & 0x3F));
    bytes[0] = (char)(first[length] | code);
    return length;
}

size_t ks_utf8_valid(const char *text, size_t length)
{
    size_t at = 0;
    for (int step; at < length; at += (size_t)step)
        if ((step = ks_utf8_next(text + at, length - at, NULL)) == 0)
            break;
    return at;
}

int ks_utf8_count(const char *text)
{
    int count = 0;
    for (; *text; text++)
        count += ((unsigned char)*text & 0xC0) != 0x80;
    return count;
}

int ks_hex_four(const char *text)
{
    int value = 0;
    for (int i = 0; i < 4; i++) {
        const char *digits = "0123456789abcdefABCDEF";
        const char *found = text[i] ? strchr(digits, text[i]) : NULL;
        if (!found)
            return -1;
        int digit = (int)(found - digits);
        value = value * 16 + (digit < 16 ? digit : digit - 6);
    }
    return value;
}

static char lower(char letter)
{
    return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

bool ks_same_word(const char *a, const char *b)
{
    while (*a && lower(*a) == lower(*b))
        a++, b++;
    return lower(*a) == lower(*b);
}

static int least_of(int a, int b)
{
    return a < b ? a : b;
}

/* The classic table, of which only three rows are held (Damerau's distance with each stretch edited
 * once, "optimal string alignment"). */
int ks_edit_distance(const char *a, const char *b)
{
    size_t na = strlen(a), nb = strlen(b);
    if (na > LONGEST_WORD || nb > LONGEST_WORD)
        return (int)(na > nb ? na : nb);
    int rows[3][LONGEST_WORD + 1];
    for (size_t j = 0; j <= nb; j++)
        rows[0][j] = (int)j;
    for (size_t i = 1; i <= na; i++) {
        int *row = rows[i % 3], *above = rows[(i + 2) % 3], *higher = rows[(i + 1) % 3];
        row[0] = (int)i;
        for (size_t j = 1; j <= nb; j++) {
            bool same = lower(a[i - 1]) == lower(b[j - 1]);
            row[j] = least_of(above[j - 1] + !same, least_of(above[j], row[j - 1]) + 1);
            if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
                lower(a[i - 2]) == lower(b[j - 1]))
                row[j] = least_of(row[j], higher[j - 2] + 1);
        }
    }
    return rows[na % 3][nb];
}

const char *ks_nearest(const char *word, const char *const *words, int n)
{
    int near = (int)strlen(word) / 3 + 1, best = near + 1;
    const char *nearest = NULL;
    for (int i = 0; i < n; i++) {
        int distance = ks_edit_distance(word, words[i]);
        if (distance < best && distance < (int)strlen(words[i])) {
            best = distance;
            nearest = words[i];
        }
    }
    return nearest;
}
