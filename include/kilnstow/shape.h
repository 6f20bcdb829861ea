/* shape.h: outlines in the plane, seen from above: x right, y away from the operator, in mm. */
#ifndef KILNSTOW_SHAPE_H
#define KILNSTOW_SHAPE_H

#include "kilnstow/arena.h"

#include <stdbool.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    double x, y; /* mm */
} ks_point;

/* A polygon grown by `round`. One vertex makes a disc, two a capsule, three or more a simple
 * polygon in counter-clockwise order, which may be concave. So discs, ovals and rounded
 * rectangles are exact, and growing an outline is adding to `round`. */
typedef struct {
    int n;              /* >= 1 */
    const ks_point *at; /* n vertices, owned by whoever made the outline */
    double round;       /* mm, >= 0 */
} ks_outline;

/* A turn as cosine and sine. Made by + - x / and square root alone, so that it has the same bits
 * on every machine; quarter turns are exact. */
typedef struct {
    double c, s;
} ks_rotation;

/* Where and how a thing stands: its own origin at (x, y), turned counter-clockwise. */
typedef struct {
    double x, y;     /* mm */
    double turn_deg; /* 0 <= turn < 360, in steps of KS_TURN_STEP */
} ks_stand;

#define KS_TURN_STEP 0.001 /* degrees */
#define KS_GRID 0.001 /* mm: the step of coordinates in a plan, and what a rule may be short by */

typedef struct {
    double x0, y0, x1, y1; /* mm */
} ks_box;

/* The rotation by so many degrees, in steps of KS_TURN_STEP, the same bits on every machine;
 * quarter turns exact. */
ks_rotation ks_rotation_of(double turn_deg);

/* `shape` turned and moved to `stand`; vertices in `arena`. */
ks_outline ks_outline_place(const ks_outline *shape, ks_stand stand, ks_arena *arena);

/* The same into vertices the caller holds (shape->n of them): for the packer's inner loop. */
ks_outline ks_outline_placed_in(const ks_outline *shape, ks_stand stand, ks_point *vertices);

/* Vertices and radius on the plan's grid. */
ks_outline ks_outline_gridded(const ks_outline *shape, ks_arena *arena);

/* Clear distance between two outlines, mm. Negative where they overlap: then minus the length of
 * the least push that would part their convex hulls, or a value between that and 0 where they are
 * concave; always < 0 for interiors that meet. */
double ks_outline_distance(const ks_outline *a, const ks_outline *b);

/* Whether that distance is less than `mm`, found sooner where they overlap. Where one of them is
 * concave and they overlap, they may be found deeper in one another than the distance tells. */
bool ks_outline_nearer(const ks_outline *a, const ks_outline *b, double mm);

/* How far `inner` lies within `outer`: the least distance from inner to the outside of outer, mm;
 * negative where it sticks out, by how far its farthest point does. Exact for a convex outer. For a
 * concave one too if it lies within and outer has no round; else a little less than there is may be
 * told (or a little farther out), never more. */
double ks_outline_inside(const ks_outline *inner, const ks_outline *outer);

/* Distance from a point to an outline's boundary, negative inside: exact outside; inside as above.
 */
double ks_outline_from_point(const ks_outline *shape, ks_point p);

/* Its area, mm^2, its centre of area, the box around it, and its greatest distance from the origin,
 * mm; round included in all of them. */
double ks_outline_area(const ks_outline *shape);
ks_point ks_outline_centroid(const ks_outline *shape);
ks_box ks_outline_box(const ks_outline *shape);
double ks_outline_reach(const ks_outline *shape);

/* Convex hull of several outlines, each grown by its own round. Exact when the rounds are equal;
 * else it encloses them by at most 0.05 mm. */
ks_outline ks_outline_hull(const ks_outline *shapes, int count, ks_arena *arena);

/* Whether no straight line between two of its points leaves it. */
bool ks_outline_convex(const ks_outline *shape);

/* Cuts a simple polygon into convex polygons whose union it is; all share its round. How many. */
int ks_outline_convex_parts(const ks_outline *shape, ks_arena *arena, ks_outline **parts);

/* An ellipse with half axes a and b as a polygon: around it by at most 0.05 mm, or within it. */
ks_outline ks_outline_ellipse(double x, double y, double a, double b, bool around, ks_arena *arena);

/* A rectangle centred on the origin whose corners have radius `corner` (inside width x depth). */
ks_outline ks_outline_rectangle(double width, double depth, double corner, ks_arena *arena);

/* The same outline with fewer corners, around it or within it, nowhere farther from it than
 * `within_mm`. What cannot be told with fewer stays as it is, its corners then shared. */
ks_outline ks_outline_simplified(const ks_outline *shape, double within_mm, bool around,
                                 ks_arena *arena);

/* A disc of radius r, mm, about (x, y). */
ks_outline ks_outline_disc(double x, double y, double r, ks_arena *arena);

/* A regular polygon of `sides` whose sides touch the circle of diameter `across`, with one side
 * (not a corner) towards the operator. */
ks_outline ks_outline_regular(int sides, double across, ks_arena *arena);

/* NULL if the outline is one this program can use: n, simple, counter-clockwise, not degenerate;
 * else what is wrong, in words. */
const char *ks_outline_fault(const ks_outline *shape);

/* Smallest circle around the outline. */
typedef struct {
    ks_point centre;
    double r;
} ks_circle;
/* Round included; exact for its corners. */
ks_circle ks_outline_around(const ks_outline *shape);

#ifdef __cplusplus
}
#endif

#endif
