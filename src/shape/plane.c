#include "shape/plane.h"

double ks_segment_squared(ks_point p, ks_point a, ks_point b)
{
    ks_point along = minus(b, a), to = minus(p, a);
    double whole = dot(along, along), part = dot(to, along);
    if (part > 0 && whole > 0) {
        double share = part < whole ? part / whole : 1;
        to.x -= share * along.x;
        to.y -= share * along.y;
    }
    return dot(to, to);
}

static bool segments_cross(ks_point a, ks_point b, ks_point c, ks_point d)
{
    double abc = turn_of(a, b, c), abd = turn_of(a, b, d);
    if ((abc > 0) == (abd > 0) || abc == 0 || abd == 0)
        return false;
    double cda = turn_of(c, d, a), cdb = turn_of(c, d, b);
    return (cda > 0) != (cdb > 0) && cda != 0 && cdb != 0;
}

/* Segments that only touch have an end on the other, so the four ends find their distance 0. */
double ks_segments_squared(ks_point a, ks_point b, ks_point c, ks_point d)
{
    if (segments_cross(a, b, c, d))
        return 0;
    double ac = ks_segment_squared(a, c, d), bc = ks_segment_squared(b, c, d);
    double ca = ks_segment_squared(c, a, b), da = ks_segment_squared(d, a, b);
    double first = ac < bc ? ac : bc, second = ca < da ? ca : da;
    return first < second ? first : second;
}

bool ks_core_holds(const ks_outline *shape, ks_point p)
{
    bool within = false;
    for (int i = 0; shape->n >= 3 && i < shape->n; i++) {
        ks_point a = shape->at[i], b = next_of(shape, i);
        if ((a.y > p.y) == (b.y > p.y))
            continue;
        double side = turn_of(a, b, p);
        if (b.y > a.y ? side > 0 : side < 0)
            within = !within;
    }
    return within;
}

static double squared_to_edges(const ks_outline *shape, ks_point p)
{
    double least = INFINITY;
    for (int i = 0; i < edges_of(shape); i++) {
        double squared = ks_segment_squared(p, shape->at[i], next_of(shape, i));
        least = squared < least ? squared : least;
    }
    return least;
}

double ks_core_distance(const ks_outline *shape, ks_point p)
{
    return ks_core_holds(shape, p) ? 0 : sqrt(squared_to_edges(shape, p));
}

/* Within a concave polygon near one of its inward corners this is a little short: the grown
 * boundary is sharp there and lies farther off. The sign is always right. */
double ks_outline_from_point(const ks_outline *shape, ks_point p)
{
    double away = sqrt(squared_to_edges(shape, p));
    return (ks_core_holds(shape, p) ? -away : away) - shape->round;
}

static double squared_between_boxes(ks_box a, ks_box b)
{
    double x = a.x0 > b.x1 ? a.x0 - b.x1 : b.x0 > a.x1 ? b.x0 - a.x1 : 0;
    double y = a.y0 > b.y1 ? a.y0 - b.y1 : b.y0 > a.y1 ? b.y0 - a.y1 : 0;
    return x * x + y * y;
}

static ks_box box_of_edge(ks_point a, ks_point b)
{
    return (ks_box){a.x < b.x ? a.x : b.x, a.y < b.y ? a.y : b.y, a.x < b.x ? b.x : a.x,
                    a.y < b.y ? b.y : a.y};
}

double ks_edges_squared(const ks_outline *a, const ks_outline *b)
{
    ks_outline bare = {b->n, b->at, 0};
    ks_box whole = ks_outline_box(&bare);
    double least = INFINITY;
    for (int i = 0; i < edges_of(a); i++) {
        ks_point p = a->at[i], q = next_of(a, i);
        ks_box edge = box_of_edge(p, q);
        if (squared_between_boxes(edge, whole) >= least)
            continue;
        for (int j = 0; j < edges_of(b); j++) {
            ks_point r = b->at[j], s = next_of(b, j);
            if (squared_between_boxes(edge, box_of_edge(r, s)) >= least)
                continue;
            double squared = ks_segments_squared(p, q, r, s);
            least = squared < least ? squared : least;
        }
    }
    return least;
}

/* The angle whose tangent is t, 0 <= t <= 1: three halvings, then its power series. */
static double arc_of_tangent(double t)
{
    for (int i = 0; i < 3; i++)
        t = t / (1 + sqrt(1 + t * t));
    double square = t * t, sum = 0;
    for (int power = 17; power >= 1; power -= 2)
        sum = 1.0 / power - square * sum;
    return 8 * t * sum;
}

double ks_angle_between(ks_point a, ks_point b)
{
    double along = dot(a, b), aside = cross(a, b), start = 0;
    if (aside < 0)
        return -ks_angle_between(b, a);
    if (along < 0) {
        start = KS_PI / 2;
        double was = along;
        along = aside;
        aside = -was;
    }
    double sum = along + sqrt(along * along + aside * aside);
    return sum > 0 ? start + 2 * arc_of_tangent(aside / sum) : 0;
}
