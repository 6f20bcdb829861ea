#include "studio/parts.h"

#include <math.h>
#include <stdlib.h>

void ks_part_add(ks_part_list *list, ks_part_kind kind, double from_mm, double to_mm,
                 ks_outline outline)
{
    list->at = KS_GROW(list->arena, list->at, list->n, &list->room, ks_part);
    list->at[list->n++] = (ks_part){kind, from_mm, to_mm, outline, {0}};
}

bool ks_part_of_setter(ks_part_kind kind)
{
    return kind != KS_PART_FOOT && kind != KS_PART_BODY;
}

double ks_parts_top_mm(const ks_part *parts, int n)
{
    double top = 0;
    for (int i = 0; i < n; i++)
        top = fmax(top, parts[i].to_mm);
    return top;
}

ks_outline ks_parts_feet(const ks_part *parts, int n, bool setter, ks_arena *arena)
{
    double lowest = INFINITY;
    for (int i = 0; i < n; i++)
        if (ks_part_of_setter(parts[i].kind) == setter)
            lowest = fmin(lowest, parts[i].from_mm);
    ks_outline *feet = KS_TAKE(arena, n, ks_outline);
    int count = 0;
    for (int i = 0; i < n; i++)
        if (ks_part_of_setter(parts[i].kind) == setter && parts[i].from_mm <= lowest)
            feet[count++] = parts[i].outline;
    return count == 1 && ks_outline_convex(&feet[0]) ? feet[0]
                                                     : ks_outline_hull(feet, count, arena);
}

ks_outline ks_part_widest(const ks_part *part, double outward_mm)
{
    ks_outline widest = part->outline;
    widest.round += outward_mm;
    return widest;
}

ks_part ks_part_placed(const ks_part *part, ks_stand stand, ks_arena *arena)
{
    ks_outline outline = ks_outline_place(&part->outline, stand, arena);
    ks_part placed = *part;
    placed.outline = ks_outline_gridded(&outline, arena);
    if (part->hollow.n > 0) {
        ks_outline hollow = ks_outline_place(&part->hollow, stand, arena);
        placed.hollow = ks_outline_gridded(&hollow, arena);
    }
    return placed;
}

/* How far the bodies between two heights reach in a direction. */
static double reach_towards(const ks_part_list *list, double from, double to, ks_rotation way)
{
    double reach = 0;
    for (int i = 0; i < list->n; i++) {
        const ks_part *part = &list->at[i];
        if (part->to_mm <= from || part->from_mm >= to)
            continue;
        for (int j = 0; j < part->outline.n; j++) {
            ks_point p = part->outline.at[j];
            reach = fmax(reach, p.x * way.c + p.y * way.s + part->outline.round);
        }
    }
    return reach;
}

static bool within_bodies(const ks_part_list *list, double from, double to, ks_point p)
{
    bool met = false;
    for (int i = 0; i < list->n; i++) {
        const ks_part *part = &list->at[i];
        if (part->to_mm <= from || part->from_mm >= to)
            continue;
        met = true;
        if (ks_outline_from_point(&part->outline, p) > 0)
            return false;
    }
    return met;
}

static ks_point turn(ks_rotation way, double along, double aside)
{
    return (ks_point){along * way.c - aside * way.s, along * way.s + aside * way.c};
}

/* Where, from the edge inwards, both corners of a strap lie within every body it touches; the
 * middle if they never do. */
static double root_of_strap(const ks_part_list *list, double from, double to, ks_rotation way,
                            double reach, double width)
{
    enum { STEPS = 64 };
    for (int i = 0; i < STEPS; i++) {
        double along = reach * (STEPS - i) / STEPS;
        if (within_bodies(list, from, to, turn(way, along, width / 2)) &&
            within_bodies(list, from, to, turn(way, along, -width / 2)))
            return along;
    }
    return 0;
}

void ks_handle_add(ks_part_list *list, double reach_mm, double width_mm, double from_mm,
                   double to_mm, double at_deg)
{
    ks_rotation way = ks_rotation_of(at_deg);
    double edge = reach_towards(list, 0, INFINITY, way);
    double inner = root_of_strap(list, from_mm, to_mm, way,
                                 reach_towards(list, from_mm, to_mm, way), width_mm);
    double outer = edge + reach_mm, half = width_mm / 2;
    ks_point *at = KS_TAKE(list->arena, 4, ks_point);
    at[0] = turn(way, inner, -half);
    at[1] = turn(way, outer, -half);
    at[2] = turn(way, outer, half);
    at[3] = turn(way, inner, half);
    ks_part_add(list, KS_PART_BODY, from_mm, to_mm, (ks_outline){4, at, 0});
}

