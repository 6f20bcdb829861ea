#include "shape/plane.h"

static const double spare_mm = 0.05;
enum { DEEPEST = 10 };

/* The ellipse shrunk by its least radius of curvature, which the outline's round gives back: so a
 * nearly round one takes few vertices. Points of it are known by their outward normal. */
typedef struct {
    double a, b, round;
    bool around;
    int n, room;
    ks_point *at;
    ks_arena *arena;
} curve;

static double support(const curve *c, ks_point normal)
{
    double x = c->a * normal.x, y = c->b * normal.y;
    return sqrt(x * x + y * y) - c->round;
}

static ks_point touching(const curve *c, ks_point normal)
{
    double h = support(c, normal) + c->round;
    return (ks_point){(c->a * c->a / h - c->round) * normal.x,
                      (c->b * c->b / h - c->round) * normal.y};
}

/* Where the tangents with these normals meet. */
static ks_point meeting(const curve *c, ks_point one, ks_point other)
{
    double h = support(c, one), k = support(c, other), det = cross(one, other);
    return (ks_point){(h * other.y - k * one.y) / det, (k * one.x - h * other.x) / det};
}

static void add_vertex(curve *c, ks_point p)
{
    c->at = KS_GROW(c->arena, c->at, c->n, &c->room, ks_point);
    c->at[c->n++] = p;
}

/* From normal `one` to `other`: around it, the corner where their tangents meet; within it, the
 * point at `one`. The curve runs between chord and corner, so their distance bounds both errors;
 * around, the corner is not farther off than from the point that the middle normal touches. */
static void add_arc(curve *c, ks_point one, ks_point other, int depth)
{
    ks_point middle = {one.x + other.x, one.y + other.y};
    double long_ = length(middle);
    middle = (ks_point){middle.x / long_, middle.y / long_};
    ks_point p = touching(c, one), q = touching(c, other), corner = meeting(c, one, other);
    double squared =
        c->around ? dot(minus(corner, touching(c, middle)), minus(corner, touching(c, middle)))
                  : ks_segment_squared(corner, p, q);
    if (squared <= spare_mm * spare_mm || depth == DEEPEST) {
        add_vertex(c, c->around ? corner : p);
        return;
    }
    add_arc(c, one, middle, depth + 1);
    add_arc(c, middle, other, depth + 1);
}

ks_outline ks_outline_ellipse(double x, double y, double a, double b, bool around, ks_arena *arena)
{
    if (a == b)
        return ks_outline_disc(x, y, a, arena);
    curve c = {.a = a, .b = b, .around = around, .arena = arena};
    c.round = a > b ? b * b / a : a * a / b;
    const ks_point quarters[5] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {1, 0}};
    for (int i = 0; i < 4; i++)
        add_arc(&c, quarters[i], quarters[i + 1], 0);
    for (int i = 0; i < c.n; i++)
        c.at[i] = (ks_point){c.at[i].x + x, c.at[i].y + y};
    return (ks_outline){c.n, c.at, c.round};
}
