#include "place/roomiest_near.h"

#include "place/shelf_rule.h"

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

static void hull_turned(ks_holding *h, ks_point centre, const ks_stand_box *box, double turn_deg)
{
    ks_rotation r = ks_rotation_of(turn_deg), half = half_turn(box->half_deg);
    const ks_outline *hull = &h->parts[0];
    for (int i = 0; i < hull->n; i++) {
        double x = hull->at[i].x - centre.x, y = hull->at[i].y - centre.y;
        h->turned[i] = (ks_point){r.c * x - r.s * y, r.s * x + r.c * y};
    }
    for (int e = 0; e < h->n_edges; e++) {
        ks_point n = h->normal[e];
        double least = INFINITY, bound = INFINITY;
        for (int i = 0; i < hull->n; i++) {
            double along = n.x * h->turned[i].x + n.y * h->turned[i].y;
            double across = fabs(n.x * h->turned[i].y - n.y * h->turned[i].x);
            least = lesser(least, along);
            bound = lesser(bound, turned_at_most(along, across, half));
        }
        h->within[e] = least;
        h->at_most[e] = bound;
    }
    h->turn_deg = box->turn_deg;
    h->half_deg = box->half_deg;
}

/* Inside a convex polygon the nearest of its edges' lines decides; of what is outside, how far it
 * is over the worst of them. Boxes of one turn come one after another: the hull is turned once. */
static void within_edges(ks_holding *h, const ks_near *near, const ks_stand_box *box,
                         ks_nearness *out)
{
    if (h->turn_deg != box->turn_deg || h->half_deg != box->half_deg)
        hull_turned(h, near->centre, box, out->stand.turn_deg);
    double spare = h->region->outline.round - h->parts[0].round - h->region->margin_mm;
    double slack = INFINITY, bound = INFINITY;
    for (int e = 0; e < h->n_edges; e++) {
        ks_point n = h->normal[e];
        double at = n.x * box->x + n.y * box->y - h->offset[e];
        slack = lesser(slack, at + h->within[e]);
        bound = lesser(bound, at + h->at_most[e] + (fabs(n.x) + fabs(n.y)) * box->half_mm);
    }
    out->slack_mm = slack + spare;
    out->bound_mm = bound + spare;
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
static void held(ks_holding *h, const ks_near *near, const ks_stand_box *box, double enough,
                 ks_nearness *out)
{
    if (h->n_parts == 0) {
        out->slack_mm = out->bound_mm = INFINITY;
        return;
    }
    bool convex = h->convex;
    out->bound_mm = INFINITY;
    if (convex && h->region->outline.n == 1)
        within_disc(h, near, box, out);
    else if (convex && h->region->outline.n > 2)
        within_edges(h, near, box, out);
    bool exact = convex && (h->region->outline.n == 1 ||
                            (h->region->outline.n > 2 && h->region->outline.round == 0));
    if (exact || out->bound_mm <= enough)
        return;
    out->slack_mm = placed_within(h, near, out->stand);
    out->bound_mm = lesser(out->bound_mm, out->slack_mm + spread_of(box, near->reach_mm));
}

/* Parts are placed once for all obstacles, when the first is near enough to matter. */
static void parts_placed(const ks_near *near, ks_stand stand, bool *placed)
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
    double clearance = h->obstacle->clearance_mm;
    out->slack_mm = sqrt(dx * dx + dy * dy) - h->reach_mm - h->around.r - clearance;
    out->bound_mm = INFINITY;
    if (out->slack_mm >= bound_known)
        return;
    out->slack_mm = INFINITY;
    parts_placed(near, out->stand, placed);
    for (int i = 0; i < h->n_parts; i++) {
        int p = h->parts[i];
        double slack = ks_outline_distance(&near->placed[p], &h->obstacle->outline) - clearance;
        out->slack_mm = lesser(out->slack_mm, slack);
        out->bound_mm = lesser(out->bound_mm, slack + spread_of(box, near->core_mm[p]));
    }
}

/* Keeps the lesser slack and bound. */
static void joined(ks_nearness *all, const ks_nearness *one, int region, int obstacle)
{
    all->bound_mm = lesser(all->bound_mm, one->bound_mm);
    if (one->slack_mm >= all->slack_mm)
        return;
    all->slack_mm = one->slack_mm;
    all->region = region;
    all->obstacle = obstacle;
}

ks_nearness ks_near_judge(const ks_near *near, const ks_stand_box *box, double enough)
{
    ks_nearness out = {.stand = stand_of(near, box->x, box->y, box->turn_deg),
                       .slack_mm = INFINITY,
                       .bound_mm = INFINITY,
                       .region = -1,
                       .obstacle = -1};
    ks_nearness one = out;
    bool placed = false;
    for (int i = 0; i < near->space->n_regions && out.bound_mm > enough; i++) {
        one.slack_mm = -INFINITY;
        held(&near->holdings[i], near, box, enough, &one);
        joined(&out, &one, i, -1);
    }
    for (int i = 0; i < near->space->n_obstacles && out.bound_mm > enough; i++) {
        const ks_hindrance *h = &near->hindrances[i];
        if (h->n_parts == 0)
            continue;
        one.bound_mm = out.bound_mm;
        hindered(h, near, box, &placed, &one);
        joined(&out, &one, -1, i);
    }
    return out;
}

