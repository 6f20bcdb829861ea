#include "draw/scene/type.h"
#include "draw/scene/letter.h"

#include <string.h>

/* Byte offsets where the text may be cut, the end included; count returned. */
static int cuts_of(ks_arena *arena, const char *text, int **cuts)
{
    int n = 0, bytes;
    *cuts = KS_TAKE(arena, strlen(text) + 1, int);
    for (int at = 0; text[at]; at += bytes) {
        uint32_t point = ks_letter_next(text + at, &bytes);
        if (at > 0 && !ks_sits_on_letter(point))
            (*cuts)[n++] = at;
    }
    (*cuts)[n++] = (int)strlen(text);
    return n;
}

static double width_to(ks_type *type, ks_arena *arena, const char *text, int end, const char *tail,
                       bool bold)
{
    const char *piece = ks_arena_print(arena, "%.*s%s", end, text, tail);
    return ks_type_width(type, piece, bold);
}

/* The last cut at which the text, with `tail` after it, is no wider than `em`; 0 if none is. */
static int cut_longest(ks_type *type, ks_arena *arena, const char *text, const char *tail,
                       bool bold, double em)
{
    int *cuts, low = 0, high = cuts_of(arena, text, &cuts);
    while (low < high) { /* cuts below low fit, those from high on do not */
        int middle = (low + high) / 2;
        if (width_to(type, arena, text, cuts[middle], tail, bold) <= em)
            low = middle + 1;
        else
            high = middle;
    }
    return low > 0 ? cuts[low - 1] : 0;
}

static const char *shorten(ks_type *type, ks_arena *arena, const char *text, bool bold, double em)
{
    if (ks_type_width(type, text, bold) <= em)
        return text;
    int end = cut_longest(type, arena, text, "…", bold, em);
    while (end > 0 && text[end - 1] == ' ')
        end--;
    if (end == 0 && ks_type_width(type, "…", bold) > em)
        return "";
    return ks_arena_print(arena, "%.*s…", end, text);
}

const char *ks_type_fitted(ks_type *type, const char *text, bool bold, double em)
{
    return shorten(type, ks_type_arena(type), text, bold, em);
}

static int end_of_line(ks_type *type, ks_arena *arena, const char *text, bool bold, double em)
{
    int end = cut_longest(type, arena, text, "", bold, em);
    if (!text[end])
        return end;
    for (int at = end; at > 0; at--)
        if (text[at] == ' ')
            return at;
    for (int at = end; at > end / 2; at--) /* "glaze-pot" may part after its hyphen */
        if (text[at - 1] == '-' || text[at - 1] == '/')
            return at;
    return end;
}

/* A line of a text that is read the other way round than the line alone would be (UAX 9, P2: the
 * first letter of the whole decides) has a mark before it that says so. */
static const char *directed(ks_type *type, const char *line, bool backward)
{
    if (!*line || ks_type_is_backward(type, line) == backward)
        return line;
    return ks_arena_print(ks_type_arena(type), "%s%s", backward ? "\u200F" : "\u200E", line);
}

int ks_type_wrap(ks_type *type, const char *text, bool bold, double em, int most,
                 const char **lines)
{
    ks_arena *arena = ks_type_arena(type);
    bool backward = ks_type_is_backward(type, text);
    int n = 0;
    while (*text == ' ')
        text++;
    while (*text && n < most) {
        int end = n == most - 1 ? (int)strlen(text) : end_of_line(type, arena, text, bold, em);
        if (end == 0)
            end = (int)strlen(text); /* not even a letter fits: shorten to nothing */
        const char *line = shorten(type, arena, ks_arena_print(arena, "%.*s", end, text), bold, em);
        lines[n++] = directed(type, line, backward);
        text += end;
        while (*text == ' ')
            text++;
    }
    return n;
}