static void turned_over(ks_part_list *list)
{
    double top = ks_parts_top_mm(list->at, list->n), lowest = INFINITY;
    for (int i = 0; i < list->n; i++) {
        ks_part *part = &list->at[i];
        double from = part->from_mm;
        part->from_mm = top - part->to_mm;
        part->to_mm = top - from;
        part->kind = KS_PART_BODY;
        lowest = fmin(lowest, part->from_mm);
    }
    for (int i = 0; i < list->n; i++) {
        list->at[i].from_mm -= lowest;
        list->at[i].to_mm -= lowest;
    }
}

static void laid_over(ks_part_list *list)
{
    ks_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (int i = 0; i < list->n; i++) {
        ks_box one = ks_outline_box(&list->at[i].outline);
        box = (ks_box){fmin(box.x0, one.x0), fmin(box.y0, one.y0), fmax(box.x1, one.x1),
                       fmax(box.y1, one.y1)};
    }
    double width = box.x1 - box.x0, depth = box.y1 - box.y0;
    double thick = ks_parts_top_mm(list->at, list->n);
    list->n = 0;
    ks_part_add(list, KS_PART_BODY, 0, fmin(width, depth),
                ks_outline_rectangle(fmax(width, depth), thick, 0, list->arena));
}

void ks_parts_posed(ks_part_list *list, ks_pose pose)
{
    if (pose == KS_INVERTED)
        turned_over(list);
    else if (pose == KS_ON_EDGE || pose == KS_ON_SIDE)
        laid_over(list);
}

static int larger_first(const void *a, const void *b)
{
    const ks_part *const *first = a, *const *second = b;
    double difference = ks_outline_area(&(*second)->outline) - ks_outline_area(&(*first)->outline);
    if (difference != 0)
        return difference > 0 ? 1 : -1;
    return (*first > *second) - (*first < *second);
}

/* Share of a part, seen from above, that none of the n others hides. */
static double share_unhidden(const ks_part *part, const ks_part *const *others, int n)
{
    enum { SAMPLES = 48 };
    if (n == 0)
        return 1;
    for (int i = 0; i < n; i++)
        if (ks_outline_inside(&part->outline, &others[i]->outline) >= 0)
            return 0;
    ks_box box = ks_outline_box(&part->outline);
    int of_part = 0, unhidden = 0;
    for (int i = 0; i < SAMPLES * SAMPLES; i++) {
        ks_point p = {box.x0 + (box.x1 - box.x0) * (i % SAMPLES + 0.5) / SAMPLES,
                      box.y0 + (box.y1 - box.y0) * (i / SAMPLES + 0.5) / SAMPLES};
        if (ks_outline_from_point(&part->outline, p) > 0)
            continue;
        of_part++;
        bool hidden = false;
        for (int j = 0; j < n && !hidden; j++)
            hidden = ks_outline_from_point(&others[j]->outline, p) <= 0;
        unhidden += !hidden;
    }
    return of_part > 0 ? (double)unhidden / of_part : 1;
}

double ks_parts_area_mm2(const ks_part *parts, int n, ks_arena *arena)
{
    const ks_part **order = KS_TAKE(arena, n, const ks_part *);
    for (int i = 0; i < n; i++)
        order[i] = &parts[i];
    if (n > 1)
        qsort(order, (size_t)n, sizeof *order, larger_first);
    double area = 0;
    for (int i = 0; i < n; i++)
        area += ks_outline_area(&order[i]->outline) * share_unhidden(order[i], order, i);
    return area;
}

double ks_outline_perimeter_mm(const ks_outline *outline)
{
    const double pi = 3.14159265358979323846;
    double length = 2 * pi * outline->round;
    for (int i = 0; outline->n > 1 && i < outline->n; i++) {
        ks_point a = outline->at[i], b = outline->at[(i + 1) % outline->n];
        length += sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
    }
    return length;
}
