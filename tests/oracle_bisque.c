#include "oracle_bisque.h"

#include "oracle.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* By the wording of docs/checking.md. Every outline is a disc or a convex polygon, every hollow a
 * disc, as thrown ware and tiles have them; anything else would be NAN, and agrees with nothing. */

enum { MOST = 128 };

typedef struct {
    int level, item, on, root, n_over; /* on: what carries it, or backs it in a row */
    const ks_placed *placed;
    const ks_piece *piece; /* NULL: a cone pack */
    double z, outward;
    GEOSGeometry **cores; /* of each part */
    double x0, y0, x1, y1;
} thing;

typedef struct {
    const ks_order *order;
    const ks_load *load;
    const ks_kiln *kiln;
    int n;
    thing *at;
    bisque_verdict v;
} judge;

static void weigh(judge *j, int rule, double spare)
{
    if (!(spare >= j->v.spare[rule]))
        j->v.spare[rule] = spare;
}

static void look_at(judge *j, int level, int item)
{
    const ks_placed *placed = &j->load->levels[level].pieces[item];
    thing *t = &j->at[j->n++];
    *t = (thing){.level = level,
                 .item = item,
                 .on = -1,
                 .placed = placed,
                 .piece = placed->piece < 0 ? NULL : &j->order->pieces[placed->piece],
                 .z = j->load->levels[level].z_mm,
                 .x0 = INFINITY,
                 .y0 = INFINITY,
                 .x1 = -INFINITY,
                 .y1 = -INFINITY};
    t->outward = t->piece ? t->piece->outward_mm : 0;
    t->cores = calloc((size_t)placed->n_parts, sizeof *t->cores);
    for (int p = 0; p < placed->n_parts; p++) {
        const ks_outline *o = &placed->parts[p].outline;
        t->cores[p] = oracle_core(o);
        for (int i = 0; i < o->n; i++) {
            t->x0 = fmin(t->x0, o->at[i].x - o->round - t->outward);
            t->y0 = fmin(t->y0, o->at[i].y - o->round - t->outward);
            t->x1 = fmax(t->x1, o->at[i].x + o->round + t->outward);
            t->y1 = fmax(t->y1, o->at[i].y + o->round + t->outward);
        }
    }
}

static void find_carriers(judge *j)
{
    for (int i = 0; i < j->n; i++)
        for (int k = 0; k < j->n && j->at[i].placed->on_id; k++)
            if (j->at[k].level == j->at[i].level &&
                strcmp(j->at[k].placed->id, j->at[i].placed->on_id) == 0 &&
                j->at[k].placed->copy == j->at[i].placed->on_copy)
                j->at[i].on = k;
    for (int i = 0; i < j->n; i++) {
        j->at[i].root = i;
        for (int k = j->at[i].on, steps = 0; k >= 0 && steps < j->n; k = j->at[k].on, steps++)
            j->at[i].root = k;
    }
}

/* Negative where they overlap: how deep, were it a sliver. */
static double core_distance(const GEOSGeometry *a, const GEOSGeometry *b)
{
    double apart = oracle_distance(a, b), around = 0;
    if (apart > 0)
        return apart;
    GEOSGeometry *common = GEOSIntersection(a, b);
    double area = oracle_area(common);
    GEOSLength(common, &around);
    GEOSGeom_destroy(common);
    return area > 0 ? -2 * area / around : 0;
}

static double part_distance(const thing *a, int p, const thing *b, int q)
{
    return core_distance(a->cores[p], b->cores[q]) - a->placed->parts[p].outline.round -
           b->placed->parts[q].outline.round;
}

/* Of one part within a disc of room: by its farthest corner. */
static double inside_by(const ks_outline *inner, const ks_outline *room)
{
    double farthest = 0;
    for (int i = 0; i < inner->n; i++)
        farthest =
            fmax(farthest, hypot(inner->at[i].x - room->at[0].x, inner->at[i].y - room->at[0].y));
    return room->n == 1 ? room->round - farthest - inner->round : NAN;
}

/* Within one stack: apart, or one in the other's room. */
static double apart_by(const thing *a, int p, const thing *b, int q)
{
    const ks_part *one = &a->placed->parts[p], *other = &b->placed->parts[q];
    double by = part_distance(a, p, b, q);
    if (one->hollow.n > 0)
        by = fmax(by, inside_by(&other->outline, &one->hollow));
    if (other->hollow.n > 0)
        by = fmax(by, inside_by(&one->outline, &other->hollow));
    return by;
}

