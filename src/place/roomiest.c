#include "place/roomiest.h"

#include "place/shelf_rule.h"

#include <math.h>

enum { BOXES_MOST = 400000 };

#define RADIANS_PER_DEGREE 0.017453292519943296

/* A region and what it holds of the piece. In a convex region a piece is as near to the edge as its
 * hull, so that one look at the hull does for all parts. */
typedef struct {
    const ks_shelf_region *region;
    int number; /* in the space */
    bool convex;
    int n_parts;
    ks_outline *parts; /* in the piece's axes; only the hull where convex */
} holding;

/* An obstacle and the parts at its height. */
typedef struct {
    const ks_shelf_obstacle *obstacle;
    ks_circle around;
    int n_parts;
    ks_outline *parts;
} hindrance;

typedef struct {
    const ks_shelf_space *space;
    const ks_shelf_item *item;
    ks_point centre; /* of the circle around the piece: turning about it moves it least */
    double reach_mm; /* of that circle */
    bool turns;      /* freely, and turning makes a difference */
    int n_holdings;
    holding *holdings;
    hindrance *hindrances; /* one for each obstacle */
    ks_point *vertices;
} search;

/* Stands whose centre is within half_mm of (x, y) in both axes and turned within half_deg. */
typedef struct {
    double x, y, turn_deg, half_mm, half_deg, bound_mm;
} box;

/* The box with the highest bound first. */
typedef struct {
    ks_arena *arena;
    box *boxes;
    int n, room;
} heap;

static ks_stand stand_of(const search *s, double x, double y, double turn_deg)
{
    double turn = floor(turn_deg / KS_TURN_STEP + 0.5) * KS_TURN_STEP;
    turn = turn >= 360 ? turn - 360 : turn;
    ks_rotation r = ks_rotation_of(turn);
    return (ks_stand){x - (r.c * s->centre.x - r.s * s->centre.y),
                      y - (r.s * s->centre.x + r.c * s->centre.y), turn};
}

/* Inside a convex outline the nearest of its edges' lines decides. Outside it says too little of a
 * corner, but never more than the distance moved. */
static double within_convex(const ks_outline *inner, const ks_outline *outer)
{
    double least = INFINITY;
    for (int e = 0; outer->n > 1 && e < outer->n; e++) {
        ks_point a = outer->at[e], b = outer->at[(e + 1) % outer->n];
        double dx = b.x - a.x, dy = b.y - a.y, length = sqrt(dx * dx + dy * dy);
        for (int i = 0; i < inner->n; i++)
            least =
                fmin(least, (dx * (inner->at[i].y - a.y) - dy * (inner->at[i].x - a.x)) / length);
    }
    for (int i = 0; outer->n == 1 && i < inner->n; i++) {
        double dx = inner->at[i].x - outer->at[0].x, dy = inner->at[i].y - outer->at[0].y;
        least = fmin(least, -sqrt(dx * dx + dy * dy));
    }
    return least + outer->round - inner->round;
}

static double holding_slack(const search *s, const holding *h, ks_stand stand)
{
    double least = INFINITY;
    for (int p = 0; p < h->n_parts; p++) {
        ks_outline placed = ks_outline_placed_in(&h->parts[p], stand, s->vertices);
        double within = h->convex ? within_convex(&placed, &h->region->outline)
                                  : ks_outline_inside(&placed, &h->region->outline);
        least = fmin(least, within - h->region->margin_mm);
    }
    return least;
}

static double hindrance_slack(const search *s, const hindrance *h, ks_stand stand, double best)
{
    ks_rotation r = ks_rotation_of(stand.turn_deg);
    double dx = stand.x + r.c * s->centre.x - r.s * s->centre.y - h->around.centre.x;
    double dy = stand.y + r.s * s->centre.x + r.c * s->centre.y - h->around.centre.y;
    double clearance = h->obstacle->clearance_mm;
    if (sqrt(dx * dx + dy * dy) - s->reach_mm - h->around.r - clearance >= best)
        return best;
    for (int p = 0; p < h->n_parts; p++) {
        ks_outline placed = ks_outline_placed_in(&h->parts[p], stand, s->vertices);
        best = fmin(best, ks_outline_distance(&placed, &h->obstacle->outline) - clearance);
    }
    return best;
}

/* Least slack of the piece standing so, as far as it matters: below `enough` any figure will do. */
static double slack_at(const search *s, ks_stand stand, double enough, ks_roomiest *at)
{
    double best = INFINITY;
    for (int i = 0; i < s->n_holdings && best > enough; i++) {
        double slack = holding_slack(s, &s->holdings[i], stand);
        if (slack < best)
            best = slack, at->region = s->holdings[i].number, at->obstacle = -1;
    }
    for (int i = 0; i < s->space->n_obstacles && best > enough; i++) {
        double slack = hindrance_slack(s, &s->hindrances[i], stand, best);
        if (slack < best)
            best = slack, at->region = -1, at->obstacle = i;
    }
    return best;
}

