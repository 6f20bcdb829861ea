/* Gets a space and a piece ready for the search. */
#include "pack/shelf/roomiest_near.h"
#include "pack/shelf/shelf_rule.h"
#include "shape/plane.h"

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

/* Round a corner the tangents of what it is rounded with turn in steps no larger than this. */
#define TANGENT_STEP 0.03 /* radians */

static int tangents_at(ks_point before, ks_point corner, ks_point after)
{
    double turn = ks_angle_between(minus(corner, before), minus(after, corner));
    return turn > TANGENT_STEP ? (int)(turn / TANGENT_STEP) : 0;
}

static void add_edge(ks_holding *h, ks_point normal, ks_point through)
{
    h->normal[h->n_edges] = normal;
    h->offset[h->n_edges++] = dot(normal, through);
}

/* The lines through a corner that lie between its edges, evenly. */
static void add_tangents(ks_holding *h, int n, ks_point one, ks_point other, ks_point corner)
{
    for (int k = 1; k <= n; k++) {
        double share = (double)k / (n + 1);
        ks_point way = {one.x + share * (other.x - one.x), one.y + share * (other.y - one.y)};
        double size = length(way);
        if (size > 0)
            add_edge(h, (ks_point){way.x / size, way.y / size}, corner);
    }
}

static ks_point inward(const ks_outline *outline, int i)
{
    ks_point along = minus(next_of(outline, i), outline->at[i]);
    double size = length(along);
    return (ks_point){-along.y / size, along.x / size};
}

/* An outline is beyond the edges' lines by as much as from the edges, but at rounded corners. */
static void make_edges(ks_holding *h, ks_arena *arena)
{
    const ks_outline *outline = &h->region->outline;
    int n = outline->n, most = n;
    int *tangents = KS_TAKE(arena, n, int);
    for (int i = 0; i < n && outline->round > 0; i++) {
        tangents[i] =
            tangents_at(outline->at[(i + n - 1) % n], outline->at[i], outline->at[(i + 1) % n]);
        most += tangents[i];
    }
    h->normal = KS_TAKE(arena, most, ks_point);
    h->offset = KS_TAKE(arena, most, double);
    h->within = KS_TAKE(arena, most, double);
    h->at_most = KS_TAKE(arena, most, double);
    h->turned = KS_TAKE(arena, h->parts[0].n, ks_point);
    h->turn_deg = -1;
    for (int i = 0; i < n; i++) {
        add_tangents(h, tangents[i], inward(outline, (i + n - 1) % n), inward(outline, i),
                     outline->at[i]);
        add_edge(h, inward(outline, i), outline->at[i]);
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
    if (out->convex &&
        (out->n_parts > 1 || (out->n_parts == 1 && !ks_outline_convex(&out->parts[0])))) {
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
