/* letter.h: steps through text that may be broken UTF-8, one letter at a time. */
#ifndef KILNSTOW_DRAW_SCENE_LETTER_H
#define KILNSTOW_DRAW_SCENE_LETTER_H

#include "base/text.h"

#include <string.h>

/* The code point at `text` (not at its end) and its bytes; a broken byte is U+FFFD. */
static inline uint32_t ks_letter_next(const char *text, int *bytes)
{
    uint32_t point = 0;
    *bytes = ks_utf8_next(text, strnlen(text, 4), &point);
    if (*bytes > 0)
        return point;
    *bytes = 1;
    return 0xFFFD;
}

/* Marks that sit on the letter before them (the common blocks): neither a cut nor a change of font
 * parts the two. */
static inline bool ks_sits_on_letter(uint32_t point)
{
    return (point >= 0x300 && point < 0x370) || (point >= 0x591 && point <= 0x5C7) ||
           (point >= 0x64B && point <= 0x65F) || point == 0x200D ||
           (point >= 0x20D0 && point < 0x2100) || (point >= 0xFE00 && point <= 0xFE0F);
}

#endif
