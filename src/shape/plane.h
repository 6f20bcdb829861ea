/* plane.h: points, edges and angles: the small change of this room. */
#ifndef KILNSTOW_SHAPE_PLANE_H
#define KILNSTOW_SHAPE_PLANE_H

#include "kilnstow/shape.h"

#include <math.h>

#define KS_PI 3.14159265358979323846

static inline ks_point minus(ks_point a, ks_point b)
{
    return (ks_point){a.x - b.x, a.y - b.y};
}

static inline double dot(ks_point a, ks_point b)
{
    return a.x * b.x + a.y * b.y;
}

static inline double cross(ks_point a, ks_point b)
{
    return a.x * b.y - a.y * b.x;
}

static inline double length(ks_point a)
{
    return sqrt(dot(a, a));
}

/* Twice the area of the triangle a, b, c; positive when it runs counter-clockwise. */
static inline double turn_of(ks_point a, ks_point b, ks_point c)
{
    return cross(minus(b, a), minus(c, a));
}

static inline ks_point next_of(const ks_outline *shape, int i)
{
    return shape->at[i + 1 < shape->n ? i + 1 : 0];
}

/* Edges worth visiting: a disc has its centre as one edge of no length, a capsule one. */
static inline int edges_of(const ks_outline *shape)
{
    return shape->n < 3 ? 1 : shape->n;
}

/* Between the boxes of two edges: no more than between the edges. */
static inline double squared_between_boxes(ks_box a, ks_box b)
{
    double x = a.x0 > b.x1 ? a.x0 - b.x1 : b.x0 > a.x1 ? b.x0 - a.x1 : 0;
    double y = a.y0 > b.y1 ? a.y0 - b.y1 : b.y0 > a.y1 ? b.y0 - a.y1 : 0;
    return x * x + y * y;
}

static inline ks_box box_of_edge(ks_point a, ks_point b)
{
    return (ks_box){a.x < b.x ? a.x : b.x, a.y < b.y ? a.y : b.y, a.x < b.x ? b.x : a.x,
                    a.y < b.y ? b.y : a.y};
}

double ks_segment_squared(ks_point p, ks_point a, ks_point b);
double ks_segments_squared(ks_point a, ks_point b, ks_point c, ks_point d);

/* Whether p is within the polygon of the vertices alone; never for fewer than three. */
bool ks_core_holds(const ks_outline *shape, ks_point p);

/* From the vertices' polygon: 0 within it. */
double ks_core_distance(const ks_outline *shape, ks_point p);

/* Square of the least distance between the edges of two outlines, their rounds left out. */
double ks_edges_squared(const ks_outline *a, const ks_outline *b);

/* Angle from unit vector a counter-clockwise to b, in (-pi, pi]. */
double ks_angle_between(ks_point a, ks_point b);

#endif
