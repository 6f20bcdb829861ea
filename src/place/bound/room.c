#include "place/bound/room.h"

#include <math.h>

/* Taken off each computed area that must not be too large, and added to each that must not be too
 * small: far more than the rounding of the sums behind it. */
#define AREA_SLACK 1e-9

static bool is_setter(ks_part_kind kind)
{
    return kind != KS_PART_FOOT && kind != KS_PART_BODY;
}

double ks_part_growth_mm(const ks_shelf_space *space, const ks_shelf_item *item,
                         const ks_part *part)
{
    double apart = item->glazed ? space->ware_mm : 0;
    if (is_setter(part->kind) && space->setter_mm < apart)
        apart = space->setter_mm;
    return apart / 2;
}

/* The half plane to the left of a -> b moved inwards by `by`: cuts the polygon to what is in it. */
static int cut_by(const ks_point *in, int n, ks_point a, ks_point b, double by, ks_point *out)
{
    double dx = b.x - a.x, dy = b.y - a.y, length = sqrt(dx * dx + dy * dy);
    int m = 0;
    if (!(length > 0))
        length = 1;
    for (int i = 0; i < n; i++) {
        ks_point p = in[i], q = in[(i + 1) % n];
        double dp = (dx * (p.y - a.y) - dy * (p.x - a.x)) / length - by;
        double dq = (dx * (q.y - a.y) - dy * (q.x - a.x)) / length - by;
        if (dp >= 0)
            out[m++] = p;
        if ((dp >= 0) != (dq >= 0)) {
            double t = dp / (dp - dq);
            out[m++] = (ks_point){p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)};
        }
    }
    return m;
}

static double convex_shrunk_area(const ks_outline *shape, double by, ks_arena *arena)
{
    ks_point *now = KS_TAKE(arena, 2 * shape->n + 8, ks_point);
    ks_point *next = KS_TAKE(arena, 2 * shape->n + 8, ks_point);
    int n = shape->n;
    for (int i = 0; i < n; i++)
        now[i] = shape->at[i];
    for (int i = 0; i < shape->n && n > 0; i++) {
        n = cut_by(now, n, shape->at[i], shape->at[(i + 1) % shape->n], by, next);
        ks_point *swap = now;
        now = next;
        next = swap;
    }
    ks_outline rest = {n, now, 0};
    return n < 3 ? 0 : ks_outline_area(&rest);
}

/* Never less than the area of the outline moved inwards by `by` (outwards when negative). */
static double inset_area(const ks_outline *shape, double by, ks_arena *arena)
{
    ks_outline moved = *shape;
    if (by <= shape->round) {
        moved.round -= by;
        return ks_outline_area(&moved);
    }
    by -= shape->round;
    moved.round = 0;
    if (shape->n < 3)
        return 0;
    return ks_outline_convex(&moved) ? convex_shrunk_area(&moved, by, arena)
                                     : ks_outline_area(&moved);
}

/* An obstacle takes room where it lies wholly in the region and apart from the others. `kept` is
 * what then no grown cross-section meets. */
static bool takes_room(const ks_shelf_space *space, int which, const ks_shelf_region *region,
                       double at_mm, double grow_mm, ks_outline *kept)
{
    const ks_shelf_obstacle *o = &space->obstacles[which];
    *kept = o->outline;
    kept->round += o->clearance_mm - grow_mm;
    if (o->from_mm > at_mm || o->to_mm <= at_mm || kept->round < 0 || o->grog_only ||
        ks_outline_inside(kept, &region->outline) < region->margin_mm - grow_mm)
        return false;
    for (int k = 0; k < which; k++) {
        ks_outline other = space->obstacles[k].outline;
        other.round += space->obstacles[k].clearance_mm;
        if (ks_outline_distance(kept, &other) < 0)
            return false;
    }
    return ks_outline_convex(kept);
}

static bool bounds_all(const ks_shelf_region *region, double at_mm)
{
    return region->from_mm <= at_mm && region->to_mm > at_mm && !region->grog_only &&
           !(region->feet_only && at_mm > 0);
}

double ks_level_room_mm2(const ks_shelf_space *space, double at_mm, double grow_mm, ks_arena *arena)
{
    double least = INFINITY;
    ks_outline kept;
    for (int r = 0; r < space->n_regions; r++) {
        const ks_shelf_region *region = &space->regions[r];
        if (!bounds_all(region, at_mm))
            continue;
        double area = inset_area(&region->outline, region->margin_mm - grow_mm, arena);
        for (int o = 0; o < space->n_obstacles; o++)
            if (takes_room(space, o, region, at_mm, grow_mm, &kept))
                area -= ks_outline_area(&kept);
        least = area < least ? area : least;
    }
    return isinf(least) || least < 0 ? (isinf(least) ? least : 0) : least * (1 + AREA_SLACK);
}

