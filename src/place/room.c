#include "place/room.h"

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

/* An obstacle takes room where it lies wholly in the region and apart from the others. */
static double taken_by(const ks_shelf_space *space, int which, const ks_shelf_region *region,
                       double at_mm, double grow_mm)
{
    const ks_shelf_obstacle *o = &space->obstacles[which];
    ks_outline kept = o->outline;
    kept.round += o->clearance_mm - grow_mm;
    if (o->from_mm > at_mm || o->to_mm <= at_mm || kept.round < 0 ||
        ks_outline_inside(&kept, &region->outline) < region->margin_mm - grow_mm)
        return 0;
    for (int k = 0; k < which; k++) {
        ks_outline other = space->obstacles[k].outline;
        other.round += space->obstacles[k].clearance_mm;
        if (ks_outline_distance(&kept, &other) < 0)
            return 0;
    }
    return ks_outline_convex(&kept) ? ks_outline_area(&kept) : 0;
}

double ks_level_room_mm2(const ks_shelf_space *space, double at_mm, double grow_mm, ks_arena *arena)
{
    double least = INFINITY;
    for (int r = 0; r < space->n_regions; r++) {
        const ks_shelf_region *region = &space->regions[r];
        if (region->from_mm > at_mm || region->to_mm <= at_mm || region->grog_only ||
            (region->feet_only && at_mm > 0))
            continue;
        double area = inset_area(&region->outline, region->margin_mm - grow_mm, arena);
        for (int o = 0; o < space->n_obstacles; o++)
            area -= taken_by(space, o, region, at_mm, grow_mm);
        least = area < least ? area : least;
    }
    return isinf(least) || least < 0 ? (isinf(least) ? least : 0) : least * (1 + AREA_SLACK);
}

double ks_item_need_mm2(const ks_shelf_space *space, const ks_shelf_item *item, double at_mm)
{
    double most = 0, sum = 0;
    bool apart = true;
    for (int i = 0; i < item->n_parts; i++) {
        const ks_part *part = &item->parts[i];
        if (part->from_mm > at_mm || part->to_mm <= at_mm)
            continue;
        ks_outline grown = part->outline, bare = part->outline;
        grown.round += ks_part_growth_mm(space, item, part);
        if (!ks_outline_convex(&grown))
            grown.round = 0, bare.round = 0;
        double area = ks_outline_area(&grown);
        most = area > most ? area : most;
        sum += ks_outline_area(&bare);
        for (int k = 0; k < i && apart; k++)
            if (item->parts[k].from_mm <= at_mm && item->parts[k].to_mm > at_mm)
                apart = ks_outline_distance(&item->parts[k].outline, &part->outline) >= 0;
    }
    return (apart && sum > most ? sum : most) * (1 - AREA_SLACK);
}
