/* level_sheet.h: what the sheets of a level, whole and in larger parts, have in common. */
#ifndef KILNSTOW_DRAW_SHEETS_LEVEL_SHEET_H
#define KILNSTOW_DRAW_SHEETS_LEVEL_SHEET_H

#include "draw/sheets/sheets.h"

/* Room round the chamber on paper. */
#define KS_LEVEL_AROUND 8.0 /* wall, left and right together */
#define KS_LEVEL_ABOVE 11.0 /* wall and the name of the back */
#define KS_LEVEL_BELOW 13.0 /* wall and FRONT */

/* More leaders than this on one drawing are a tangle: parts of it are drawn larger instead. */
enum { KS_MOST_LEADERS = 16 };

/* Of the level's shelves and pieces, chamber axes; infinite if it has none. */
ks_box ks_level_extent(const ks_level_facts *level);

void ks_level_lost(ks_sheets *sheets, const ks_level_facts *level, int lost);

/* The list of a tier's work: lines to tick, then the key to the drawing. */
typedef struct {
    ks_scene *scene; /* which it is measured and drawn on */
    int n;
    const ks_level_line *lines;
    const double *marks_mm; /* how wide each line's mark is */
    double beside;          /* a wider mark, as part of the column, stands over its words */
    const char *key;        /* what the drawing's lines mean */
    double under;           /* the drawing's scale, 1 : under */
    bool inches;            /* of its bar */
} ks_level_list;

/* The height that the list takes in columns of that width; INFINITY if it never fits `most_mm`. */
double ks_level_list_height(const ks_level_list *list, int columns, double width_mm,
                            double most_mm);

/* Draws lines from `first` on in `columns` side by side; returns the first that found no room. */
int ks_level_list_draw(const ks_level_list *list, int first, int columns, ks_box box);

/* Parts of the level at the scale after 1:`under`, or the next one, until all numbers find a place.
 */
void ks_level_larger(ks_sheets *sheets, const ks_facts *facts, const ks_level_facts *level,
                     int under);

#endif
