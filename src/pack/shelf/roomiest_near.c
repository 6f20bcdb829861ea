#include "pack/shelf/roomiest_near.h"

#include "pack/shelf/shelf_rule.h"
#include "shape/plane.h"

#include <math.h>

#define RADIANS_PER_DEGREE 0.017453292519943296
#define DIAGONAL 1.4142135623730952

/* fmin is a call, and minds what is not a number. */
static inline double lesser(double a, double b)
{
    return a < b ? a : b;
}

static ks_stand stand_of(const ks_near *near, double x, double y, double turn_deg)
{
    double turn = floor(turn_deg / KS_TURN_STEP + 0.5) * KS_TURN_STEP;
    turn = turn >= 360 ? turn - 360 : turn;
    ks_rotation r = ks_rotation_of(turn);
    return (ks_stand){x - (r.c * near->centre.x - r.s * near->centre.y),
                      y - (r.s * near->centre.x + r.c * near->centre.y), turn};
}

/* n.v for a vector v turned by up to an angle either way, at the most; `across` is |n x v|. */
static inline double turned_at_most(double along, double across, ks_rotation half)
{
    return (along < 0 ? along * half.c : along) + across * half.s;
}

/* The turn is told in steps, so that the middle may be turned by half a step more. */
static ks_rotation half_turn(double half_deg)
{
    return ks_rotation_of(fmin(half_deg + KS_TURN_STEP / 2, 90));
}

/* Which corner of a hull lies least along a direction, going on round from where it was so for the
 * direction before. */
static int least_along(const ks_holding *h, int k, ks_point way)
{
    int n = h->parts[0].n;
    for (int gone = 0; gone < n; gone++) {
        int next = k + 1 < n ? k + 1 : 0;
        if (dot(way, minus(h->turned[next], h->turned[k])) > 0)
            break;
        k = next;
    }
    return k;
}

static int least_of_all_along(const ks_holding *h, ks_point way)
{
    int k = 0;
    for (int i = 1; i < h->parts[0].n; i++)
        if (dot(way, minus(h->turned[i], h->turned[k])) < 0)
            k = i;
    return k;
}

/* By how much the hull lies within an edge, turned by up to `half` either way, at the most: no more
 * than any of its corners does, and those near the nearest say least. */
static double most_within(const ks_holding *h, int nearest, ks_point normal, ks_rotation half)
{
    enum { BESIDE = 2 };
    int n = h->parts[0].n, around = n < 2 * BESIDE + 1 ? n : 2 * BESIDE + 1;
    double bound = INFINITY;
    for (int i = 0; i < around; i++) {
        ks_point v = h->turned[(nearest + i + n - around / 2) % n];
        bound = lesser(bound, turned_at_most(dot(normal, v), fabs(cross(normal, v)), half));
    }
    return bound;
}

static void turn_hull(ks_holding *h, ks_point centre, const ks_stand_box *box, double turn_deg)
{
    ks_rotation r = ks_rotation_of(turn_deg), half = half_turn(box->half_deg);
    const ks_outline *hull = &h->parts[0];
    for (int i = 0; i < hull->n; i++) {
        double x = hull->at[i].x - centre.x, y = hull->at[i].y - centre.y;
        h->turned[i] = (ks_point){r.c * x - r.s * y, r.s * x + r.c * y};
    }
    int k = least_of_all_along(h, h->normal[0]);
    for (int e = 0; e < h->n_edges; e++) {
        ks_point n = h->normal[e];
        k = least_along(h, k, n);
        h->within[e] = dot(n, h->turned[k]);
        h->at_most[e] = most_within(h, k, n, half);
    }
    h->turn_deg = box->turn_deg;
    h->half_deg = box->half_deg;
}

/* What can be had of an edge's spare in a box, and half of both where two edges share it: of a
 * piece wider than its room what one edge gains the other loses, wherever it stands in the box.
 * `within`: how far the hull lies within each edge. */
