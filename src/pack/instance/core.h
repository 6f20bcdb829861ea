/* core.h: convex polygons without their rounds, as bodies and walls are made of. */
#ifndef KILNSTOW_PACK_INSTANCE_CORE_H
#define KILNSTOW_PACK_INSTANCE_CORE_H

#include "kilnstow/shape.h"

/* A convex polygon without its round: corners and outward unit normals of the edges that start
 * there, counter-clockwise. One corner makes a point, two a stretch with two edges. */
typedef struct {
    int n;
    const double *x, *y, *nx, *ny;
} ks_core;

ks_core ks_core_of(const ks_outline *outline, ks_arena *arena);

#endif
