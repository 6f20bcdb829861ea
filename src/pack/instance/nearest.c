#include "pack/instance/nearest.h"

#include <math.h>

/* From the point (ax, ay) to the point (bx, by). */
static void point_to_point(double ax, double ay, double bx, double by, ks_nearest_places *touch)
{
    double dx = bx - ax, dy = by - ay, d = sqrt(dx * dx + dy * dy);
    *touch = (ks_nearest_places){d, 1, 0, ax, ay, bx, by};
    if (d > 0) {
        touch->nx = dx / d;
        touch->ny = dy / d;
    }
}

static inline double above_edge(const ks_core *core, int i, double x, double y)
{
    return core->nx[i] * (x - core->x[i]) + core->ny[i] * (y - core->y[i]);
}

/* Of a point above edge i, which is the edge it is farthest above: the nearest place on that edge.
 */
static void edge_to_point(const ks_core *core, int i, double x, double y, ks_nearest_places *touch)
{
    int j = i + 1 < core->n ? i + 1 : 0;
    double nx = core->nx[i], ny = core->ny[i], gap = above_edge(core, i, x, y);
    double before = (x - core->x[i]) * -ny + (y - core->y[i]) * nx;
    double after = (x - core->x[j]) * -ny + (y - core->y[j]) * nx;
    if (gap >= 0 && before < 0)
        point_to_point(core->x[i], core->y[i], x, y, touch);
    else if (gap >= 0 && after > 0)
        point_to_point(core->x[j], core->y[j], x, y, touch);
    else
        *touch = (ks_nearest_places){gap, nx, ny, x - nx * gap, y - ny * gap, x, y};
}

double ks_nearest_point(const ks_core *core, double x, double y, ks_nearest_places *touch)
{
    if (core->n == 1) {
        point_to_point(core->x[0], core->y[0], x, y, touch);
        return touch->gap;
    }
    int best = 0;
    double most = -INFINITY;
    for (int i = 0; i < core->n; i++) {
        double up = above_edge(core, i, x, y);
        if (up > most) {
            most = up;
            best = i;
        }
    }
    edge_to_point(core, best, x, y, touch);
    return touch->gap;
}

/* The edge of `a` from which all of `b` is farthest away, and b's corner nearest to it. */
typedef struct {
    double gap;
    int edge, corner;
} parting;

/* Tries edge i; true when it alone parts the two by `need`. */
static inline bool edge_parts(const ks_core *a, const ks_core *b, int i, double need, parting *best)
{
    double nx = a->nx[i], ny = a->ny[i], least = INFINITY;
    int corner = 0;
    for (int k = 0; k < b->n; k++) {
        double up = nx * b->x[k] + ny * b->y[k];
        corner = up < least ? k : corner;
        least = up < least ? up : least;
    }
    least -= nx * a->x[i] + ny * a->y[i];
    if (least > best->gap)
        *best = (parting){least, i, corner};
    return least >= need;
}

/* The edge of `core` that faces (dx, dy) most: the likeliest to part it from what lies there. */
static int facing_edge(const ks_core *core, double dx, double dy)
{
    double most = -INFINITY;
    int best = 0;
    for (int i = 0; i < core->n; i++) {
        double facing = core->nx[i] * dx + core->ny[i] * dy;
        best = facing > most ? i : best;
        most = facing > most ? facing : most;
    }
    return best;
}

static bool edges_part(const ks_core *a, const ks_core *b, double need, parting *best)
{
    for (int i = 0; i < a->n; i++)
        if (edge_parts(a, b, i, need, best))
            return true;
    return false;
}

static double along_normal(const ks_core *a, int edge, const ks_core *b, int corner)
{
    return a->nx[edge] * b->x[corner] + a->ny[edge] * b->y[corner];
}

/* The same for cores of many corners: as the edges go round, so does the corner nearest to them. */
static bool edges_part_in_turn(const ks_core *a, const ks_core *b, double need, parting *best)
{
    int k = 0;
    for (int j = 1; j < b->n; j++)
        k = along_normal(a, 0, b, j) < along_normal(a, 0, b, k) ? j : k;
    for (int i = 0; i < a->n; i++) {
        double least = along_normal(a, i, b, k);
        for (int j = 0; j < b->n; j++) {
            int next = k + 1 < b->n ? k + 1 : 0;
            double up = along_normal(a, i, b, next);
            if (up >= least)
                break;
            least = up;
            k = next;
        }
        double gap = least - along_normal(a, i, a, i);
        if (gap > best->gap)
            *best = (parting){gap, i, k};
        if (gap >= need)
            return true;
    }
    return false;
}

/* From where going round one by one costs less than trying each against each. */
enum { MANY_PAIRS = 400 };

static bool has_many_pairs(const ks_core *a, const ks_core *b)
{
    return a->n * b->n > MANY_PAIRS;
}

