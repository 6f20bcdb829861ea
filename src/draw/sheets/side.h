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
    bool plain;           /* posts as outlines before the ware, no numbers */
    double scale, x0, y0; /* paper mm: of the chamber's left edge and of its floor */
    double least;         /* chamber mm at x0 */
    double width_mm;      /* of the chamber from this side */
} ks_side;

/* The side to be drawn from, with its least chamber mm; scale and place are the caller's. */
ks_side ks_side_begin(ks_scene *scene, const ks_facts *facts);

/* Everything in and of the chamber, with the numbers that can be read. */
void ks_side_things(const ks_side *side);

/* Room that the heights beside the drawing take. */
double ks_side_heights_width(ks_scene *scene, const ks_facts *facts);

/* Heights above the floor, from `right` to `edge`, not higher up the sheet than `top`. */
void ks_side_heights(const ks_side *side, double right, double edge, double top);

/* Which side is which, under the drawing. */
void ks_side_names(const ks_side *side, double right);

#endif