/* Discs about one centre look the same however they are turned. */
static bool all_round(const ks_shelf_item *item)
{
    for (int p = 0; p < item->n_parts; p++) {
        const ks_outline *outline = &item->parts[p].outline;
        if (outline->n > 1 || outline->at[0].x != item->parts[0].outline.at[0].x ||
            outline->at[0].y != item->parts[0].outline.at[0].y)
            return false;
    }
    return true;
}

static void edges_made(ks_holding *h, ks_arena *arena)
{
    const ks_outline *outline = &h->region->outline;
    h->n_edges = outline->n;
    h->normal = KS_TAKE(arena, outline->n, ks_point);
    h->offset = KS_TAKE(arena, outline->n, double);
    h->within = KS_TAKE(arena, outline->n, double);
    h->at_most = KS_TAKE(arena, outline->n, double);
    h->turned = KS_TAKE(arena, h->parts[0].n, ks_point);
    h->turn_deg = -1;
    for (int e = 0; e < outline->n; e++) {
        ks_point a = outline->at[e], b = outline->at[(e + 1) % outline->n];
        double dx = b.x - a.x, dy = b.y - a.y, length = sqrt(dx * dx + dy * dy);
        h->normal[e] = (ks_point){-dy / length, dx / length};
        h->offset[e] = h->normal[e].x * a.x + h->normal[e].y * a.y;
    }
}

static void holding_made(const ks_near *near, int number, ks_arena *arena, ks_holding *out)
{
    const ks_shelf_region *region = &near->space->regions[number];
    *out = (ks_holding){.region = region, .convex = ks_outline_convex(&region->outline)};
    out->parts = KS_TAKE(arena, near->item->n_parts + 1, ks_outline);
    for (int p = 0; p < near->item->n_parts; p++)
        if (ks_shelf_region_holds(region, &near->item->parts[p]))
            out->parts[out->n_parts++] = near->item->parts[p].outline;
    if (out->convex && out->n_parts > 1) {
        out->parts[0] = ks_outline_hull(out->parts, out->n_parts, arena);
        out->n_parts = 1;
    }
    if (out->convex && out->n_parts > 0 && region->outline.n > 2)
        edges_made(out, arena);
}

static double reach_from(const ks_outline *outline, ks_point centre)
{
    double most = 0;
    for (int i = 0; i < outline->n; i++) {
        double dx = outline->at[i].x - centre.x, dy = outline->at[i].y - centre.y;
        most = fmax(most, sqrt(dx * dx + dy * dy));
    }
    return most;
}

static void hindrance_made(const ks_near *near, int number, ks_arena *arena, ks_hindrance *out)
{
    const ks_shelf_obstacle *obstacle = &near->space->obstacles[number];
    *out = (ks_hindrance){.obstacle = obstacle, .around = ks_outline_around(&obstacle->outline)};
    out->parts = KS_TAKE(arena, near->item->n_parts, int);
    for (int p = 0; p < near->item->n_parts; p++)
        if (ks_shelf_obstacle_holds(obstacle, &near->item->parts[p])) {
            out->parts[out->n_parts++] = p;
            out->reach_mm =
                fmax(out->reach_mm, near->core_mm[p] + near->item->parts[p].outline.round);
        }
}

static void parts_readied(ks_near *near, ks_arena *arena)
{
    int n = near->item->n_parts;
    near->core_mm = KS_TAKE(arena, n, double);
    near->placed = KS_TAKE(arena, n, ks_outline);
    near->placed_room = KS_TAKE(arena, n, ks_point *);
    for (int p = 0; p < n; p++) {
        near->core_mm[p] = reach_from(&near->item->parts[p].outline, near->centre);
        near->placed_room[p] = KS_TAKE(arena, near->item->parts[p].outline.n, ks_point);
    }
}

/* A hull of parts of unlike roundness may have more vertices than any of them. */
static int most_vertices(const ks_near *near)
{
    int most = 1;
    for (int i = 0; i < near->space->n_regions; i++)
        for (int p = 0; p < near->holdings[i].n_parts; p++)
            most = near->holdings[i].parts[p].n > most ? near->holdings[i].parts[p].n : most;
    for (int p = 0; p < near->item->n_parts; p++)
        most = near->item->parts[p].outline.n > most ? near->item->parts[p].outline.n : most;
    return most;
}

ks_near ks_near_of(const ks_shelf_space *space, const ks_shelf_item *item, ks_arena *arena)
{
    ks_near near = {.space = space, .item = item};
    ks_outline *outlines = KS_TAKE(arena, item->n_parts, ks_outline);
    for (int p = 0; p < item->n_parts; p++)
        outlines[p] = item->parts[p].outline;
    ks_outline hull = ks_outline_hull(outlines, item->n_parts, arena);
    ks_circle around = ks_outline_around(&hull);
    near.centre = around.centre;
    near.reach_mm = around.r;
    near.turns = item->turn_step_deg == 0 && !all_round(item);
    parts_readied(&near, arena);
    near.holdings = KS_TAKE(arena, space->n_regions, ks_holding);
    near.hindrances = KS_TAKE(arena, space->n_obstacles + 1, ks_hindrance);
    for (int i = 0; i < space->n_regions; i++)
        holding_made(&near, i, arena, &near.holdings[i]);
    for (int i = 0; i < space->n_obstacles; i++)
        hindrance_made(&near, i, arena, &near.hindrances[i]);
    near.vertices = KS_TAKE(arena, most_vertices(&near), ks_point);
    return near;
}