static double edge_most(const ks_holding *h, const ks_stand_box *box, const double *within, int e,
                        int f)
{
    ks_point n = {(h->normal[e].x + h->normal[f].x) / 2, (h->normal[e].y + h->normal[f].y) / 2};
    return n.x * box->x + n.y * box->y - (h->offset[e] + h->offset[f]) / 2 +
           (within[e] + within[f]) / 2 + (fabs(n.x) + fabs(n.y)) * box->half_mm;
}

/* Of any edge alone, or of the worst and another. */
static double edges_most(const ks_holding *h, const ks_stand_box *box, const double *within,
                         int worst)
{
    double bound = INFINITY;
    for (int e = 0; e < h->n_edges; e++) {
        bound = lesser(bound, edge_most(h, box, within, e, e));
        bound = lesser(bound, edge_most(h, box, within, worst, e));
    }
    return bound;
}

/* Inside a convex polygon the nearest of its edges' lines decides; of what is outside, how far it
 * is over the worst of them. Boxes of one turn come one after another: the hull is turned once. */
static void within_edges(ks_holding *h, const ks_near *near, const ks_stand_box *box,
                         ks_nearness *out)
{
    if (h->turn_deg != box->turn_deg || h->half_deg != box->half_deg)
        turn_hull(h, near->centre, box, out->stand.turn_deg);
    double spare = h->region->outline.round - h->parts[0].round - h->region->margin_mm;
    double slack = INFINITY;
    int worst = 0;
    for (int e = 0; e < h->n_edges; e++) {
        double at = h->normal[e].x * box->x + h->normal[e].y * box->y - h->offset[e];
        worst = at + h->within[e] < slack ? e : worst;
        slack = lesser(slack, at + h->within[e]);
    }
    out->slack_mm = slack + spare;
    out->bound_mm = edges_most(h, box, h->at_most, worst) + spare;
    out->unturned_mm = edges_most(h, box, h->within, worst) + spare;
}

/* Each vertex has a tangent of the disc where it points to; that bounds it as an edge does. */
static void within_disc(const ks_holding *h, const ks_near *near, const ks_stand_box *box,
                        ks_nearness *out)
{
    ks_rotation r = ks_rotation_of(out->stand.turn_deg), half = half_turn(box->half_deg);
    const ks_outline *hull = &h->parts[0], *disc = &h->region->outline;
    double farthest = 0, bound = INFINITY, px = box->x - disc->at[0].x, py = box->y - disc->at[0].y;
    for (int i = 0; i < hull->n; i++) {
        double x = hull->at[i].x - near->centre.x, y = hull->at[i].y - near->centre.y;
        double vx = r.c * x - r.s * y, vy = r.s * x + r.c * y;
        double qx = px + vx, qy = py + vy, d = sqrt(qx * qx + qy * qy);
        farthest = d > farthest ? d : farthest;
        ks_point n = d > 0 ? (ks_point){-qx / d, -qy / d} : (ks_point){1, 0};
        double at = n.x * px + n.y * py + (fabs(n.x) + fabs(n.y)) * box->half_mm;
        bound = lesser(bound,
                       at + turned_at_most(n.x * vx + n.y * vy, fabs(n.x * vy - n.y * vx), half));
    }
    double spare = disc->round - hull->round - h->region->margin_mm;
    out->slack_mm = spare - farthest;
    out->bound_mm = spare + bound;
}

static double spread_of(const ks_stand_box *box, double reach_mm)
{
    return box->half_mm * DIAGONAL +
           reach_mm * (box->half_deg + KS_TURN_STEP / 2) * RADIANS_PER_DEGREE;
}

static double placed_within(const ks_holding *h, const ks_near *near, ks_stand stand)
{
    double least = INFINITY;
    for (int p = 0; p < h->n_parts; p++) {
        ks_outline placed = ks_outline_placed_in(&h->parts[p], stand, near->vertices);
        least = fmin(least, ks_outline_inside(&placed, &h->region->outline));
    }
    return least - h->region->margin_mm;
}

/* Any outline: moving and turning changes no distance by more than the farthest point moves. Of a
 * rounded one the edges, moved out by its round, say too much at the corners, but do for a bound.
 */
