#include "shape/plane.h"

/* A corner may turn inward by so much of the product of its edges' lengths and still count as
 * straight: what turning does to three vertices in line. */
static const double straight = 1e-9;

bool ks_outline_convex(const ks_outline *shape)
{
    for (int i = 0; shape->n > 3 && i < shape->n; i++) {
        ks_point before = shape->at[i > 0 ? i - 1 : shape->n - 1];
        ks_point in = minus(shape->at[i], before), out = minus(next_of(shape, i), shape->at[i]);
        if (cross(in, out) < -straight * sqrt(dot(in, in) * dot(out, out)))
            return false;
    }
    return true;
}

ks_box ks_outline_box(const ks_outline *shape)
{
    ks_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (int i = 0; i < shape->n; i++) {
        ks_point p = shape->at[i];
        box.x0 = p.x < box.x0 ? p.x : box.x0;
        box.y0 = p.y < box.y0 ? p.y : box.y0;
        box.x1 = p.x > box.x1 ? p.x : box.x1;
        box.y1 = p.y > box.y1 ? p.y : box.y1;
    }
    double r = shape->round;
    return (ks_box){box.x0 - r, box.y0 - r, box.x1 + r, box.y1 + r};
}

double ks_outline_reach(const ks_outline *shape)
{
    double most = 0;
    for (int i = 0; i < shape->n; i++) {
        double squared = dot(shape->at[i], shape->at[i]);
        most = squared > most ? squared : most;
    }
    return sqrt(most) + shape->round;
}
