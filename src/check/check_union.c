#include "check/check_judge.h"

/* Shelves closer than twice this carry a foot together: each is grown by it, so that the seam
 * closes, and the foot is grown by as much, so that outer edges do not move. What is left of the
 * notch at a seam's end counts as open: a little on the safe side. */
static const double seam_mm = 10;
static const double fine_mm = 1e-4; /* how small the pieces of the foot's edge get */

typedef struct {
    int n;
    const ks_outline *parts; /* convex, grown by seam_mm */
    const double *out_mm;    /* [part * corners of the foot + corner]: how far each is out of it */
} floor_plan;

static ks_point arc_point(ks_point centre, double r, ks_point normal)
{
    return (ks_point){centre.x + r * normal.x, centre.y + r * normal.y};
}

static double apart(ks_point a, ks_point b)
{
    return sqrt((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y));
}

static ks_point halfway(ks_point a, ks_point b)
{
    double x = a.x + b.x, y = a.y + b.y, length = sqrt(x * x + y * y);
    return (ks_point){x / length, y / length};
}

static bool covers(const floor_plan *floor, ks_point p)
{
    for (int i = 0; i < floor->n; i++)
        if (ks_outline_from_point(&floor->parts[i], p) <= 0)
            return true;
    return false;
}

/* Whether one convex part holds all the points, and so what lies between them. */
static bool one_holds(const floor_plan *floor, const ks_point *points, int n)
{
    for (int i = 0; i < floor->n; i++) {
        int held = 0;
        while (held < n && ks_outline_from_point(&floor->parts[i], points[held]) <= 0)
            held++;
        if (held == n)
            return true;
    }
    return false;
}

static bool line_held(const floor_plan *floor, ks_point a, ks_point b)
{
    if (one_holds(floor, (const ks_point[2]){a, b}, 2))
        return true;
    ks_point middle = {(a.x + b.x) / 2, (a.y + b.y) / 2};
    if (!covers(floor, middle))
        return false;
    if (apart(a, b) < fine_mm)
        return covers(floor, a) && covers(floor, b);
    return line_held(floor, a, middle) && line_held(floor, middle, b);
}

/* The arc lies in the triangle of its ends and the point where their tangents meet. */
static bool arc_held(const floor_plan *floor, ks_point centre, double r, ks_point from, ks_point to)
{
    double along = from.x * to.x + from.y * to.y;
    ks_point a = arc_point(centre, r, from), b = arc_point(centre, r, to);
    if (along > 0) {
        ks_point corner = {centre.x + r * (from.x + to.x) / (1 + along),
                           centre.y + r * (from.y + to.y) / (1 + along)};
        if (one_holds(floor, (const ks_point[3]){a, corner, b}, 3))
            return true;
    }
    ks_point middle = halfway(from, to);
    if (!covers(floor, arc_point(centre, r, middle)))
        return false;
    if (apart(a, b) < fine_mm)
        return covers(floor, a) && covers(floor, b);
    return arc_held(floor, centre, r, from, middle) && arc_held(floor, centre, r, middle, to);
}

static bool circle_held(const floor_plan *floor, ks_point centre, double r)
{
    const ks_point quarters[5] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {1, 0}};
    for (int i = 0; i < 4; i++)
        if (!arc_held(floor, centre, r, quarters[i], quarters[i + 1]))
            return false;
    return true;
}

static ks_point normal_of(ks_point from, ks_point to)
{
    double length = apart(from, to);
    return length > 0 ? (ks_point){(to.y - from.y) / length, (from.x - to.x) / length}
                      : (ks_point){1, 0};
}

/* From a straight-on turn back (the end of a capsule) the way round is by a quarter turn. */
static bool corner_held(const floor_plan *floor, ks_point at, double r, ks_point in, ks_point out)
{
    ks_point aside = {-in.y, in.x};
    double turn = in.x * out.y - in.y * out.x;
    if (turn < 0)
        return true;
    if (in.x * out.x + in.y * out.y > 0)
        return arc_held(floor, at, r, in, out);
    return arc_held(floor, at, r, in, aside) && arc_held(floor, at, r, aside, out);
}

/* Whether one part holds two corners of the foot with all that is within r of them, and so of the
 * edge between. */
static bool one_holds_round(const floor_plan *floor, const ks_outline *foot, int i, int j, double r)
{
    for (int p = 0; p < floor->n; p++) {
        const double *out_mm = floor->out_mm + p * foot->n;
        if (out_mm[i] + r <= 0 && out_mm[j] + r <= 0)
            return true;
    }
    return false;
}

/* Whether the edge of the foot, grown to `r` round its vertices, runs over the floor all the way.
 */
static bool edge_held(const floor_plan *floor, const ks_outline *foot, double r)
{
    if (foot->n == 1)
        return circle_held(floor, foot->at[0], r);
    for (int i = 0; i < foot->n; i++) {
        if (one_holds_round(floor, foot, i, (i + 1) % foot->n, r))
            continue;
        ks_point a = foot->at[i], b = foot->at[(i + 1) % foot->n], c = foot->at[(i + 2) % foot->n];
        ks_point here = normal_of(a, b), next = normal_of(b, c);
        if (!line_held(floor, arc_point(a, r, here), arc_point(b, r, here)) ||
            !corner_held(floor, b, r, here, next))
            return false;
    }
    return true;
}

static const double *corners_out_mm(int n, const ks_outline *parts, const ks_outline *foot,
                                    ks_arena *arena)
{
    double *out_mm = KS_TAKE(arena, n * foot->n, double);
    for (int p = 0; p < n; p++)
        for (int i = 0; i < foot->n; i++)
            out_mm[p * foot->n + i] = ks_outline_from_point(&parts[p], foot->at[i]);
    return out_mm;
}

static floor_plan floor_of(int n, const ks_outline *shelves, const ks_outline *foot,
                           ks_arena *arena)
{
    ks_outline *parts = NULL;
    int count = 0, room = 0;
    for (int i = 0; i < n; i++) {
        ks_outline *convex;
        int more = ks_outline_convex_parts(&shelves[i], arena, &convex);
        for (int k = 0; k < more; k++) {
            parts = KS_GROW(arena, parts, count, &room, ks_outline);
            parts[count] = convex[k];
            parts[count++].round += seam_mm;
        }
    }
    return (floor_plan){count, parts, corners_out_mm(count, parts, foot, arena)};
}

/* The greatest margin between what the best single shelf gives and what the hull of all would. */
static double search(const floor_plan *floor, const ks_outline *foot, double low, double high)
{
    if (foot->round + seam_mm + low < 0 || !edge_held(floor, foot, foot->round + seam_mm + low))
        return low;
    for (int i = 0; i < 40 && high - low > fine_mm; i++) {
        double middle = (low + high) / 2;
        if (edge_held(floor, foot, foot->round + seam_mm + middle))
            low = middle;
        else
            high = middle;
    }
    return low;
}

double ks_support_slack(const ks_outline *foot, int n, const ks_outline *shelves)
{
    double best = -INFINITY;
    for (int i = 0; i < n; i++)
        best = fmax(best, ks_outline_inside(foot, &shelves[i]));
    if (n < 2)
        return best;
    ks_arena scratch = {0};
    ks_outline all = ks_outline_hull(shelves, n, &scratch);
    double most = ks_outline_inside(foot, &all);
    if (most > best + fine_mm) {
        floor_plan floor = floor_of(n, shelves, foot, &scratch);
        double low = fmax(best, -foot->round - seam_mm);
        best = fmax(best, search(&floor, foot, low, most));
    }
    ks_arena_finish(&scratch);
    return best;
}
