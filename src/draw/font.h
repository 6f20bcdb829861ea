/* font.h: the two faces every sheet is set in, as TrueType files in memory; made by embed.c. */
#ifndef KILNSTOW_DRAW_FONT_H
#define KILNSTOW_DRAW_FONT_H

#include <stddef.h>

extern const unsigned char ks_font_regular[], ks_font_bold[];
extern const size_t ks_font_regular_size, ks_font_bold_size;

#endif
