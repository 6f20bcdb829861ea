/* type.h: sets lines of text: measures, shapes, orders right-to-left runs, shortens and wraps. */
#ifndef KILNSTOW_DRAW_SCENE_TYPE_H
#define KILNSTOW_DRAW_SCENE_TYPE_H

#include "kilnstow/draw.h"

#include <stdbool.h>
#include <stdint.h>

/* Heights as fractions of the em (the font's size). */
#define KS_CAP_HEIGHT 0.729
#define KS_ASCENT 0.76
#define KS_DESCENT 0.24
#define KS_FIGURE_HEIGHT 0.745 /* round figures reach over the capitals, and under the line */
#define KS_FIGURE_DEPTH 0.016

typedef struct {
    uint32_t glyph;
    double x, y; /* place, in em, from the line's left end; y up */
} ks_glyph;

/* Bytes of text that one or more glyphs show together. */
typedef struct {
    int n_bytes, n_glyphs;
} ks_cluster;

/* A stretch of one direction. */
typedef struct {
    int from, length; /* bytes of the line's text */
    bool backward; /* right to left: clusters are in the order of the text, glyphs from the left */
    bool more;     /* of the font beside the built-in one */
    int n_glyphs;
    ks_glyph *glyphs;
    int n_clusters;
    ks_cluster *clusters;
} ks_run;

typedef struct {
    double width;  /* em */
    bool backward; /* the line as a whole reads from right to left */
    int n_runs;    /* from left to right as seen */
    ks_run *runs;
} ks_line;

typedef struct ks_type ks_type;

/* Everything it makes lives in `arena`; it is destroyed by hand for the shaper's sake. `more` is
 * for letters that the built-in font lacks, NULL or without bytes = none; it has to stay. Fails for
 * bytes that are no font. */
ks_status ks_type_create(ks_arena *arena, const ks_font *more, ks_type **out, ks_error *err);
void ks_type_destroy(ks_type *type);

/* The font beside the built-in one, NULL = none; and a place for what a painter makes of it, which
 * goes with the type. */
const ks_font *ks_type_more(const ks_type *type);
typedef struct {
    void *face;
    void (*destroy)(void *face);
} ks_painted_font;
ks_painted_font *ks_type_painted(ks_type *type);

/* The text with everything that is not plain UTF-8 lettering made harmless: broken bytes become
 * U+FFFD, controls and line ends a space, marks that would turn the reading direction go. */
const char *ks_type_clean(ks_arena *arena, const char *text);

/* Shapes clean text. A letter that the fonts lack is shown as "?" in as much room as it would take,
 * and noted in the list of missing ones; it stays itself in the text that a reader searches. */
ks_line ks_type_line(ks_type *type, const char *text, bool bold);

/* Whether clean text as a whole reads from right to left. */
bool ks_type_is_backward(ks_type *type, const char *text);

/* Width of clean text, in em. */
double ks_type_width(ks_type *type, const char *text, bool bold);

/* The text if it is at most `em` wide, else as much of it as fits before an ellipsis. */
const char *ks_type_fitted(ks_type *type, const char *text, bool bold, double em);

/* Breaks the text into at most `most` lines at spaces (inside a word where it must), the last
 * shortened; returns how many. */
int ks_type_wrap(ks_type *type, const char *text, bool bold, double em, int most,
                 const char **lines);

/* Where its lines live. */
ks_arena *ks_type_arena(ks_type *type);

/* Code points that were asked for and that the fonts lack, in order; count returned. */
int ks_type_missing(const ks_type *type, const uint32_t **points);

#endif
