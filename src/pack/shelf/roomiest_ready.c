/* Gets a space and a piece ready for the search. */
#include "pack/shelf/roomiest_near.h"
#include "pack/shelf/shelf_rule.h"

#include <math.h>

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

static void make_edges(ks_holding *h, ks_arena *arena)
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

static void make_holding(const ks_near *near, int number, ks_arena *arena, ks_holding *out)
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
        make_edges(out, arena);
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

static void make_hindrance(const ks_near *near, int number, ks_arena *arena, ks_hindrance *out)
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
        make_holding(&near, i, arena, &near.holdings[i]);
    for (int i = 0; i < space->n_obstacles; i++)
        make_hindrance(&near, i, arena, &near.hindrances[i]);
    near.vertices = KS_TAKE(arena, most_vertices(&near), ks_point);
    return near;
}
