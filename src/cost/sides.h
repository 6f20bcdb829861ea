/* sides.h: length, width and height as they are measured with a ruler. */
#ifndef KILNSTOW_COST_SIDES_H
#define KILNSTOW_COST_SIDES_H

#include "kilnstow/piece.h"

/* Of the box around parts, handle, spout and setter too, that lies across where they are narrowest;
 * length >= width. */
typedef struct {
    double length_mm, width_mm, height_mm;
} ks_sides;
ks_sides ks_parts_sides(int n, const ks_part *parts);

#endif
