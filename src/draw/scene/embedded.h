/* embedded.h: files that the library carries with it, made into arrays by embed.c. */
#ifndef KILNSTOW_DRAW_SCENE_EMBEDDED_H
#define KILNSTOW_DRAW_SCENE_EMBEDDED_H

#include <stddef.h>

/* The two faces every sheet is set in, as TrueType files. */
extern const unsigned char ks_font_regular[], ks_font_bold[];
extern const size_t ks_font_regular_size, ks_font_bold_size;

/* Style and script of the single page, as text without an end mark. */
extern const unsigned char ks_page_style[], ks_page_script[];
extern const size_t ks_page_style_size, ks_page_script_size;

#endif