static double clear_between(const thing *a, int p, const thing *b, int q)
{
    const ks_part *one = &a->placed->parts[p], *other = &b->placed->parts[q];
    return fmax(a->z + one->from_mm - b->z - other->to_mm,
                b->z + other->from_mm - a->z - one->to_mm);
}

static void judge_stack_pair(judge *j, const thing *a, const thing *b)
{
    for (int p = 0; p < a->placed->n_parts; p++)
        for (int q = 0; q < b->placed->n_parts; q++)
            if (clear_between(a, p, b, q) < -0.001)
                weigh(j, BISQUE_MEET, apart_by(a, p, b, q));
}

/* Whether shelves part them: the lower under those of the upper, and that over them. */
static bool shelf_between(const judge *j, const thing *low, int q, const thing *high, int p)
{
    const ks_level *level = &j->load->levels[high->level];
    const double grid = 0.01;
    double under_mm = level->z_mm;
    GEOSGeometry *shelves[MOST];
    unsigned n = 0;
    for (int s = 0; s < level->n_shelves && s < MOST; s++) {
        under_mm = fmin(under_mm, level->z_mm - level->shelves[s].thickness_mm);
        shelves[n++] = oracle_whole(&level->shelves[s].outline);
    }
    GEOSGeometry *all = GEOSGeom_createCollection(GEOS_GEOMETRYCOLLECTION, shelves, n);
    GEOSGeometry *one = GEOSUnaryUnion(all), *wider = GEOSBuffer(one, grid, 8);
    GEOSGeometry *part = oracle_whole(&high->placed->parts[p].outline);
    bool so = n > 0 && low->z + low->placed->parts[q].to_mm <= under_mm + 0.001 &&
              GEOSContains(wider, part) == 1;
    GEOSGeom_destroy(all);
    GEOSGeom_destroy(one);
    GEOSGeom_destroy(wider);
    GEOSGeom_destroy(part);
    return so;
}

/* At one height `need` beside one another; else so far apart, or `under` over one another. */
static void judge_others(judge *j, const thing *a, const thing *b)
{
    double need = fmax(a->placed->around_mm, b->placed->around_mm),
           under = j->load->clearance.under;
    if (a->placed->glazed || b->placed->glazed)
        need = fmax(need, j->load->clearance.ware);
    if (a->x0 - b->x1 > need || b->x0 - a->x1 > need || a->y0 - b->y1 > need ||
        b->y0 - a->y1 > need)
        return;
    for (int p = 0; p < a->placed->n_parts; p++)
        for (int q = 0; q < b->placed->n_parts; q++) {
            double gap = clear_between(a, p, b, q);
            if (gap >= under)
                continue;
            double spare = part_distance(a, p, b, q) - a->outward - b->outward - need;
            if (spare < 0 && gap >= 0 && a->z != b->z &&
                (a->z < b->z ? shelf_between(j, a, p, b, q) : shelf_between(j, b, q, a, p)))
                continue;
            weigh(j, BISQUE_MEET, gap < -0.001 ? spare : fmax(spare, gap - under));
        }
}

/* Whether something under it meets it from above: how little of that is missing. */
static void judge_rest(judge *j, const thing *over, const thing *under)
{
    double least = INFINITY;
    for (int p = 0; p < over->placed->n_parts; p++)
        for (int q = 0; q < under->placed->n_parts; q++) {
            double hangs = over->placed->parts[p].from_mm - under->placed->parts[q].to_mm;
            if (hangs < least && apart_by(over, p, under, q) < 0.002)
                least = fmax(hangs, 0);
        }
    weigh(j, BISQUE_REST, 0.002 - least);
}

static void judge_backed(judge *j, const thing *over, const thing *before)
{
    weigh(j, BISQUE_REST, 0.002 - part_distance(over, 0, before, 0));
}

static double wall_spare(const ks_outline *room, const thing *t, int p)
{
    const ks_outline *own = &t->placed->parts[p].outline;
    double wide = own->round + t->outward;
    if (room->n == 1)
        return inside_by(own, room) - t->outward;
    GEOSGeometry *core = oracle_core(room);
    double to = oracle_to_boundary(t->cores[p], core);
    bool within = GEOSContains(core, t->cores[p]) == 1;
    GEOSGeom_destroy(core);
    return (within ? to : -to) + room->round - wide;
}

