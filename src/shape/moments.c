/* Area and middle of an outline. Convex ones by Steiner's formula; a concave one that is grown by
 * its round by Green's theorem along its boundary, for in its notches what grows from both sides
 * meets. That boundary is what is left of the rim (each edge moved outward, an arc about each
 * outward corner) where no other edge is nearer than the round. */
#include "shape/plane.h"

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

static void add_triangle(moments *sum, ks_point a, ks_point b)
{
    add(sum, cross(a, b) / 2, (ks_point){(a.x + b.x) / 3, (a.y + b.y) / 3});
}

static void add_core(moments *sum, const ks_outline *shape)
{
    for (int i = 1; i + 1 < shape->n; i++)
        add_triangle(sum, minus(shape->at[i], shape->at[0]), minus(shape->at[i + 1], shape->at[0]));
}

/* Between two unit vectors, counter-clockwise, about a centre. */
static void add_sector(moments *sum, ks_point centre, double r, ks_point here, ks_point there)
{
    add(sum, r * r * ks_angle_between(here, there) / 2, centre);
    sum->x += r * r * r / 3 * (there.y - here.y);
    sum->y += r * r * r / 3 * (here.x - there.x);
}

static ks_point outward_normal(ks_point from, ks_point to)
{
    ks_point along = minus(to, from);
    double long_ = length(along);
    return long_ > 0 ? (ks_point){along.y / long_, -along.x / long_} : (ks_point){0, 0};
}

/* The strip beside edge i and the sector round the vertex at its end. */
static void add_strip(moments *sum, const ks_outline *shape, int i)
{
    double r = shape->round;
    ks_point from = shape->at[i], to = next_of(shape, i);
    ks_point after = next_of(shape, i + 1 < shape->n ? i + 1 : 0);
    ks_point here = outward_normal(from, to), there = outward_normal(to, after);
    ks_point a = minus(from, shape->at[0]), b = minus(to, shape->at[0]);
    ks_point middle = {(a.x + b.x + r * here.x) / 2, (a.y + b.y + r * here.y) / 2};
    add(sum, r * length(minus(to, from)), middle);
    add_sector(sum, b, r, here, there);
}

/* A straight or a round piece of the rim; centre, about the first vertex, and unit normals. */
typedef struct {
    ks_point from, to, centre, here, there;
    double r, long_; /* mm; an arc's is its angle */
    bool is_arc;
} rim_piece;

static ks_point beyond(ks_point at, double by, ks_point along)
{
    return (ks_point){at.x + by * along.x, at.y + by * along.y};
}

/* Piece k of 2 n: that of an edge, then that of the corner at its end; an inward one's is not long.
 */
static rim_piece piece_of(const ks_outline *shape, int k)
{
    int i = k / 2;
    ks_point from = shape->at[i], to = next_of(shape, i);
    ks_point after = next_of(shape, i + 1 < shape->n ? i + 1 : 0);
    ks_point here = outward_normal(from, to), there = outward_normal(to, after);
    double r = shape->round, angle = ks_angle_between(here, there);
    from = minus(from, shape->at[0]);
    to = minus(to, shape->at[0]);
    if (k % 2)
        return (rim_piece){
            beyond(to, r, here), beyond(to, r, there), to, here, there, r, angle, true};
    return (rim_piece){beyond(from, r, here),
                       beyond(to, r, here),
                       from,
                       here,
                       here,
                       r,
                       length(minus(to, from)),
                       false};
}

/* How far along a piece this point of its line or circle is; outside 0 to long_ it is not on it. */
static double way_to(const rim_piece *p, ks_point at)
{
    if (!p->is_arc)
        return dot(minus(at, p->from), minus(p->to, p->from)) / p->long_;
    return ks_angle_between(p->here, minus(at, p->centre));
}

#define TOUCHES_MM 1e-9
#define SAME 1e-12 /* of a piece: the same crossing again */

static bool is_on(const rim_piece *p, ks_point at)
{
    double way = way_to(p, at);
    return way >= -TOUCHES_MM && way <= p->long_ + TOUCHES_MM;
}

/* Where the line through a and b crosses a circle. */
static int line_and_circle(const rim_piece *line, const rim_piece *arc, ks_point out[2])
{
    ks_point along = minus(line->to, line->from), away = minus(line->from, arc->centre);
    along = (ks_point){along.x / line->long_, along.y / line->long_};
    double nearest = -dot(away, along), aside = cross(along, away);
    double squared = arc->r * arc->r - aside * aside;
    double half = squared > 0 ? sqrt(squared) : 0;
    out[0] = beyond(line->from, nearest - half, along);
    out[1] = beyond(line->from, nearest + half, along);
    return squared > 0 ? 2 : 0;
}

static int circles(const rim_piece *a, const rim_piece *b, ks_point out[2])
{
    ks_point between = minus(b->centre, a->centre);
    double apart = length(between), squared = a->r * a->r - apart * apart / 4;
    if (!(apart > 0 && squared > 0))
        return 0;
    ks_point middle = beyond(a->centre, 0.5, between);
    ks_point aside = {-between.y / apart, between.x / apart};
    out[0] = beyond(middle, -sqrt(squared), aside);
    out[1] = beyond(middle, sqrt(squared), aside);
    return 2;
}

static int lines(const rim_piece *a, const rim_piece *b, ks_point out[2])
{
    ks_point along = minus(a->to, a->from), other = minus(b->to, b->from);
    double across = cross(along, other);
    if (across == 0)
        return 0;
    out[0] = beyond(a->from, cross(minus(b->from, a->from), other) / across, along);
    return 1;
}

