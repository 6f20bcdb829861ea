#include "shape/plane.h"

#include <stdlib.h>

/* By how much the hull of unequal rounds may be too large. */
static const double spare_mm = 0.05;

static int by_x_then_y(const void *left, const void *right)
{
    const ks_point *a = left, *b = right;
    if (a->x != b->x)
        return a->x < b->x ? -1 : 1;
    return (a->y > b->y) - (a->y < b->y);
}

/* One side of the hull, over points in ascending order of x (step 1) or descending (step -1). */
static int chain(const ks_point *points, int n, int step, ks_point *hull)
{
    int kept = 0;
    for (int i = 0; i < n; i++) {
        ks_point p = points[step > 0 ? i : n - 1 - i];
        while (kept >= 2 && turn_of(hull[kept - 2], hull[kept - 1], p) <= 0)
            kept--;
        hull[kept++] = p;
    }
    return kept;
}

/* Andrew's monotone chain (1979). Sorts `points`. */
static ks_outline hull_of(ks_point *points, int n, double round, ks_arena *arena)
{
    qsort(points, (size_t)n, sizeof *points, by_x_then_y);
    int distinct = 1;
    for (int i = 1; i < n; i++)
        if (by_x_then_y(&points[i], &points[distinct - 1]) != 0)
            points[distinct++] = points[i];
    ks_point *hull = KS_TAKE(arena, 2 * distinct + 2, ks_point);
    if (distinct == 1) {
        hull[0] = points[0];
        return (ks_outline){1, hull, round};
    }
    int kept = chain(points, distinct, 1, hull) - 1;
    kept += chain(points, distinct, -1, hull + kept) - 1;
    return (ks_outline){kept, hull, round};
}

/* Sides of a polygon around a circle whose corners stand out by no more than spare_mm. */
static int sides_around(double r)
{
    int sides = 8;
    while (sides < 1024 && r * (1 / ks_rotation_of(180.0 / sides).c - 1) > spare_mm)
        sides += 4;
    return sides;
}

static int add_around(ks_point centre, double r, ks_point *points)
{
    if (!(r > 0)) {
        points[0] = centre;
        return 1;
    }
    int sides = sides_around(r);
    double corner = r / ks_rotation_of(180.0 / sides).c;
    for (int i = 0; i < sides; i++) {
        ks_rotation to = ks_rotation_of(360.0 * i / sides);
        points[i] = (ks_point){centre.x + corner * to.c, centre.y + corner * to.s};
    }
    return sides;
}

ks_outline ks_outline_hull(const ks_outline *shapes, int count, ks_arena *arena)
{
    double least = INFINITY;
    size_t room = 1;
    for (int i = 0; i < count; i++)
        least = shapes[i].round < least ? shapes[i].round : least;
    for (int i = 0; i < count; i++)
        room += (size_t)shapes[i].n *
                (shapes[i].round > least ? (size_t)sides_around(shapes[i].round - least) : 1);
    ks_point *points = KS_TAKE(arena, room, ks_point);
    int n = 0;
    for (int i = 0; i < count; i++)
        for (int k = 0; k < shapes[i].n; k++)
            n += add_around(shapes[i].at[k], shapes[i].round - least, points + n);
    return n > 0 ? hull_of(points, n, least, arena) : (ks_outline){1, points, 0};
}