static void pushed(heap *h, box b)
{
    h->boxes = KS_GROW(h->arena, h->boxes, h->n, &h->room, box);
    int i = h->n++;
    for (; i > 0 && h->boxes[(i - 1) / 2].bound_mm < b.bound_mm; i = (i - 1) / 2)
        h->boxes[i] = h->boxes[(i - 1) / 2];
    h->boxes[i] = b;
}

static box popped(heap *h)
{
    box top = h->boxes[0], last = h->boxes[--h->n];
    int i = 0;
    for (int child; (child = 2 * i + 1) < h->n; i = child) {
        if (child + 1 < h->n && h->boxes[child + 1].bound_mm > h->boxes[child].bound_mm)
            child++;
        if (h->boxes[child].bound_mm <= last.bound_mm)
            break;
        h->boxes[i] = h->boxes[child];
    }
    h->boxes[i] = last;
    return top;
}

static double spread_of(const search *s, const box *b)
{
    return b->half_mm * 1.4142135623730952 + s->reach_mm * b->half_deg * RADIANS_PER_DEGREE;
}

/* Judges the middle of a box, keeps it if it is the best so far, and the box if it may hold better.
 */
static void tried(const search *s, box b, double within_mm, ks_roomiest *best, heap *open)
{
    ks_roomiest here = {.stand = stand_of(s, b.x, b.y, b.turn_deg)};
    here.slack_mm = slack_at(s, here.stand, best->slack_mm + within_mm - spread_of(s, &b), &here);
    if (here.slack_mm > best->slack_mm)
        *best = here;
    b.bound_mm = here.slack_mm + spread_of(s, &b);
    if (b.bound_mm > best->slack_mm + within_mm)
        pushed(open, b);
}

/* Into two by angle where that is what is wide, else into four. */
static void halved(const search *s, const box *b, double within_mm, ks_roomiest *best, heap *open)
{
    if (s->turns && s->reach_mm * b->half_deg * RADIANS_PER_DEGREE > b->half_mm) {
        for (int side = -1; side <= 1; side += 2) {
            box half = *b;
            half.half_deg = b->half_deg / 2;
            half.turn_deg = b->turn_deg + side * half.half_deg;
            tried(s, half, within_mm, best, open);
        }
        return;
    }
    for (int quarter = 0; quarter < 4; quarter++) {
        box part = *b;
        part.half_mm = b->half_mm / 2;
        part.x = b->x + (quarter & 1 ? part.half_mm : -part.half_mm);
        part.y = b->y + (quarter & 2 ? part.half_mm : -part.half_mm);
        tried(s, part, within_mm, best, open);
    }
}

/* A box around all regions: a piece whose middle is outside it stands in none. */
static ks_box widest_field(const ks_shelf_space *space)
{
    ks_box field = ks_outline_box(&space->regions[0].outline);
    for (int i = 1; i < space->n_regions; i++) {
        ks_box other = ks_outline_box(&space->regions[i].outline);
        field.x0 = fmin(field.x0, other.x0), field.y0 = fmin(field.y0, other.y0);
        field.x1 = fmax(field.x1, other.x1), field.y1 = fmax(field.y1, other.y1);
    }
    return field;
}