static void judge_wall(judge *j, const thing *t)
{
    for (int p = 0; p < t->placed->n_parts; p++)
        for (int c = 0; c < j->kiln->n_parts; c++) {
            const ks_chamber_part *chamber = &j->kiln->parts[c];
            const ks_part *part = &t->placed->parts[p];
            if (t->z + part->from_mm < chamber->to_mm && t->z + part->to_mm > chamber->from_mm)
                weigh(j, BISQUE_WALL,
                      wall_spare(&chamber->outline, t, p) - j->load->clearance.wall);
        }
}

static const thing *under_of(const judge *j, const thing *t)
{
    return t->on < 0 || t->placed->way == KS_EDGE ? NULL : &j->at[t->on];
}

static bool lies_flat(const thing *t)
{
    const ks_part *only = &t->placed->parts[0];
    return t->placed->n_parts == 1 && only->outline.n > 1 && only->to_mm - only->from_mm <= 25;
}

static void judge_height(judge *j, const thing *t)
{
    const ks_stacking *most = &j->order->rules.stacking;
    int rims = 1, nest = 1, pile = 1;
    bool tiles = lies_flat(t);
    const thing *at = t, *under = under_of(j, at);
    for (; under; at = under, under = under_of(j, at))
        rims += at->placed->way == KS_RIM;
    for (at = t, under = under_of(j, at); under && at->placed->way == KS_NEST;
         at = under, under = under_of(j, at))
        nest++;
    for (at = t, under = under_of(j, at); under && at->placed->way == KS_PILE;
         at = under, under = under_of(j, at)) {
        pile++;
        tiles = tiles && lies_flat(under);
    }
    weigh(j, BISQUE_HIGH, most->rims - rims);
    weigh(j, BISQUE_HIGH, most->nest - nest);
    weigh(j, BISQUE_HIGH, (tiles ? most->tiles : most->plates) - pile);
}

static double disc_or_polygon_mm2(const ks_outline *o)
{
    double twice = 0, around = 0;
    for (int i = 0; i < o->n; i++) {
        ks_point a = o->at[i], b = o->at[(i + 1) % o->n];
        twice += a.x * b.y - b.x * a.y;
        around += hypot(b.x - a.x, b.y - a.y);
    }
    return (o->n > 2 ? twice / 2 + around * o->round : 0) + acos(-1) * o->round * o->round;
}

static ks_point middle_of(const GEOSGeometry *core)
{
    GEOSGeometry *middle = GEOSGetCentroid(core);
    ks_point at;
    GEOSGeomGetX(middle, &at.x);
    GEOSGeomGetY(middle, &at.y);
    GEOSGeom_destroy(middle);
    return at;
}

typedef struct {
    double kg, x, y, z;
} burden;

static void add_burden(burden *all, const thing *t)
{
    double mm3 = 0, x = 0, y = 0, z = 0;
    for (int p = 0; p < t->placed->n_parts; p++) {
        const ks_part *part = &t->placed->parts[p];
        double room = part->hollow.n > 0 ? disc_or_polygon_mm2(&part->hollow) : 0;
        double solid = (disc_or_polygon_mm2(&part->outline) - room) * (part->to_mm - part->from_mm);
        ks_point middle = middle_of(t->cores[p]);
        mm3 += solid;
        x += solid * middle.x;
        y += solid * middle.y;
        z += solid * (part->from_mm + part->to_mm) / 2;
    }
    all->kg += t->piece->mass_kg;
    all->x += t->piece->mass_kg * x / mm3;
    all->y += t->piece->mass_kg * y / mm3;
    all->z += t->piece->mass_kg * z / mm3;
}

/* It and all that it carries, or only the latter. */
static burden burden_of(const judge *j, int base, bool itself)
{
    burden all = {0, 0, 0, 0};
    for (int i = 0; i < j->n; i++) {
        const thing *at = &j->at[i];
        while (at && at != &j->at[base])
            at = under_of(j, at);
        if (at && j->at[i].piece && (itself || i != base))
            add_burden(&all, &j->at[i]);
    }
    return all;
}

