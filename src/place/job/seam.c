#include "place/job/seam.h"

#include <math.h>

/* A seam is closed when a disc of this radius cannot drop into it. */
#define SEAM_MM 10.0
enum { DIRECTIONS = 24, INSETS = 40 };

typedef struct {
    const ks_outline *shelves;
    int n;
    ks_point around[DIRECTIONS];
} shelving;

static double off_shelves(const shelving *s, ks_point p)
{
    double least = INFINITY;
    for (int i = 0; i < s->n; i++) {
        double d = ks_outline_from_point(&s->shelves[i], p);
        least = d < least ? d : least;
    }
    return least;
}

/* No disc of the seam's radius reaches the point from outside without meeting a shelf. */
static bool is_carried(const shelving *s, ks_point p)
{
    if (off_shelves(s, p) <= 0)
        return true;
    for (int i = 0; i < DIRECTIONS; i++) {
        ks_point centre = {p.x + SEAM_MM * s->around[i].x, p.y + SEAM_MM * s->around[i].y};
        if (off_shelves(s, centre) > SEAM_MM - 0.2)
            return false;
    }
    return true;
}

static bool edge_is_carried(const shelving *s, const ks_outline *hull, double inset)
{
    for (int i = 0; i < hull->n; i++) {
        ks_point a = hull->at[i], b = hull->at[(i + 1) % hull->n];
        double dx = b.x - a.x, dy = b.y - a.y, length = sqrt(dx * dx + dy * dy);
        if (!(length > 0))
            continue;
        double out = hull->round - inset;
        int steps = (int)(length / 0.5) + 1;
        for (int k = 0; k <= steps; k++) {
            double t = (double)k / steps;
            ks_point p = {a.x + t * dx + out * dy / length, a.y + t * dy - out * dx / length};
            if (!is_carried(s, p))
                return false;
        }
    }
    return true;
}

static bool middle_is_carried(const shelving *s, const ks_outline *hull, double inset)
{
    ks_box box = ks_outline_box(hull);
    for (double x = box.x0; x <= box.x1; x += 4)
        for (double y = box.y0; y <= box.y1; y += 4) {
            ks_point p = {x, y};
            if (ks_outline_from_point(hull, p) < -inset - 0.5 && !is_carried(s, p))
                return false;
        }
    return true;
}

double ks_seam_inset_mm(const ks_outline *shelves, int n, ks_arena *arena)
{
    if (n <= 1)
        return 0;
    shelving s = {.shelves = shelves, .n = n};
    for (int i = 0; i < DIRECTIONS; i++) {
        ks_rotation turn = ks_rotation_of(360.0 * i / DIRECTIONS);
        s.around[i] = (ks_point){turn.c, turn.s};
    }
    ks_outline hull = ks_outline_hull(shelves, n, arena);
    for (int i = 0; i < INSETS; i++) {
        double inset = 0.5 * i;
        if (edge_is_carried(&s, &hull, inset))
            return middle_is_carried(&s, &hull, inset) ? inset : -1;
    }
    return -1;
}
