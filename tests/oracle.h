/* oracle.h: outlines as GEOS sees them: a second opinion on distance, containment and area. */
#ifndef KILNSTOW_TESTS_ORACLE_H
#define KILNSTOW_TESTS_ORACLE_H

#include "kilnstow/shape.h"

#include <geos_c.h>
#include <stdint.h>

void oracle_start(void);
void oracle_finish(void);

/* The polygon, segment or point without its round. */
GEOSGeometry *oracle_core(const ks_outline *shape);

/* The whole outline; its round is drawn by chords that lie within it, by no more than
 * oracle_error(). */
GEOSGeometry *oracle_whole(const ks_outline *shape);
double oracle_error(const ks_outline *shape);

double oracle_distance(const GEOSGeometry *a, const GEOSGeometry *b);
double oracle_area(const GEOSGeometry *a);

/* Area that two have in common. */
double oracle_common(const GEOSGeometry *a, const GEOSGeometry *b);

/* Distance from a to the boundary of b. */
double oracle_to_boundary(const GEOSGeometry *a, const GEOSGeometry *b);

/* Greatest distance from b of a's boundary points, tried every `step` mm. */
double oracle_sticks_out(const GEOSGeometry *a, const GEOSGeometry *b, double step);

/* Repeatable random numbers (splitmix64): in [0, 1), and between two values. */
double random_share(uint64_t *seed);
double random_between(uint64_t *seed, double least, double most);

/* A disc, capsule, convex or concave polygon, with or without a round, about `size` across,
 * somewhere within `spread` of the origin. */
typedef enum {
    ANY_KIND = -1,
    DISC,
    CAPSULE,
    CONVEX,
    CONVEX_ROUND,
    STAR,
    STAR_ROUND,
    KINDS
} outline_kind;
ks_outline random_outline(uint64_t *seed, outline_kind kind, double size, double spread,
                          ks_arena *arena);

#endif