/* The hull of the parts chosen; how far the middle is within it, level and at 5 degrees. */
static double stands_by(GEOSGeometry *parts, const burden *on, double z)
{
    GEOSGeometry *hull = GEOSConvexHull(parts);
    GEOSGeometry *point = GEOSGeom_createPointFromXY(on->x / on->kg, on->y / on->kg);
    double by = oracle_to_boundary(point, hull) * (GEOSContains(hull, point) == 1 ? 1 : -1);
    GEOSGeom_destroy(point);
    GEOSGeom_destroy(hull);
    return by - fmax(0, on->z / on->kg - z) * tan(5 * acos(-1) / 180);
}

static void judge_contact(judge *j, const thing *over, const thing *under, const burden *all)
{
    unsigned n = 0;
    GEOSGeometry *ups[MOST], *downs[MOST];
    double z = 0;
    for (int p = 0; p < over->placed->n_parts; p++)
        for (int q = 0; q < under->placed->n_parts && n < MOST; q++) {
            const ks_part *up = &over->placed->parts[p], *down = &under->placed->parts[q];
            if (fabs(up->from_mm - down->to_mm) > 0.002 || apart_by(over, p, under, q) >= 0.002)
                continue;
            z = fmax(z, down->to_mm);
            ups[n] = oracle_whole(&up->outline);
            downs[n++] = oracle_whole(&down->outline);
        }
    if (n == 0)
        return;
    GEOSGeometry *feet = GEOSGeom_createCollection(GEOS_GEOMETRYCOLLECTION, ups, n);
    GEOSGeometry *bed = GEOSGeom_createCollection(GEOS_GEOMETRYCOLLECTION, downs, n);
    weigh(j, BISQUE_STANDS, stands_by(feet, all, z));
    weigh(j, BISQUE_STANDS, stands_by(bed, all, z));
    GEOSGeom_destroy(feet);
    GEOSGeom_destroy(bed);
}

/* The whole stack, on what it has on the shelf. */
static void judge_feet(judge *j, const thing *t, const burden *all)
{
    unsigned n = 0;
    GEOSGeometry *feet[MOST];
    for (int p = 0; p < t->placed->n_parts && n < MOST; p++)
        if (t->placed->parts[p].from_mm <= 0)
            feet[n++] = oracle_whole(&t->placed->parts[p].outline);
    if (n == 0)
        return;
    GEOSGeometry *together = GEOSGeom_createCollection(GEOS_GEOMETRYCOLLECTION, feet, n);
    weigh(j, BISQUE_STANDS, stands_by(together, all, 0));
    GEOSGeom_destroy(together);
}

static void judge_one(judge *j, int i)
{
    const thing *t = &j->at[i], *under = under_of(j, t);
    judge_wall(j, t);
    if (!t->piece)
        return;
    double over_kg = burden_of(j, i, false).kg;
    if (over_kg > 0)
        weigh(j, BISQUE_CARRIED, j->order->rules.stacking.carried * t->piece->mass_kg - over_kg);
    if (t->placed->way == KS_EDGE && t->on >= 0)
        judge_backed(j, t, &j->at[t->on]);
    burden all = burden_of(j, i, true);
    if (!under) {
        if (over_kg > 0)
            judge_feet(j, t, &all);
        return;
    }
    judge_rest(j, t, under);
    judge_height(j, t);
    judge_contact(j, t, under, &all);
}

bisque_verdict oracle_bisque(const ks_plan *plan, int load)
{
    judge j = {.order = plan->order, .load = &plan->loads[load]};
    int n = 0;
    for (int l = 0; l < j.load->n_levels; l++)
        n += j.load->levels[l].n_pieces;
    j.at = calloc((size_t)n + 1, sizeof *j.at);
    j.kiln = &plan->order->kilns[j.load->kiln];
    for (int r = 0; r < BISQUE_RULES; r++)
        j.v.spare[r] = INFINITY;
    for (int l = 0; l < j.load->n_levels; l++)
        for (int i = 0; i < j.load->levels[l].n_pieces; i++)
            look_at(&j, l, i);
    find_carriers(&j);
    for (int i = 0; i < j.n; i++) {
        judge_one(&j, i);
        for (int k = 0; k < i; k++)
            (j.at[i].root == j.at[k].root ? judge_stack_pair : judge_others)(&j, &j.at[i],
                                                                             &j.at[k]);
    }
    for (int i = 0; i < j.n; i++) {
        for (int p = 0; p < j.at[i].placed->n_parts; p++)
            GEOSGeom_destroy(j.at[i].cores[p]);
        free(j.at[i].cores);
    }
    free(j.at);
    return j.v;
}
