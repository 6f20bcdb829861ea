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

/* Far more than what the sums below lose. */
static const double hair_mm = 1e-6;

/* From where looking for the edges that can be nearest costs less than trying each against each. */
enum { MANY_PAIRS = 400 };

static int nearest_corner(const ks_outline *shape, ks_point p, double *squared)
{
    int best = 0;
    *squared = INFINITY;
    for (int i = 0; i < shape->n; i++) {
        ks_point to = minus(shape->at[i], p);
        double now = dot(to, to);
        best = now < *squared ? i : best;
        *squared = now < *squared ? now : *squared;
    }
    return best;
}

/* Between two corners that are near one another: no less than the least distance. */
static double corners_squared(const ks_outline *a, const ks_outline *b)
{
    enum { TURNS = 3 };
    double squared = INFINITY;
    int of_b = nearest_corner(b, a->at[0], &squared);
    for (int turn = 0; turn < TURNS; turn++) {
        int of_a = nearest_corner(a, b->at[of_b], &squared);
        of_b = nearest_corner(b, a->at[of_a], &squared);
    }
    return squared;
}

static double farthest_along(const ks_outline *shape, ks_point along)
{
    double most = -INFINITY;
    for (int i = 0; i < shape->n; i++) {
        double reach = dot(shape->at[i], along);
        most = reach > most ? reach : most;
    }
    return most;
}

/* The first corners of the edges that reach so far along. */
static int edges_reaching(const ks_outline *shape, ks_point along, double least, int *out)
{
    int n = 0;
    for (int i = 0; i < edges_of(shape); i++)
        if (dot(shape->at[i], along) >= least || dot(next_of(shape, i), along) >= least)
            out[n++] = i;
    return n;
}

/* Edges of a list that follow one another, and the box around them. */
enum { RUN = 16 };

static void box_runs(const ks_outline *shape, int n, const int *edges, ks_box *runs)
{
    for (int i = 0; i < n; i++) {
        ks_box edge = box_of_edge(shape->at[edges[i]], next_of(shape, edges[i]));
        ks_box *run = &runs[i / RUN];
        *run = i % RUN == 0 ? edge
                            : (ks_box){fmin(run->x0, edge.x0), fmin(run->y0, edge.y0),
                                       fmax(run->x1, edge.x1), fmax(run->y1, edge.y1)};
    }
}

/* The least of `least` and what the edge from p to q is away from n edges. */
static double edge_to_run(ks_point p, ks_point q, const ks_outline *b, int n, const int *of_b,
                          double least)
{
    ks_box edge = box_of_edge(p, q);
    for (int j = 0; j < n && least > 0; j++) {
        ks_point r = b->at[of_b[j]], s = next_of(b, of_b[j]);
        if (squared_between_boxes(edge, box_of_edge(r, s)) >= least)
            continue;
        double squared = ks_segments_squared(p, q, r, s);
        least = squared < least ? squared : least;
    }
    return least;
}

/* `most`: no two outlines at hand are farther apart. Runs of edges that lie beyond are passed over
 * whole: one outline within another is near it by few of its edges. */
static double edges_between(const ks_outline *a, int n_a, const int *of_a, const ks_outline *b,
                            int n_b, const int *of_b, double most, ks_arena *scratch)
{
    ks_box *runs = KS_TAKE(scratch, (n_b + RUN - 1) / RUN + 1, ks_box);
    double least = most * most;
    box_runs(b, n_b, of_b, runs);
    for (int i = 0; i < n_a; i++) {
        ks_point p = a->at[of_a[i]], q = next_of(a, of_a[i]);
        ks_box edge = box_of_edge(p, q);
        for (int j = 0; j < n_b; j += RUN)
            if (squared_between_boxes(edge, runs[j / RUN]) < least)
                least = edge_to_run(p, q, b, n_b - j < RUN ? n_b - j : RUN, &of_b[j], least);
    }
    return least;
}

/* Two edges are at least as far apart as they are along any line: only those count that along the
 * line between the outlines are no farther apart than two corners are. */
static double edges_squared_by_few(const ks_outline *a, const ks_outline *b)
{
    ks_arena scratch = {0};
    ks_box of_a = ks_outline_box(a), of_b = ks_outline_box(b);
    ks_point along = {of_b.x0 + of_b.x1 - of_a.x0 - of_a.x1, of_b.y0 + of_b.y1 - of_a.y0 - of_a.y1};
    double far = length(along), most = sqrt(corners_squared(a, b)) + hair_mm;
    along = far > 0 ? (ks_point){along.x / far, along.y / far} : (ks_point){1, 0};
    ks_point back = {-along.x, -along.y};
    int *near_a = KS_TAKE(&scratch, a->n, int), *near_b = KS_TAKE(&scratch, b->n, int);
    double least_a = -farthest_along(b, back) - most, least_b = -farthest_along(a, along) - most;
    int n_a = edges_reaching(a, along, least_a, near_a);
    int n_b = edges_reaching(b, back, least_b, near_b);
    double least = edges_between(a, n_a, near_a, b, n_b, near_b, most, &scratch);
    ks_arena_finish(&scratch);
    return least;
}

static double edges_squared_by_all(const ks_outline *a, const ks_outline *b)
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

double ks_edges_squared(const ks_outline *a, const ks_outline *b)
{
    return a->n * b->n > MANY_PAIRS ? edges_squared_by_few(a, b) : edges_squared_by_all(a, b);
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
