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

/* An arc: its ends, the point its middle normal touches, and where the tangents at them meet. */
typedef struct {
    ks_point start, middle, end, corner, first_corner, second_corner;
} arc;

static arc arc_between(const curve *c, ks_point one, ks_point middle, ks_point other)
{
    return (arc){touching(c, one),       touching(c, middle),     touching(c, other),
                 meeting(c, one, other), meeting(c, one, middle), meeting(c, middle, other)};
}

/* The curve runs between the chords through its three points and their tangents, so these bound
 * how far the corner lies from it, and how far it lies from the long chord. */
static double squared_error(const curve *c, const arc *of)
{
    double first, second;
    if (c->around) {
        first = ks_segment_squared(of->corner, of->start, of->middle);
        second = ks_segment_squared(of->corner, of->middle, of->end);
        return first < second ? first : second;
    }
    first = ks_segment_squared(of->first_corner, of->start, of->end);
    second = ks_segment_squared(of->second_corner, of->start, of->end);
    return first > second ? first : second;
}

/* From normal `one` to `other`: around the curve the corner of their tangents, within it the
 * point at `one`. */
static void add_arc(curve *c, ks_point one, ks_point other, int depth)
{
    ks_point middle = {one.x + other.x, one.y + other.y};
    double long_ = length(middle);
    middle = (ks_point){middle.x / long_, middle.y / long_};
    arc between = arc_between(c, one, middle, other);
    if (squared_error(c, &between) <= spare_mm * spare_mm || depth == DEEPEST) {
        add_vertex(c, c->around ? between.corner : between.start);
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
