/* side.h: the load seen from the side, while it is being drawn. */
#ifndef KILNSTOW_DRAW_SHEETS_SIDE_H
#define KILNSTOW_DRAW_SHEETS_SIDE_H

#include "draw/sheets/sheets.h"

/* The load seen from the front; or, for bays one behind another, from the right, with the
 * operator's side at the left. */
typedef struct {
    ks_scene *scene;
    const ks_facts *facts;
    bool from_right;      /* bays stand front and back */
    double scale, x0, y0; /* paper mm: of the chamber's left edge and of its floor */
    double least;         /* chamber mm at x0 */
} ks_side;

/* Everything in and of the chamber, with the numbers that can be read. */
void ks_side_things(const ks_side *side);

/* Heights above the floor, to the right of `right`. */
void ks_side_heights(const ks_side *side, double right);

#endif
