#include "base/fold.h"

#include "base/text.h"

#include <string.h>
#include <utf8proc.h>

/* Nothing below U+0300 composes, so that most texts need no more than this look: such are of bytes
 * below 0xCC, the first of U+0300. */
static bool is_composed(const char *text)
{
    for (; *text; text++)
        if ((unsigned char)*text >= 0xCC)
            return false;
    return true;
}

/* By libutf8proc's options; the text itself where it is no UTF-8. */
static const char *map(const char *text, utf8proc_option_t options, ks_arena *arena)
{
    const utf8proc_uint8_t *bytes = (const utf8proc_uint8_t *)text;
    options |= UTF8PROC_NULLTERM | UTF8PROC_STABLE;
    utf8proc_ssize_t n = utf8proc_decompose(bytes, 0, NULL, 0, options);
    if (n < 0)
        return text;
    utf8proc_int32_t *codes = KS_TAKE(arena, n + 1, utf8proc_int32_t);
    n = utf8proc_decompose(bytes, 0, codes, n, options);
    n = utf8proc_reencode(codes, n, options); /* in place */
    return n < 0 ? text : (const char *)codes;
}

const char *ks_text_compose(const char *text, ks_arena *arena)
{
    return is_composed(text) ? text : map(text, UTF8PROC_COMPOSE, arena);
}

static const char *fold(const char *text, ks_arena *arena)
{
    return map(text, UTF8PROC_COMPOSE | UTF8PROC_COMPAT | UTF8PROC_CASEFOLD | UTF8PROC_IGNORE,
               arena);
}

const char *ks_text_plain(const char *text, ks_arena *arena)
{
    ks_text plain = {.arena = arena};
    for (const char *at = fold(text, arena); *at;) {
        size_t blanks = strspn(at, " \t\r\n"), word = strcspn(at + blanks, " \t\r\n");
        if (word > 0 && plain.length > 0)
            ks_text_add(&plain, " ");
        ks_text_add_n(&plain, at + blanks, word);
        at += blanks + word;
    }
    return ks_text_end(&plain);
}

bool ks_text_alike(const char *a, const char *b)
{
    ks_arena scratch = {0};
    bool alike = strcmp(ks_text_plain(a, &scratch), ks_text_plain(b, &scratch)) == 0;
    ks_arena_finish(&scratch);
    return alike;
}
