#include "draw/scene/trace.h"

#include <math.h>

#define PI 3.14159265358979323846

ks_point ks_view_point(ks_view view, ks_point real)
{
    return (ks_point){view.origin.x + real.x * view.scale, view.origin.y - real.y * view.scale};
}

typedef struct {
    ks_arena *arena;
    ks_view view;
    ks_path path;
} tracer;

static void to(tracer *t, ks_point p)
{
    ks_point on = ks_view_point(t->view, p);
    if (t->path.n == 0)
        ks_path_move(t->arena, &t->path, on);
    else
        ks_path_line(t->arena, &t->path, on);
}

/* An arc counter-clockwise about c from angle `from` over `sweep`, at most a quarter each piece. */
static void arc(tracer *t, ks_point c, double r, double from, double sweep)
{
    int pieces = (int)ceil(sweep / (PI / 2) - 1e-9);
    to(t, (ks_point){c.x + r * cos(from), c.y + r * sin(from)});
    for (int i = 0; i < pieces; i++) {
        double a = from + sweep * i / pieces, b = from + sweep * (i + 1) / pieces;
        double k = 4.0 / 3 * tan((b - a) / 4) * r;
        ks_point p = {c.x + r * cos(a), c.y + r * sin(a)}, q = {c.x + r * cos(b), c.y + r * sin(b)};
        ks_path_curve(t->arena, &t->path,
                      ks_view_point(t->view, (ks_point){p.x - k * sin(a), p.y + k * cos(a)}),
                      ks_view_point(t->view, (ks_point){q.x + k * sin(b), q.y - k * cos(b)}),
                      ks_view_point(t->view, q));
    }
}

/* Unit normal to the right of a to b: outwards, for corners in counter-clockwise order. */
static ks_point normal_of(ks_point a, ks_point b)
{
    double length = hypot(b.x - a.x, b.y - a.y);
    if (!(length > 0))
        return (ks_point){0, 0};
    return (ks_point){(b.y - a.y) / length, -(b.x - a.x) / length};
}

static void corner(tracer *t, ks_point before, ks_point at, ks_point after, double r)
{
    ks_point n = normal_of(before, at), m = normal_of(at, after);
    double cross = n.x * m.y - n.y * m.x, dot = n.x * m.x + n.y * m.y;
    if (r <= 0) {
        to(t, at);
    } else if (cross > 1e-9 || dot < -0.999999) {
        arc(t, at, r, atan2(n.y, n.x), fabs(atan2(cross, dot)));
    } else { /* hollow corner: where the two moved sides meet */
        double k = r / (1 + dot);
        to(t, (ks_point){at.x + (n.x + m.x) * k, at.y + (n.y + m.y) * k});
    }
}

ks_path ks_trace_outline(ks_arena *arena, ks_view view, const ks_outline *shape)
{
    tracer t = {.arena = arena, .view = view};
    int n = shape->n;
    if (n == 1)
        arc(&t, shape->at[0], shape->round, 0, 2 * PI);
    for (int i = 0; n > 1 && i < n; i++)
        corner(&t, shape->at[(i + n - 1) % n], shape->at[i], shape->at[(i + 1) % n], shape->round);
    ks_path_close(arena, &t.path);
    return t.path;
}

static ks_point on_curve(ks_point a, const ks_point *p, double u)
{
    double v = 1 - u;
    double w0 = v * v * v, w1 = 3 * v * v * u, w2 = 3 * v * u * u, w3 = u * u * u;
    return (ks_point){w0 * a.x + w1 * p[0].x + w2 * p[1].x + w3 * p[2].x,
                      w0 * a.y + w1 * p[0].y + w2 * p[1].y + w3 * p[2].y};
}

ks_polygon ks_flat(ks_arena *arena, const ks_path *path)
{
    enum { CHORDS = 8 };
    ks_polygon flat = {0, KS_TAKE(arena, path->n * CHORDS, ks_point)};
    for (int i = 0; i < path->n; i++) {
        const ks_stroke *stroke = &path->at[i];
        if (stroke->verb == 'M' || stroke->verb == 'L')
            flat.at[flat.n++] = stroke->p[0];
        for (int k = 1; stroke->verb == 'C' && k <= CHORDS; k++) {
            ks_point start =
                path->at[i - 1].verb == 'C' ? path->at[i - 1].p[2] : path->at[i - 1].p[0];
            flat.at[flat.n++] = on_curve(start, stroke->p, (double)k / CHORDS);
        }
    }
    return flat;
}

ks_outline ks_inset(ks_arena *arena, const ks_outline *shape, double by_mm)
{
    if (shape->round >= by_mm)
        return (ks_outline){shape->n, shape->at, shape->round - by_mm};
    ks_point *moved = KS_TAKE(arena, shape->n, ks_point);
    double left = by_mm - shape->round;
    for (int i = 0, n = shape->n; i < n; i++) {
        ks_point a = shape->at[(i + n - 1) % n], b = shape->at[i], c = shape->at[(i + 1) % n];
        ks_point u = normal_of(a, b), v = normal_of(b, c);
        double dot = u.x * v.x + u.y * v.y;
        if (n < 3 || dot < -0.9)
            return *shape;
        moved[i] =
            (ks_point){b.x - (u.x + v.x) * left / (1 + dot), b.y - (u.y + v.y) * left / (1 + dot)};
    }
    return (ks_outline){shape->n, moved, 0};
}

ks_box ks_extent(const ks_outline *shape)
{
    ks_box box = {shape->at[0].x, shape->at[0].y, shape->at[0].x, shape->at[0].y};
    for (int i = 1; i < shape->n; i++) {
        box.x0 = fmin(box.x0, shape->at[i].x);
        box.x1 = fmax(box.x1, shape->at[i].x);
        box.y0 = fmin(box.y0, shape->at[i].y);
        box.y1 = fmax(box.y1, shape->at[i].y);
    }
    double r = shape->round;
    return (ks_box){box.x0 - r, box.y0 - r, box.x1 + r, box.y1 + r};
}

static ks_point nearest_on(ks_point a, ks_point b, ks_point p)
{
    double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
    double u = length2 > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / length2 : 0;
    u = fmax(0, fmin(1, u));
    return (ks_point){a.x + u * dx, a.y + u * dy};
}

/* The least way from a corner of one core to a side of the other; `turned` swaps the answers. */
static void corners_to_sides(const ks_outline *a, const ks_outline *b, double *least,
                             ks_point *on_a, ks_point *on_b)
{
    for (int i = 0; i < a->n; i++)
        for (int k = 0; k < b->n; k++) {
            ks_point q = nearest_on(b->at[k], b->at[(k + 1) % b->n], a->at[i]);
            double d = hypot(q.x - a->at[i].x, q.y - a->at[i].y);
            if (d < *least) {
                *least = d;
                *on_a = a->at[i];
                *on_b = q;
            }
        }
}

double ks_outlines_nearest(const ks_outline *a, const ks_outline *b, ks_point *on_a, ks_point *on_b)
{
    double least = INFINITY;
    corners_to_sides(a, b, &least, on_a, on_b);
    corners_to_sides(b, a, &least, on_b, on_a);
    if (!(least > 0))
        return least - a->round - b->round;
    double x = (on_b->x - on_a->x) / least, y = (on_b->y - on_a->y) / least;
    *on_a = (ks_point){on_a->x + x * a->round, on_a->y + y * a->round};
    *on_b = (ks_point){on_b->x - x * b->round, on_b->y - y * b->round};
    return least - a->round - b->round;
}
