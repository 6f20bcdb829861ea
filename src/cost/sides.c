#include "cost/sides.h"

#include <math.h>

typedef struct {
    int n;
    const ks_part *parts;
} body;

/* How broad the body is, seen along the way across (ux, uy), of length 1. */
static double breadth_mm(const body *of, double ux, double uy)
{
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < of->n; i++) {
        const ks_outline *outline = &of->parts[i].outline;
        for (int k = 0; k < outline->n; k++) {
            double along = outline->at[k].x * ux + outline->at[k].y * uy;
            low = fmin(low, along - outline->round);
            high = fmax(high, along + outline->round);
        }
    }
    return high > low ? high - low : 0;
}

/* A way counts as narrower only where it is so by more than rounding, so the way that a piece was
 * told wins where several are as narrow: a mug is as wide as its body, and as long as body and
 * handle. */
static void try_way(const body *of, double ux, double uy, ks_sides *least)
{
    double a = breadth_mm(of, ux, uy), b = breadth_mm(of, -uy, ux);
    if (least->length_mm > 0 && !(fmin(a, b) < least->width_mm * (1 - 1e-6)))
        return;
    least->length_mm = fmax(a, b);
    least->width_mm = fmin(a, b);
}

/* A convex polygon is narrowest across one of its edges (M. E. Houle and G. T. Toussaint, 1988). */
static void try_edges(const body *of, const ks_outline *hull, ks_sides *least)
{
    for (int i = 0; i < hull->n; i++) {
        ks_point a = hull->at[i], b = hull->at[(i + 1) % hull->n];
        double length = hypot(b.x - a.x, b.y - a.y);
        if (length > 0)
            try_way(of, (b.x - a.x) / length, (b.y - a.y) / length, least);
    }
}

ks_sides ks_parts_sides(int n, const ks_part *parts)
{
    ks_arena scratch = {0};
    body of = {n, parts};
    ks_sides sides = {0};
    double low = INFINITY, high = -INFINITY;
    ks_outline *outlines = KS_TAKE(&scratch, n, ks_outline);
    for (int i = 0; i < n; i++) {
        outlines[i] = parts[i].outline;
        low = fmin(low, parts[i].from_mm);
        high = fmax(high, parts[i].to_mm);
    }
    sides.height_mm = n > 0 ? high - low : 0;
    if (n > 0) {
        ks_outline hull = ks_outline_hull(outlines, n, &scratch);
        try_way(&of, 1, 0, &sides);
        try_edges(&of, &hull, &sides);
    }
    ks_arena_finish(&scratch);
    return sides;
}