static void turned_round(ks_nearest_places *touch)
{
    *touch = (ks_nearest_places){touch->gap, -touch->nx, -touch->ny, touch->bx,
                                 touch->by,  touch->ax,  touch->ay};
}

/* The nearest places when no edge's own strip holds them: try every corner against the other. */
static void corners_near(const ks_core *a, const ks_core *b, ks_nearest_places *touch)
{
    touch->gap = INFINITY;
    ks_nearest_places one;
    for (int k = 0; k < b->n; k++)
        if (ks_nearest_point(a, b->x[k], b->y[k], &one) < touch->gap)
            *touch = one;
    for (int k = 0; k < a->n; k++)
        if (ks_nearest_point(b, a->x[k], a->y[k], &one) < touch->gap) {
            *touch = one;
            turned_round(touch);
        }
}

/* From b's corner k on, as long as the next one is nearer to a. */
static void walk_nearer(const ks_core *a, const ks_core *b, int k, int step,
                        ks_nearest_places *nearest)
{
    ks_nearest_places one;
    for (int tried = 0; tried < b->n; tried++) {
        k = (k + step + b->n) % b->n;
        if (ks_nearest_point(a, b->x[k], b->y[k], &one) >= nearest->gap)
            return;
        *nearest = one;
    }
}

static ks_nearest_places nearest_from(const ks_core *a, const ks_core *b, int k)
{
    ks_nearest_places nearest;
    ks_nearest_point(a, b->x[k], b->y[k], &nearest);
    walk_nearer(a, b, k, 1, &nearest);
    walk_nearer(a, b, k, -1, &nearest);
    return nearest;
}

/* The same for cores of many corners, from where an edge has parted them. */
static void corners_near_from(const ks_core *a, const ks_core *b, int of_a, int of_b,
                              ks_nearest_places *touch)
{
    ks_nearest_places other = nearest_from(b, a, of_a);
    *touch = nearest_from(a, b, of_b);
    if (other.gap < touch->gap) {
        *touch = other;
        turned_round(touch);
    }
}

static bool in_strip(const ks_core *core, int i, double x, double y)
{
    int j = i + 1 < core->n ? i + 1 : 0;
    double ex = -core->ny[i], ey = core->nx[i];
    return (x - core->x[i]) * ex + (y - core->y[i]) * ey >= 0 &&
           (x - core->x[j]) * ex + (y - core->y[j]) * ey <= 0;
}

static void along_edge(const ks_core *a, const ks_core *b, parting at, ks_nearest_places *touch)
{
    double nx = a->nx[at.edge], ny = a->ny[at.edge], x = b->x[at.corner], y = b->y[at.corner];
    *touch = (ks_nearest_places){at.gap, nx, ny, x - nx * at.gap, y - ny * at.gap, x, y};
}

static bool polygons(const ks_core *a, const ks_core *b, double need, ks_nearest_places *touch)
{
    parting of_a = {-INFINITY, 0, 0}, of_b = {-INFINITY, 0, 0};
    double dx = b->x[0] + b->x[b->n / 2] - a->x[0] - a->x[a->n / 2];
    double dy = b->y[0] + b->y[b->n / 2] - a->y[0] - a->y[a->n / 2];
    if (edge_parts(a, b, facing_edge(a, dx, dy), need, &of_a) ||
        edge_parts(b, a, facing_edge(b, -dx, -dy), need, &of_b))
        return false;
    bool many = has_many_pairs(a, b);
    if (many ? edges_part_in_turn(a, b, need, &of_a) || edges_part_in_turn(b, a, need, &of_b)
             : edges_part(a, b, need, &of_a) || edges_part(b, a, need, &of_b))
        return false;
    bool by_a = of_a.gap >= of_b.gap;
    parting at = by_a ? of_a : of_b;
    const ks_core *with = by_a ? a : b, *other = by_a ? b : a;
    if (at.gap >= 0 && !in_strip(with, at.edge, other->x[at.corner], other->y[at.corner])) {
        if (many)
            corners_near_from(a, b, by_a ? at.edge : at.corner, by_a ? at.corner : at.edge, touch);
        else
            corners_near(a, b, touch);
        return touch->gap < need;
    }
    along_edge(with, other, at, touch);
    if (!by_a)
        turned_round(touch);
    return true;
}

bool ks_nearest_cores(const ks_core *a, const ks_core *b, double need, ks_nearest_places *touch)
{
    if (b->n == 1)
        return ks_nearest_point(a, b->x[0], b->y[0], touch) < need;
    if (a->n > 1)
        return polygons(a, b, need, touch);
    if (ks_nearest_point(b, a->x[0], a->y[0], touch) >= need)
        return false;
    turned_round(touch);
    return true;
}
