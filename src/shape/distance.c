#include "shape/plane.h"

static bool unit_normal(const ks_outline *a, int i, ks_point *normal)
{
    ks_point along = minus(next_of(a, i), a->at[i]);
    double edge = length(along);
    *normal = (ks_point){along.y / edge, -along.x / edge};
    return edge > 0;
}

/* How far a reaches beyond b's near side along the normal of a's edge i. */
static double overlap_across(const ks_outline *a, int i, const ks_outline *b)
{
    ks_point normal;
    if (!unit_normal(a, i, &normal))
        return INFINITY;
    double most = 0, least = INFINITY;
    for (int k = 0; k < a->n; k++) {
        double reach = dot(minus(a->at[k], a->at[i]), normal);
        most = reach > most ? reach : most;
    }
    for (int k = 0; k < b->n; k++) {
        double reach = dot(minus(b->at[k], a->at[i]), normal);
        least = reach < least ? reach : least;
    }
    return most - least;
}

static int lowest_corner(const ks_outline *b, ks_point up)
{
    int lowest = 0;
    for (int k = 1; k < b->n; k++)
        lowest = dot(minus(b->at[k], b->at[lowest]), up) < 0 ? k : lowest;
    return lowest;
}

/* The lowest of a convex polygon, going round from a corner that was so for a direction before. */
static int lowest_from(const ks_outline *b, int k, ks_point up)
{
    for (int gone = 0; gone < b->n; gone++) {
        int next = k + 1 < b->n ? k + 1 : 0;
        if (dot(minus(b->at[next], b->at[k]), up) > 0)
            break;
        k = next;
    }
    return k;
}

/* As the edges of `a` go round, so does the corner of b that is lowest over them. */
static int edge_least_overlapped(const ks_outline *a, const ks_outline *b)
{
    int best = 0, lowest = -1;
    double most = -INFINITY;
    for (int i = 0; i < a->n; i++) {
        ks_point up;
        if (!unit_normal(a, i, &up))
            continue;
        lowest = lowest < 0 ? lowest_corner(b, up) : lowest_from(b, lowest, up);
        double gap = dot(minus(b->at[lowest], a->at[i]), up);
        best = gap > most ? i : best;
        most = gap > most ? gap : most;
    }
    return best;
}

static double least_overlap(const ks_outline *a, const ks_outline *b)
{
    enum { MANY_PAIRS = 400 };
    double least = INFINITY;
    if (a->n > 2 && b->n > 2 && a->n * b->n > MANY_PAIRS)
        return overlap_across(a, edge_least_overlapped(a, b), b);
    for (int i = 0; a->n > 1 && i < a->n; i++) {
        double overlap = overlap_across(a, i, b);
        least = overlap < least ? overlap : least;
    }
    return least;
}

/* The least push that parts two convex polygons that meet; in the plane it is across an edge. */
static double convex_push(const ks_outline *a, const ks_outline *b)
{
    double one = least_overlap(a, b), other = least_overlap(b, a);
    double push = one < other ? one : other;
    return push > 0 && push < INFINITY ? push : 0;
}

/* The deepest of the pairs of convex parts: never more than their hulls would need. */
static double push_by_parts(const ks_outline *a, const ks_outline *b)
{
    ks_arena scratch = {0};
    ks_outline *of_a, *of_b;
    int n_a = ks_outline_convex_parts(a, &scratch, &of_a);
    int n_b = ks_outline_convex_parts(b, &scratch, &of_b);
    double most = 0;
    for (int i = 0; i < n_a; i++)
        for (int j = 0; j < n_b; j++) {
            double push = convex_push(&of_a[i], &of_b[j]);
            most = push > most ? push : most;
        }
    ks_arena_finish(&scratch);
    return most;
}

static double push_apart(const ks_outline *a, const ks_outline *b)
{
    if (ks_outline_convex(a) && ks_outline_convex(b))
        return convex_push(a, b);
    return push_by_parts(a, b);
}

/* The square of the distance of their polygons; 0 where those meet. */
static double squared_apart(const ks_outline *a, const ks_outline *b)
{
    bool meet = ks_core_holds(a, b->at[0]) || ks_core_holds(b, a->at[0]);
    return meet ? 0 : ks_edges_squared(a, b);
}

double ks_outline_distance(const ks_outline *a, const ks_outline *b)
{
    if (a->n == 1)
        return ks_outline_from_point(b, a->at[0]) - a->round;
    if (b->n == 1)
        return ks_outline_from_point(a, b->at[0]) - b->round;
    double squared = squared_apart(a, b);
    return (squared > 0 ? sqrt(squared) : -push_apart(a, b)) - a->round - b->round;
}

/* Whether the middle or a corner lies so deep in the other that only a push of more than `by` parts
 * them. */
static bool is_deeper(const ks_outline *a, const ks_outline *b, double by)
{
    ks_outline core = {b->n, b->at, 0}, bare = {a->n, a->at, 0};
    ks_point middle = ks_outline_centroid(&bare);
    return -ks_outline_from_point(&core, a->at[0]) > by ||
           (ks_core_holds(a, middle) && -ks_outline_from_point(&core, middle) > by);
}

bool ks_outline_nearer(const ks_outline *a, const ks_outline *b, double mm)
{
    if (a->n == 1 || b->n == 1)
        return ks_outline_distance(a, b) < mm;
    double squared = squared_apart(a, b);
    if (squared > 0 || -a->round - b->round < mm)
        return (squared > 0 ? sqrt(squared) : 0) - a->round - b->round < mm;
    double push = -mm - a->round - b->round;
    return is_deeper(a, b, push) || is_deeper(b, a, push) || push_apart(a, b) > push;
}
