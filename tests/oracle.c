#include "oracle.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

enum { QUARTER = 64 }; /* chords to a quarter circle */

static void told(const char *format, ...)
{
    va_list args;
    va_start(args, format);
    vfprintf(stderr, format, args);
    va_end(args);
    fputc('\n', stderr);
}

void oracle_start(void)
{
    initGEOS(told, told);
}

void oracle_finish(void)
{
    finishGEOS();
}

static GEOSCoordSequence *points_of(const ks_point *at, int n, int closed)
{
    GEOSCoordSequence *points = GEOSCoordSeq_create((unsigned)(n + closed), 2);
    for (int i = 0; i < n + closed; i++)
        GEOSCoordSeq_setXY(points, (unsigned)i, at[i % n].x, at[i % n].y);
    return points;
}

GEOSGeometry *oracle_core(const ks_outline *shape)
{
    if (shape->n == 1)
        return GEOSGeom_createPoint(points_of(shape->at, 1, 0));
    if (shape->n == 2)
        return GEOSGeom_createLineString(points_of(shape->at, 2, 0));
    return GEOSGeom_createPolygon(GEOSGeom_createLinearRing(points_of(shape->at, shape->n, 1)),
                                  NULL, 0);
}

/* GEOS thins the inward corners of what it grows, so concave polygons are grown edge by edge. */
static GEOSGeometry *grown_by_edges(const ks_outline *shape)
{
    GEOSGeometry *whole = oracle_core(shape);
    for (int i = 0; i < shape->n; i++) {
        const ks_point ends[2] = {shape->at[i], shape->at[(i + 1) % shape->n]};
        GEOSGeometry *edge = GEOSGeom_createLineString(points_of(ends, 2, 0));
        GEOSGeometry *grown = GEOSBuffer(edge, shape->round, QUARTER);
        GEOSGeometry *both = GEOSUnion(whole, grown);
        GEOSGeom_destroy(edge);
        GEOSGeom_destroy(grown);
        GEOSGeom_destroy(whole);
        whole = both;
    }
    return whole;
}

GEOSGeometry *oracle_whole(const ks_outline *shape)
{
    if (!(shape->round > 0))
        return oracle_core(shape);
    if (!ks_outline_convex(shape))
        return grown_by_edges(shape);
    GEOSGeometry *core = oracle_core(shape);
    GEOSGeometry *whole = GEOSBuffer(core, shape->round, QUARTER);
    GEOSGeom_destroy(core);
    return whole;
}

/* GEOS rounds the number of chords of a short arc down, so one may span half as much again. */
double oracle_error(const ks_outline *shape)
{
    return shape->round * (1 - cos(1.5 * acos(-1) / (4 * QUARTER))) + 1e-9;
}

double oracle_distance(const GEOSGeometry *a, const GEOSGeometry *b)
{
    double distance = NAN;
    GEOSDistance(a, b, &distance);
    return distance;
}

double oracle_area(const GEOSGeometry *a)
{
    double area = NAN;
    GEOSArea(a, &area);
    return area;
}

double oracle_common(const GEOSGeometry *a, const GEOSGeometry *b)
{
    GEOSGeometry *common = GEOSIntersection(a, b);
    double area = oracle_area(common);
    GEOSGeom_destroy(common);
    return area;
}

double oracle_to_boundary(const GEOSGeometry *a, const GEOSGeometry *b)
{
    GEOSGeometry *boundary = GEOSBoundary(b);
    double distance = oracle_distance(a, boundary);
    GEOSGeom_destroy(boundary);
    return distance;
}

static double farthest_vertex(const GEOSGeometry *line, const GEOSGeometry *from)
{
    const GEOSCoordSequence *points = GEOSGeom_getCoordSeq(line);
    unsigned n = 0;
    GEOSCoordSeq_getSize(points, &n);
    double most = 0;
    for (unsigned i = 0; i < n; i++) {
        double x, y;
        GEOSCoordSeq_getXY(points, i, &x, &y);
        GEOSGeometry *point = GEOSGeom_createPointFromXY(x, y);
        most = fmax(most, oracle_distance(point, from));
        GEOSGeom_destroy(point);
    }
    return most;
}

double oracle_sticks_out(const GEOSGeometry *a, const GEOSGeometry *b, double step)
{
    GEOSGeometry *fine = GEOSDensify(a, step);
    const GEOSGeometry *ring =
        GEOSGeomTypeId(fine) == GEOS_POLYGON ? GEOSGetExteriorRing(fine) : fine;
    double most = farthest_vertex(ring, b);
    GEOSGeom_destroy(fine);
    return most;
}

double random_share(uint64_t *seed)
{
    uint64_t z = *seed += 0x9E3779B97F4A7C15u;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return (double)((z ^ (z >> 31)) >> 11) / 9007199254740992.0;
}

double random_between(uint64_t *seed, double least, double most)
{
    return least + (most - least) * random_share(seed);
}

static int ascending(const void *a, const void *b)
{
    const double *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

/* Round the origin by angle, so it cannot cross itself; convex when all radii are one. */
static ks_outline round_the_origin(uint64_t *seed, bool star, double r, ks_arena *arena)
{
    int n = 4 + (int)(8 * random_share(seed)); /* so that no two follow each other by half a turn */
    double *angle = KS_TAKE(arena, n, double);
    for (int i = 0; i < n; i++)
        angle[i] = (i + 0.8 * random_share(seed)) * 6.283185307179586 / n;
    qsort(angle, (size_t)n, sizeof *angle, ascending);
    ks_point *at = KS_TAKE(arena, n, ks_point);
    for (int i = 0; i < n; i++) {
        double reach = star ? r * random_between(seed, 0.2, 1) : r;
        at[i] = (ks_point){reach * cos(angle[i]), reach * sin(angle[i])};
    }
    return (ks_outline){n, at, 0};
}

ks_outline random_outline(uint64_t *seed, outline_kind kind, double size, double spread,
                          ks_arena *arena)
{
    outline_kind chosen = kind == ANY_KIND ? (outline_kind)(KINDS * random_share(seed)) : kind;
    double r = size / 2 * random_between(seed, 0.5, 1);
    ks_outline shape;
    if (chosen == DISC)
        shape = ks_outline_disc(0, 0, r, arena);
    else if (chosen == CAPSULE)
        shape = ks_outline_rectangle(2 * r, r / 2, r / 4, arena);
    else
        shape = round_the_origin(seed, chosen >= STAR, r, arena);
    if (chosen == CONVEX_ROUND || chosen == STAR_ROUND)
        shape.round = random_between(seed, 0.5, r / 3);
    ks_stand stand = {random_between(seed, -spread, spread), random_between(seed, -spread, spread),
                      floor(random_between(seed, 0, 360000)) / 1000};
    return ks_outline_place(&shape, stand, arena);
}
