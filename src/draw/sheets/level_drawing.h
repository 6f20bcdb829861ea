/* level_drawing.h: a level, or several side by side, seen from above while it is being drawn:
 * shared by what draws its things and what places its labels. */
#ifndef KILNSTOW_DRAW_SHEETS_LEVEL_DRAWING_H
#define KILNSTOW_DRAW_SHEETS_LEVEL_DRAWING_H

#include "draw/scene/label.h"
#include "draw/sheets/sheets.h"

typedef struct {
    ks_scene *scene;
    ks_arena *arena;
    const ks_level_shown *shown;
    const ks_facts *facts;
    double low_mm, high_mm; /* the heights that the levels take up */
    int n_items;
    const ks_item **items; /* of all levels */
    ks_view view;
    ks_label_field field;
} ks_level_drawing;

bool ks_level_pale(const ks_level_drawing *d, const ks_item *item);
bool ks_level_has_keep_out(const ks_level_drawing *d, const ks_keep_out *keep);
bool ks_level_has_post(const ks_level_drawing *d, const ks_post *post);

/* The largest part of the piece itself, its setter left aside; NULL if it has none. */
const ks_part *ks_level_largest(const ks_placed *placed);

/* Places and draws every label, nearest things first; what became of the numbers. */
ks_numbers ks_level_label(ks_level_drawing *d);

#endif
