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

static double around_edges(const ks_outline *shape)
{
    double sum = 0;
    for (int i = 0; i < shape->n; i++)
        sum += length(minus(next_of(shape, i), shape->at[i]));
    return sum;
}

static double core_area(const ks_outline *shape)
{
    double twice = 0;
    for (int i = 1; i + 1 < shape->n; i++)
        twice += turn_of(shape->at[0], shape->at[i], shape->at[i + 1]);
    return twice / 2;
}

/* Steiner's formula: exact for convex outlines, too much for concave ones. */
double ks_outline_area(const ks_outline *shape)
{
    double r = shape->round;
    return core_area(shape) + r * around_edges(shape) + KS_PI * r * r;
}

/* Area and first moments about the first vertex. */
typedef struct {
    double area, x, y;
} moments;

static void add(moments *sum, double area, ks_point at)
{
    sum->area += area;
    sum->x += area * at.x;
    sum->y += area * at.y;
}

static void add_core(moments *sum, const ks_outline *shape)
{
    for (int i = 1; i + 1 < shape->n; i++) {
        ks_point a = minus(shape->at[i], shape->at[0]), b = minus(shape->at[i + 1], shape->at[0]);
        add(sum, cross(a, b) / 2, (ks_point){(a.x + b.x) / 3, (a.y + b.y) / 3});
    }
}

static ks_point outward_normal(ks_point from, ks_point to)
{
    ks_point along = minus(to, from);
    double long_ = length(along);
    return long_ > 0 ? (ks_point){along.y / long_, -along.x / long_} : (ks_point){0, 0};
}

/* The strip beside edge i and the sector round the vertex at its end. */
static void add_rim(moments *sum, const ks_outline *shape, int i)
{
    double r = shape->round;
    ks_point from = shape->at[i], to = next_of(shape, i);
    ks_point after = next_of(shape, i + 1 < shape->n ? i + 1 : 0);
    ks_point here = outward_normal(from, to), there = outward_normal(to, after);
    ks_point a = minus(from, shape->at[0]), b = minus(to, shape->at[0]);
    ks_point middle = {(a.x + b.x + r * here.x) / 2, (a.y + b.y + r * here.y) / 2};
    add(sum, r * length(minus(to, from)), middle);
    add(sum, r * r * ks_angle_between(here, there) / 2, b);
    sum->x += r * r * r / 3 * (there.y - here.y);
    sum->y += r * r * r / 3 * (here.x - there.x);
}

/* Exact where the outline is convex or has no round; else inward corners take their sector away,
 * which is right to the third power of the round. */
ks_point ks_outline_centroid(const ks_outline *shape)
{
    moments sum = {0, 0, 0};
    add_core(&sum, shape);
    for (int i = 0; shape->n > 1 && shape->round > 0 && i < shape->n; i++)
        add_rim(&sum, shape, i);
    if (!(sum.area > 0))
        return shape->at[0];
    return (ks_point){shape->at[0].x + sum.x / sum.area, shape->at[0].y + sum.y / sum.area};
}
