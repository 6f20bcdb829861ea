#include "shape/plane.h"

/* The search for the farthest point stops after so many cells, or when it is known so well. */
enum { MOST_CELLS = 4000 };
static const double known_mm = 1e-7;

/* A convex piece of the inner outline. */
typedef struct {
    ks_point at[3];
} cell;

typedef struct {
    int n_parts;
    ks_outline *parts; /* convex, of the outer outline */
    int first, end;
    cell cells[MOST_CELLS + 2];
    double bounds[MOST_CELLS + 2];
    double farthest; /* found so far */
} search;

/* Distance to a convex part grows convexly, so over a cell it is greatest at a corner: the least
 * of those over the parts bounds the cell from above. */
static double bound_of(search *s, const cell *c)
{
    double bound = INFINITY, nearest[3] = {INFINITY, INFINITY, INFINITY};
    for (int p = 0; p < s->n_parts; p++) {
        double most = 0;
        for (int k = 0; k < 3; k++) {
            double away = ks_core_distance(&s->parts[p], c->at[k]);
            most = away > most ? away : most;
            nearest[k] = away < nearest[k] ? away : nearest[k];
        }
        bound = most < bound ? most : bound;
    }
    for (int k = 0; k < 3; k++)
        s->farthest = nearest[k] > s->farthest ? nearest[k] : s->farthest;
    return bound;
}

static void add_cell(search *s, cell c)
{
    double bound = bound_of(s, &c);
    if (bound <= s->farthest + known_mm || s->end >= MOST_CELLS + 2)
        return;
    s->bounds[s->end] = bound;
    s->cells[s->end++] = c;
}

static void split_cell(search *s, cell c)
{
    int longest = 0;
    double most = -1;
    for (int k = 0; k < 3; k++) {
        ks_point side = minus(c.at[(k + 1) % 3], c.at[k]);
        if (dot(side, side) > most) {
            most = dot(side, side);
            longest = k;
        }
    }
    ks_point a = c.at[longest], b = c.at[(longest + 1) % 3], apex = c.at[(longest + 2) % 3];
    ks_point middle = {(a.x + b.x) / 2, (a.y + b.y) / 2};
    add_cell(s, (cell){{a, middle, apex}});
    add_cell(s, (cell){{middle, b, apex}});
}

/* Greatest distance of a point of inner's polygon from outer's, both as convex parts. */
static double search_area(search *s, int n_inner, const ks_outline *inner)
{
    for (int i = 0; i < n_inner; i++) {
        const ks_outline *part = &inner[i];
        for (int k = 1; k + 1 < part->n || k == 1; k++)
            add_cell(s, (cell){{part->at[0], part->at[k < part->n ? k : 0],
                                part->at[k + 1 < part->n ? k + 1 : 0]}});
    }
    for (; s->first < s->end && s->end < MOST_CELLS; s->first++)
        if (s->bounds[s->first] > s->farthest + known_mm)
            split_cell(s, s->cells[s->first]);
    double most = s->farthest;
    for (int i = s->first; i < s->end; i++)
        most = s->bounds[i] > most ? s->bounds[i] : most;
    return most;
}

/* The same along a line, where halving is enough to find it exactly. */
static void search_line(search *s, ks_point a, ks_point b)
{
    double bound = bound_of(s, &(cell){{a, b, b}});
    ks_point middle = {(a.x + b.x) / 2, (a.y + b.y) / 2};
    bool is_short = fabs(b.x - a.x) + fabs(b.y - a.y) <= known_mm;
    if (bound <= s->farthest + known_mm || is_short)
        return;
    search_line(s, a, middle);
    search_line(s, middle, b);
}

/* The outer polygon has no holes: what has its edges within it lies within it. So one that only
 * touches it from within is never taken for one that sticks out. */
static double farthest_out(const ks_outline *inner, const ks_outline *outer)
{
    ks_arena scratch = {0};
    search *s = KS_TAKE(&scratch, 1, search);
    s->n_parts = ks_outline_convex_parts(outer, &scratch, &s->parts);
    for (int i = 0; i < edges_of(inner); i++)
        search_line(s, inner->at[i], next_of(inner, i));
    double most = s->farthest;
    if (most > known_mm) {
        ks_outline *parts;
        int n_inner = ks_outline_convex_parts(inner, &scratch, &parts);
        most = search_area(s, n_inner, parts);
    }
    ks_arena_finish(&scratch);
    return most;
}

/* What a walk along the edges may lose by rounding. */
static const double walk_mm = 1e-9;

/* How far out the corners are that lie `step` apart, beginning with `first`. Going along an edge no
 * point gets farther out than by the way gone, so corners that cannot lie farthest are passed. */
static double farthest_corner(const ks_outline *inner, const ks_outline *outer, int first, int step,
                              double most)
{
    double beyond = INFINITY; /* the corner at hand is no farther out */
    for (int i = first; i < inner->n; i += step) {
        if (beyond + walk_mm > most) {
            double out = ks_outline_from_point(outer, inner->at[i]);
            most = out > most ? out : most;
            beyond = out;
        }
        for (int k = i; k < i + step && k < inner->n; k++)
            beyond += length(minus(next_of(inner, k), inner->at[k]));
    }
    return most;
}

static double inside_convex(const ks_outline *inner, const ks_outline *outer)
{
    enum { FIRST_LOOKS = 8 };
    double most = -INFINITY;
    if (inner->n > FIRST_LOOKS)
        most = farthest_corner(inner, outer, 0, inner->n / FIRST_LOOKS, most);
    return -farthest_corner(inner, outer, 0, 1, most) - inner->round;
}

double ks_outline_inside(const ks_outline *inner, const ks_outline *outer)
{
    if (ks_outline_convex(outer))
        return inside_convex(inner, outer);
    double squared = ks_edges_squared(inner, outer);
    bool within = squared > 0 && ks_core_holds(outer, inner->at[0]);
    double slack = within ? sqrt(squared) : -farthest_out(inner, outer);
    return slack + outer->round - inner->round;
}
