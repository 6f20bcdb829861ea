/* nearest.h: where two convex cores come nearest, and how far one would have to be pushed. */
#ifndef KILNSTOW_PACK_INSTANCE_NEAREST_H
#define KILNSTOW_PACK_INSTANCE_NEAREST_H

#include "pack/instance/core.h"

/* Nearest places of a and b: the gap between them (negative: the least push that parts them), the
 * unit vector along which b has to move, and the place on each where it is measured. */
typedef struct {
    double gap;
    double nx, ny;
    double ax, ay, bx, by;
} ks_nearest_places;

/* False when the cores are at least `need` apart; then *touch is not filled. */
bool ks_nearest_cores(const ks_core *a, const ks_core *b, double need, ks_nearest_places *touch);

/* Distance from a point to a core, negative inside; *touch as with the point for b. */
double ks_nearest_point(const ks_core *core, double x, double y, ks_nearest_places *touch);

#endif