static void opened(const search *s, double within_mm, ks_roomiest *best, heap *open)
{
    ks_box field = widest_field(s->space);
    box whole = {.x = (field.x0 + field.x1) / 2, .y = (field.y0 + field.y1) / 2};
    whole.half_mm = fmax(field.x1 - field.x0, field.y1 - field.y0) / 2;
    if (s->turns) {
        for (int side = 0; side < 4; side++) {
            box turned = whole;
            turned.turn_deg = 45 + 90 * side;
            turned.half_deg = 45;
            tried(s, turned, within_mm, best, open);
        }
        return;
    }
    double step = s->item->turn_step_deg > 0 ? s->item->turn_step_deg : 360;
    for (double turn = 0; turn < 360 - step / 2 || turn == 0; turn += step) {
        box turned = whole;
        turned.turn_deg = fmod(s->item->turn_first_deg + turn, 360);
        tried(s, turned, within_mm, best, open);
    }
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

static void holding_made(const search *s, int number, ks_arena *arena, holding *out)
{
    const ks_shelf_region *region = &s->space->regions[number];
    *out = (holding){region, number, ks_outline_convex(&region->outline), 0, NULL};
    out->parts = KS_TAKE(arena, s->item->n_parts + 1, ks_outline);
    for (int p = 0; p < s->item->n_parts; p++)
        if (ks_shelf_region_holds(region, &s->item->parts[p]))
            out->parts[out->n_parts++] = s->item->parts[p].outline;
    if (out->convex && out->n_parts > 1) {
        out->parts[0] = ks_outline_hull(out->parts, out->n_parts, arena);
        out->n_parts = 1;
    }
}

static void hindrance_made(const search *s, int number, ks_arena *arena, hindrance *out)
{
    const ks_shelf_obstacle *obstacle = &s->space->obstacles[number];
    *out = (hindrance){obstacle, ks_outline_around(&obstacle->outline), 0, NULL};
    out->parts = KS_TAKE(arena, s->item->n_parts, ks_outline);
    for (int p = 0; p < s->item->n_parts; p++)
        if (ks_shelf_obstacle_holds(obstacle, &s->item->parts[p]))
            out->parts[out->n_parts++] = s->item->parts[p].outline;
}

/* A hull of parts of unlike roundness may have more vertices than any of them. */
static int most_vertices(const search *s)
{
    int most = 1;
    for (int i = 0; i < s->n_holdings; i++)
        for (int p = 0; p < s->holdings[i].n_parts; p++)
            most = s->holdings[i].parts[p].n > most ? s->holdings[i].parts[p].n : most;
    for (int p = 0; p < s->item->n_parts; p++)
        most = s->item->parts[p].outline.n > most ? s->item->parts[p].outline.n : most;
    return most;
}

static search prepared(const ks_shelf_space *space, const ks_shelf_item *item, ks_arena *arena)
{
    search s = {.space = space, .item = item};
    ks_outline *outlines = KS_TAKE(arena, item->n_parts, ks_outline);
    for (int p = 0; p < item->n_parts; p++)
        outlines[p] = item->parts[p].outline;
    ks_outline hull = ks_outline_hull(outlines, item->n_parts, arena);
    ks_circle around = ks_outline_around(&hull);
    s.centre = around.centre;
    s.reach_mm = around.r;
    s.turns = item->turn_step_deg == 0 && !all_round(item);
    s.n_holdings = space->n_regions;
    s.holdings = KS_TAKE(arena, space->n_regions, holding);
    s.hindrances = KS_TAKE(arena, space->n_obstacles, hindrance);
    for (int i = 0; i < space->n_regions; i++)
        holding_made(&s, i, arena, &s.holdings[i]);
    for (int i = 0; i < space->n_obstacles; i++)
        hindrance_made(&s, i, arena, &s.hindrances[i]);
    s.vertices = KS_TAKE(arena, most_vertices(&s), ks_point);
    return s;
}

/* Best first, until no box can hold more than the best by `within_mm`, or the best is enough. */
static void searched(const search *s, double within_mm, double enough_mm, ks_roomiest *best,
                     ks_arena *arena)
{
    heap open = {.arena = arena};
    opened(s, within_mm, best, &open);
    for (int boxes = 0; open.n > 0 && boxes < BOXES_MOST && best->slack_mm < enough_mm; boxes++) {
        if (open.boxes[0].bound_mm <= best->slack_mm + within_mm)
            break;
        box next = popped(&open);
        halved(s, &next, within_mm, best, &open);
    }
    best->bound_mm = best->slack_mm + within_mm;
    if (open.n > 0)
        best->bound_mm = fmax(best->bound_mm, open.boxes[0].bound_mm);
}

ks_roomiest ks_roomiest_find(const ks_shelf_space *space, const ks_shelf_item *item,
                             double within_mm)
{
    ks_arena arena = {0};
    ks_roomiest best = {.slack_mm = -INFINITY, .region = -1, .obstacle = -1};
    search s = prepared(space, item, &arena);
    searched(&s, within_mm, INFINITY, &best, &arena);
    ks_arena_finish(&arena);
    return best;
}

bool ks_roomiest_reaches(const ks_shelf_space *space, const ks_shelf_item *item, double slack_mm,
                         double within_mm)
{
    ks_arena arena = {0};
    /* Starting from less than is asked by `within_mm`, boxes that cannot reach it are never opened.
     */
    ks_roomiest best = {.slack_mm = slack_mm - within_mm, .region = -1, .obstacle = -1};
    search s = prepared(space, item, &arena);
    searched(&s, within_mm, slack_mm, &best, &arena);
    ks_arena_finish(&arena);
    return best.slack_mm >= slack_mm;
}
