#include "place/bound/cell.h"

#include <math.h>

#define PI 3.14159265358979323846

/* Taken off what must not be too large: far more than the rounding of the sums behind it. */
#define CELL_SLACK 1e-9

static double tangent(double degrees)
{
    ks_rotation turn = ks_rotation_of(degrees);
    return turn.s / turn.c;
}

/* Half axes and their direction of the ellipse that has the polygon's second moments. */
typedef struct {
    ks_point middle;
    double a, b, c, s;
} oval;

static oval oval_along(double xx, double xy, double yy, ks_point middle)
{
    double mean = (xx + yy) / 2, half = (xx - yy) / 2, apart = sqrt(half * half + xy * xy);
    double c = half + apart, s = xy, length = sqrt(c * c + s * s);
    oval o = {middle, sqrt(mean + apart), sqrt(fmax(mean - apart, 0)), 0, 1};
    if (length > 1e-12 * mean) {
        o.c = c / length;
        o.s = s / length;
    } else if (half >= 0) {
        o.c = 1;
        o.s = 0;
    }
    return o;
}

static oval oval_of(const ks_outline *shape)
{
    ks_point middle = ks_outline_centroid(shape);
    double xx = 0, xy = 0, yy = 0;
    for (int i = 0; i < shape->n; i++) {
        ks_point p = shape->at[i], q = shape->at[(i + 1) % shape->n];
        double x0 = p.x - middle.x, y0 = p.y - middle.y, x1 = q.x - middle.x, y1 = q.y - middle.y;
        double cross = x0 * y1 - x1 * y0;
        xx += cross * (x0 * x0 + x0 * x1 + x1 * x1);
        yy += cross * (y0 * y0 + y0 * y1 + y1 * y1);
        xy += cross * (x0 * y1 + 2 * x0 * y0 + 2 * x1 * y1 + x1 * y0) / 2;
    }
    return oval_along(xx, xy, yy, middle);
}

/* By how much the oval may be scaled so that it stays left of all edges. */
static double scale_within(const oval *o, const ks_outline *shape)
{
    double least = INFINITY;
    for (int i = 0; i < shape->n; i++) {
        ks_point p = shape->at[i], q = shape->at[(i + 1) % shape->n];
        double dx = q.x - p.x, dy = q.y - p.y, length = sqrt(dx * dx + dy * dy);
        if (!(length > 0))
            continue;
        double nx = dy / length, ny = -dx / length;
        double off = nx * (p.x - o->middle.x) + ny * (p.y - o->middle.y);
        double along = o->a * (nx * o->c + ny * o->s), across = o->b * (ny * o->c - nx * o->s);
        double reach = sqrt(along * along + across * across);
        if (reach > 0 && off / reach < least)
            least = off / reach;
    }
    return least > 0 && least < INFINITY ? least : 0;
}

ks_cell_body ks_cell_body_of(const ks_outline *shape, double grow_mm)
{
    ks_outline grown = *shape;
    grown.round += grow_mm;
    ks_cell_body body = {.area_mm2 = ks_outline_area(&grown)};
    double a = 0, b = 0;
    if (shape->n >= 3) {
        oval o = oval_of(shape);
        double scale = scale_within(&o, shape);
        a = o.a * scale;
        b = o.b * scale;
    }
    /* An ellipse grown by `round` holds the ellipse whose half axes are longer by that. */
    body.oval_mm2 = PI * (a + grown.round) * (b + grown.round);
    body.disc_mm = (a < b ? a : b) + grown.round;
    return body;
}

double ks_cell_area_mm2(const ks_cell_body *body, int sides)
{
    /* Around an ellipse no polygon is smaller than the image of the regular one around a disc. */
    double around = body->oval_mm2 * sides / PI * tangent(180.0 / sides);
    return around > body->area_mm2 ? around : body->area_mm2;
}

/* A disc that touches a round wall from within, the wall seen from the disc's middle. */
typedef struct {
    double disc_mm, off_mm, wall_mm;
} leaning;

/* Distance to the wall so many degrees off the contact, or less; it never falls with the degrees.
 * A disc that does not touch has the wall farther off in front, and beside and behind it no nearer
 * than here at a right angle. */
static double wall_at(const leaning *l, double degrees)
{
    ks_rotation turn = ks_rotation_of(degrees < 90 ? degrees : 90);
    double across = l->off_mm * turn.s;
    return sqrt(l->wall_mm * l->wall_mm - across * across) - l->off_mm * turn.c;
}

/* Area seen along the wall on both sides of the contact, up to so many degrees: of triangles within
 * it, as what is seen is convex. */
static double seen_mm2(const leaning *l, double degrees)
{
    enum { STEPS = 48 };
    double before = wall_at(l, 0), sum = 0;
    for (int i = 1; i <= STEPS; i++) {
        double after = wall_at(l, degrees * i / STEPS);
        sum += before * after;
        before = after;
    }
    return sum * ks_rotation_of(degrees / STEPS).s;
}

/* With the wall seen over 2 f degrees and s sides sharing the others the cell has
 * seen(f) + s r^2 tan((180 - f) / s) at the least: wherever sides and wall take turns, the wall is
 * nearest about the contact, and equal shares are best for the sides. That is convex in f; it is
 * least where the wall and the ends of the sides are equally far off. */
double ks_cell_wall_area_mm2(const ks_cell_body *body, int sides, double wall_mm)
{
    double r = body->disc_mm, low = 180 - 90.0 * sides, high = 180;
    if (r >= wall_mm || sides == 0)
        return PI * wall_mm * wall_mm;
    leaning l = {r, wall_mm - r, wall_mm};
    low = low > 0 ? low : 0;
    for (int i = 0; i < 40; i++) {
        double f = (low + high) / 2;
        if (wall_at(&l, f) * ks_rotation_of((180 - f) / sides).c < r)
            low = f;
        else
            high = f;
    }
    double around = seen_mm2(&l, high) + sides * r * r * tangent((180 - high) / sides);
    return around > body->area_mm2 ? around : body->area_mm2;
}

double ks_cell_need_mm2(const ks_cell_body *body, const ks_cell_rule *rule)
{
    double area = body->area_mm2, price = rule->side_mm2, least = INFINITY;
    if (!(price > 0))
        return area * (1 - CELL_SLACK);
    for (int k = 3; area + price * (k - 6) < least; k++)
        least = fmin(least, ks_cell_area_mm2(body, k) + price * (k - 6));
    /* One that fills the region alone has no other to touch: its sum is -6 too. */
    if (rule->wall_mm > 0)
        least = fmin(least, PI * rule->wall_mm * rule->wall_mm - 6 * price);
    for (int s = 1; rule->wall_mm > 0 && area + price * (s - 4) < least; s++)
        least = fmin(least, ks_cell_wall_area_mm2(body, s, rule->wall_mm) + price * (s - 4));
    least -= CELL_SLACK * area;
    return least > 0 ? least : 0;
}