static int meet(const rim_piece *a, const rim_piece *b, ks_point out[2])
{
    if (a->is_arc)
        return b->is_arc ? circles(a, b, out) : line_and_circle(b, a, out);
    return b->is_arc ? line_and_circle(a, b, out) : lines(a, b, out);
}

/* The boundary being followed: all pieces, by their number, and those edges that come so near to
 * the one in hand that their pieces can meet its pieces. */
typedef struct {
    const ks_outline *shape;
    rim_piece *pieces; /* 2 n */
    ks_box *edges;     /* n */
    int n_near, *near; /* edges; the one in hand is among them */
} rim;

static rim rim_of(const ks_outline *shape, ks_arena *arena)
{
    int n = shape->n;
    rim r = {shape, KS_TAKE(arena, 2 * n, rim_piece), KS_TAKE(arena, n, ks_box), 0,
             KS_TAKE(arena, n, int)};
    for (int k = 0; k < 2 * n; k++)
        r.pieces[k] = piece_of(shape, k);
    for (int i = 0; i < n; i++)
        r.edges[i] = box_of_edge(shape->at[i], next_of(shape, i));
    return r;
}

/* Pieces of edges more than both rounds apart do not meet. */
static void find_near(rim *r, int i)
{
    double most = 2 * r->shape->round;
    r->n_near = 0;
    for (int other = 0; other < r->shape->n; other++)
        if (squared_between_boxes(r->edges[i], r->edges[other]) <= most * most)
            r->near[r->n_near++] = other;
}

/* The next crossing with another piece behind `way`, or the piece's end. */
static double next_crossing(const rim *r, int k, double way, ks_point *at)
{
    const rim_piece *p = &r->pieces[k];
    double next = p->long_;
    *at = p->to;
    for (int near = 0; near < 2 * r->n_near; near++) {
        int other = 2 * r->near[near / 2] + near % 2;
        const rim_piece *q = &r->pieces[other];
        ks_point found[2];
        if (other == k || !(q->long_ > 0))
            continue;
        for (int i = meet(p, q, found) - 1; i >= 0; i--) {
            double here = way_to(p, found[i]);
            if (here > way + SAME * p->long_ && here < next && is_on(q, found[i])) {
                next = here;
                *at = found[i];
            }
        }
    }
    return next;
}

static ks_point unit(ks_point p)
{
    double long_ = length(p);
    return (ks_point){p.x / long_, p.y / long_};
}

/* Whether the piece between two of its points is the outline's own boundary: no edge is nearer than
 * the round, which one that is not near the piece cannot be. Within the outline one is. */
static bool is_bare(const rim *r, const rim_piece *p, ks_point from, ks_point to)
{
    ks_point middle = {(from.x + to.x) / 2, (from.y + to.y) / 2};
    if (p->is_arc)
        middle = beyond(p->centre, p->r, unit(minus(middle, p->centre)));
    ks_point at = {middle.x + r->shape->at[0].x, middle.y + r->shape->at[0].y};
    double least = p->r * (1 - 1e-9) - 1e-9;
    for (int k = 0; k < r->n_near && least > 0; k++) {
        int i = r->near[k];
        if (ks_segment_squared(at, r->shape->at[i], next_of(r->shape, i)) <= least * least)
            return false;
    }
    return true;
}

/* What lies between the first vertex and a stretch of the boundary. */
static void add_stretch(moments *sum, const rim_piece *p, ks_point from, ks_point to)
{
    if (!p->is_arc) {
        add_triangle(sum, from, to);
        return;
    }
    add_triangle(sum, from, p->centre);
    add_triangle(sum, p->centre, to);
    add_sector(sum, p->centre, p->r, unit(minus(from, p->centre)), unit(minus(to, p->centre)));
}

static moments along_boundary(const ks_outline *shape)
{
    ks_arena scratch = {0};
    moments sum = {0, 0, 0};
    rim r = rim_of(shape, &scratch);
    for (int k = 0; k < 2 * shape->n; k++) {
        const rim_piece *p = &r.pieces[k];
        if (k % 2 == 0)
            find_near(&r, k / 2);
        ks_point from = p->from, to;
        for (double way = 0; way < p->long_; from = to) {
            way = next_crossing(&r, k, way, &to);
            if (is_bare(&r, p, from, to))
                add_stretch(&sum, p, from, to);
        }
    }
    ks_arena_finish(&scratch);
    return sum;
}

static bool has_notches(const ks_outline *shape)
{
    return shape->round > 0 && !ks_outline_convex(shape);
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

double ks_outline_area(const ks_outline *shape)
{
    double r = shape->round;
    if (has_notches(shape))
        return along_boundary(shape).area;
    return core_area(shape) + r * around_edges(shape) + KS_PI * r * r;
}

static moments of_strips(const ks_outline *shape)
{
    moments sum = {0, 0, 0};
    add_core(&sum, shape);
    for (int i = 0; shape->n > 1 && shape->round > 0 && i < shape->n; i++)
        add_strip(&sum, shape, i);
    return sum;
}

ks_point ks_outline_centroid(const ks_outline *shape)
{
    moments sum = has_notches(shape) ? along_boundary(shape) : of_strips(shape);
    if (!(sum.area > 0))
        return shape->at[0];
    return (ks_point){shape->at[0].x + sum.x / sum.area, shape->at[0].y + sum.y / sum.area};
}