/* Never less than the area of a polygon whose edges are moved outwards, corners and all. */
static double mitred_area(const ks_outline *shape, double by)
{
    double corners = 0;
    for (int i = 0; i < shape->n; i++) {
        ks_point p = shape->at[i], q = shape->at[(i + 1) % shape->n],
                 s = shape->at[(i + 2) % shape->n];
        double ux = q.x - p.x, uy = q.y - p.y, vx = s.x - q.x, vy = s.y - q.y;
        double turned = ux * vy - uy * vx, length = sqrt((ux * ux + uy * uy) * (vx * vx + vy * vy));
        corners += turned / (length + ux * vx + uy * vy); /* tangent of half the turn */
    }
    ks_outline grown = *shape;
    grown.round = by;
    return ks_outline_area(&grown) + by * by * (corners - 3.141592653589793);
}

/* Room of the region as a round one or one with sides, the price of its sides with it. False where
 * it is neither. */
static bool region_cells(const ks_shelf_region *region, double by, double side_mm2, ks_arena *arena,
                         ks_cell_rule *rule, double *room_mm2)
{
    enum { SIDES_MOST = 12 };
    const ks_outline *shape = &region->outline;
    *rule = (ks_cell_rule){side_mm2, 0};
    if (shape->n == 1) {
        rule->wall_mm = shape->round - by;
        *room_mm2 = inset_area(shape, by, arena) - 6 * side_mm2;
        return rule->wall_mm > 0;
    }
    if (shape->n < 4 || shape->n > SIDES_MOST || !ks_outline_convex(shape))
        return false;
    *room_mm2 =
        by > shape->round ? inset_area(shape, by, arena) : mitred_area(shape, shape->round - by);
    *room_mm2 += side_mm2 * (shape->n - 6);
    return true;
}

bool ks_level_cell_room(const ks_shelf_space *space, double at_mm, double grow_mm, double side_mm2,
                        ks_arena *arena, ks_cell_rule *rule, double *room_mm2)
{
    *room_mm2 = INFINITY;
    for (int r = 0; r < space->n_regions; r++) {
        const ks_shelf_region *region = &space->regions[r];
        ks_cell_rule own;
        ks_outline kept;
        double room;
        if (!bounds_all(region, at_mm) ||
            !region_cells(region, region->margin_mm - grow_mm, side_mm2, arena, &own, &room))
            continue;
        for (int o = 0; o < space->n_obstacles; o++)
            if (takes_room(space, o, region, at_mm, grow_mm, &kept)) {
                ks_cell_body body = ks_cell_body_of(&kept, 0);
                room -= ks_cell_need_mm2(&body, &own);
            }
        room += AREA_SLACK * fabs(room);
        if (room > 0 && room < *room_mm2) {
            *room_mm2 = room;
            *rule = own;
        }
    }
    return *room_mm2 < INFINITY;
}

/* Least area of anything of this area grown by so much (Brunn and Minkowski: a disc grows least).
 */
static double spread_mm2(double area_mm2, double grow_mm)
{
    double across = sqrt(area_mm2) + grow_mm * 1.7724538509055;
    return across * across;
}

/* Of an outline that is not convex the area without its round is known; where sides have a price
 * only convex bodies count. */
static double outline_need(const ks_outline *shape, double grow_mm, const ks_cell_rule *rule)
{
    if (!ks_outline_convex(shape)) {
        ks_outline core = *shape;
        core.round = 0;
        return rule->side_mm2 > 0
                   ? 0
                   : spread_mm2(ks_outline_area(&core), shape->round + grow_mm) * (1 - AREA_SLACK);
    }
    ks_cell_body body = ks_cell_body_of(shape, grow_mm);
    return ks_cell_need_mm2(&body, rule);
}

static bool crosses(const ks_part *part, double at_mm)
{
    return part->from_mm <= at_mm && part->to_mm > at_mm;
}

static bool apart_from_earlier(const ks_shelf_item *item, int which, double at_mm)
{
    for (int k = 0; k < which; k++)
        if (crosses(&item->parts[k], at_mm) &&
            ks_outline_distance(&item->parts[k].outline, &item->parts[which].outline) < 0)
            return false;
    return true;
}

/* The part that needs most, or all where they do not overlap. */
double ks_item_cell_need_mm2(const ks_shelf_space *space, const ks_shelf_item *item, double at_mm,
                             const ks_cell_rule *rule)
{
    double most = 0, sum = 0, growth = INFINITY;
    for (int i = 0; i < item->n_parts; i++) {
        const ks_part *part = &item->parts[i];
        if (!crosses(part, at_mm))
            continue;
        double grow = ks_part_growth_mm(space, item, part);
        double need = outline_need(&part->outline, grow, rule);
        most = need > most ? need : most;
        growth = grow < growth ? grow : growth;
        if (apart_from_earlier(item, i, at_mm))
            sum += outline_need(&part->outline, 0, rule);
        else
            sum = -INFINITY;
    }
    if (sum > 0 && !(rule->side_mm2 > 0))
        sum = spread_mm2(sum, growth) * (1 - AREA_SLACK);
    return sum > most ? sum : most;
}