static void held(ks_holding *h, const ks_near *near, const ks_stand_box *box, ks_known known,
                 ks_nearness *out)
{
    if (h->n_parts == 0) {
        out->slack_mm = out->bound_mm = out->unturned_mm = INFINITY;
        return;
    }
    bool convex = h->convex, round = h->region->outline.n == 1, edged = h->region->outline.n > 2;
    out->bound_mm = out->slack_mm = out->unturned_mm = INFINITY;
    if (convex && round)
        within_disc(h, near, box, out);
    else if (convex && edged)
        within_edges(h, near, box, out);
    bool exact = convex && (round || (edged && h->region->outline.round == 0));
    if (exact || out->bound_mm <= known.bound_mm)
        return;
    if (out->slack_mm <= known.slack_mm) {
        out->slack_mm = -INFINITY; /* of which the edges know only that it is no more */
        return;
    }
    out->slack_mm = placed_within(h, near, out->stand);
    out->bound_mm = lesser(out->bound_mm, out->slack_mm + spread_of(box, near->reach_mm));
}

/* Parts are placed once for all obstacles, when the first is near enough to matter. */
static void place_parts(const ks_near *near, ks_stand stand, bool *placed)
{
    for (int p = 0; p < near->item->n_parts && !*placed; p++)
        near->placed[p] =
            ks_outline_placed_in(&near->item->parts[p].outline, stand, near->placed_room[p]);
    *placed = true;
}

static void hindered(const ks_hindrance *h, const ks_near *near, const ks_stand_box *box,
                     bool *placed, ks_nearness *out)
{
    double bound_known = out->bound_mm;
    double dx = box->x - h->around.centre.x, dy = box->y - h->around.centre.y;
    double clearance = ks_shelf_obstacle_clearance(h->obstacle, near->item);
    out->slack_mm = sqrt(dx * dx + dy * dy) - h->reach_mm - h->around.r - clearance;
    out->bound_mm = INFINITY;
    if (out->slack_mm >= bound_known)
        return;
    out->slack_mm = INFINITY;
    place_parts(near, out->stand, placed);
    for (int i = 0; i < h->n_parts; i++) {
        int p = h->parts[i];
        double slack = ks_outline_distance(&near->placed[p], &h->obstacle->outline) - clearance;
        out->slack_mm = lesser(out->slack_mm, slack);
        out->bound_mm = lesser(out->bound_mm, slack + spread_of(box, near->core_mm[p]));
    }
}

/* Keeps the lesser slack and bound. */
static void join(ks_nearness *all, const ks_nearness *one, int region, int obstacle)
{
    all->bound_mm = lesser(all->bound_mm, one->bound_mm);
    all->unturned_mm = lesser(all->unturned_mm, one->unturned_mm);
    if (one->slack_mm >= all->slack_mm)
        return;
    all->slack_mm = one->slack_mm;
    all->region = region;
    all->obstacle = obstacle;
}

ks_nearness ks_near_judge(const ks_near *near, const ks_stand_box *box, ks_known known)
{
    ks_nearness out = {.stand = stand_of(near, box->x, box->y, box->turn_deg),
                       .slack_mm = INFINITY,
                       .bound_mm = INFINITY,
                       .unturned_mm = INFINITY,
                       .region = -1,
                       .obstacle = -1};
    ks_nearness one = out;
    bool placed = false;
    for (int i = 0; i < near->space->n_regions && out.bound_mm > known.bound_mm; i++) {
        one.slack_mm = -INFINITY;
        held(&near->holdings[i], near, box, known, &one);
        join(&out, &one, i, -1);
    }
    for (int i = 0; i < near->space->n_obstacles && out.bound_mm > known.bound_mm; i++) {
        const ks_hindrance *h = &near->hindrances[i];
        if (h->n_parts == 0)
            continue;
        one.bound_mm = out.bound_mm;
        one.unturned_mm = INFINITY;
        hindered(h, near, box, &placed, &one);
        join(&out, &one, -1, i);
    }
    return out;
}
