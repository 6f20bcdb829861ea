#include "pack/kit/instance_inside.h"

#include "pack/shelf/shelf_rule.h"

#include <math.h>

static void fixture_added(ks_kit *kit, int *room, ks_fixture fixture, const ks_outline *outline)
{
    ks_outline bare = {outline->n, outline->at, 0};
    ks_circle around = ks_outline_around(&bare);
    fixture.core = ks_core_of(&bare, &kit->arena);
    fixture.middle_x = around.centre.x;
    fixture.middle_y = around.centre.y;
    fixture.reach = around.r;
    kit->fixtures = KS_GROW(&kit->arena, kit->fixtures, kit->n_fixtures, room, ks_fixture);
    kit->fixtures[kit->n_fixtures++] = fixture;
}

static void fixtures_of(ks_kit *kit, int *room, ks_fixture like, const ks_outline *outline)
{
    ks_outline *parts;
    int n = ks_outline_convex_parts(outline, &kit->arena, &parts);
    for (int p = 0; p < n; p++)
        fixture_added(kit, room, like, &parts[p]);
}

static int corner_at(const ks_outline *polygon, ks_point p)
{
    for (int i = 0; i < polygon->n; i++)
        if (polygon->at[i].x == p.x && polygon->at[i].y == p.y)
            return i;
    return -1;
}

/* What lies between a polygon's corners `from` and `to` and the straight line that joins them. */
static void pocket_added(ks_kit *kit, int *room, int region, const ks_outline *polygon, int from,
                         int to)
{
    int n = (to - from + polygon->n) % polygon->n + 1;
    if (n < 3)
        return;
    ks_point *at = KS_TAKE(&kit->arena, n, ks_point);
    for (int k = 0; k < n; k++)
        at[n - 1 - k] = polygon->at[(from + k) % polygon->n];
    ks_outline pocket = {n, at, 0};
    if (ks_outline_fault(&pocket))
        return; /* corners in one line: no room in it */
    fixtures_of(kit, room, (ks_fixture){.obstacle = -1, .region = region}, &pocket);
}

/* The hull around a region is its wall; what the hull has too much becomes fixtures. */
static void wall_made(ks_kit *kit, int *room, int region)
{
    const ks_outline *outline = &kit->space.regions[region].outline;
    ks_outline bare = {outline->n, outline->at, 0};
    if (bare.n < 4 || ks_outline_convex(&bare)) {
        kit->walls[region] = ks_core_of(&bare, &kit->arena);
        return;
    }
    ks_outline hull = ks_outline_hull(&bare, 1, &kit->arena);
    kit->walls[region] = ks_core_of(&hull, &kit->arena);
    for (int k = 0; k < hull.n; k++)
        pocket_added(kit, room, region, &bare, corner_at(&bare, hull.at[k]),
                     corner_at(&bare, hull.at[(k + 1) % hull.n]));
}

static void bounds_found(const ks_kit *kit, ks_kind *kind, ks_arena *arena)
{
    const ks_shelf_space *space = &kit->space;
    ks_meeting *list = KS_TAKE(arena, space->n_regions * kind->n_slices, ks_meeting);
    int n = 0;
    for (int r = 0; r < space->n_regions; r++)
        for (int s = 0; s < kind->n_slices; s++) {
            const struct ks_slice *slice = &kind->slices[s];
            const ks_shelf_region *region = &space->regions[r];
            if (!ks_shelf_region_holds(region, &kind->item->parts[slice->part]))
                continue;
            double keep = region->margin_mm + space->reserve_mm + ks_kind_allowance(kind);
            double allowed = region->outline.round - keep - slice->round;
            kind->hopeless = kind->hopeless || (allowed < 0 && kit->walls[r].n < 3);
            n = ks_meeting_added(kind, NULL, list, n, (ks_meeting){slice->core, r, -allowed});
        }
    ks_bound *bounds = KS_TAKE(arena, n, ks_bound);
    for (int k = 0; k < n; k++)
        bounds[k] = (ks_bound){list[k].a, list[k].b, -list[k].need};
    kind->n_bounds = n;
    kind->in_round = kind->turnless && n == 1 && kit->walls[bounds[0].wall].n == 1;
    kind->bounds = bounds;
}

/* What a slice keeps from a fixture; false when they are nothing to each other. */
static bool fixture_need(const ks_kit *kit, const ks_fixture *fixture, ks_shelf_part part,
                         double *need)
{
    if (fixture->obstacle >= 0) {
        const ks_shelf_obstacle *obstacle = &kit->space.obstacles[fixture->obstacle];
        double apart = ks_shelf_obstacle_apart(&kit->space, obstacle, part);
        *need = apart - kit->space.reserve_mm + obstacle->outline.round;
        return apart != KS_SHELF_FREE;
    }
    const ks_shelf_region *region = &kit->space.regions[fixture->region];
    *need = region->margin_mm - region->outline.round;
    return ks_shelf_region_holds(region, part.part);
}

static ks_meetings fixture_meetings(const ks_kit *kit, const ks_kind *kind,
                                    const ks_fixture *fixture, ks_arena *arena)
{
    ks_meeting *list = KS_TAKE(arena, kind->n_slices, ks_meeting);
    ks_meetings out = {.list = list};
    for (int s = 0; s < kind->n_slices; s++) {
        const struct ks_slice *slice = &kind->slices[s];
        double need;
        ks_shelf_part part = {kind->item, &kind->item->parts[slice->part]};
        if (!fixture_need(kit, fixture, part, &need))
            continue;
        need += slice->round + kit->space.reserve_mm + ks_kind_allowance(kind);
        out.n = ks_meeting_added(kind, NULL, list, out.n, (ks_meeting){slice->core, 0, need});
    }
    for (int m = 0; m < out.n; m++)
        out.far = fmax(out.far, kind->core_reach[list[m].a] + fixture->reach + list[m].need);
    return out;
}

static void region_taken_in(ks_kit *kit, const ks_shelf_region *region)
{
    ks_box box = ks_outline_box(&region->outline);
    double area = ks_outline_area(&region->outline);
    if (kit->area_mm2 == 0 || area < kit->area_mm2) {
        kit->area_mm2 = area;
        kit->box = box;
    }
}

void ks_kit_walls(ks_kit *kit)
{
    const ks_shelf_space *space = &kit->space;
    int room = 0;
    kit->n_walls = space->n_regions;
    kit->walls = KS_TAKE(&kit->arena, kit->n_walls, ks_core);
    for (int r = 0; r < space->n_regions; r++) {
        wall_made(kit, &room, r);
        region_taken_in(kit, &space->regions[r]);
    }
    for (int o = 0; o < space->n_obstacles; o++) {
        ks_fixture like = {.obstacle = o, .region = -1, .turns = space->obstacles[o].turns};
        fixtures_of(kit, &room, like, &space->obstacles[o].outline);
    }
    for (int k = 0; k < kit->n_kinds; k++) {
        ks_kind *kind = &kit->kinds[k];
        bounds_found(kit, kind, &kit->arena);
        ks_meetings *all = KS_TAKE(&kit->arena, kit->n_fixtures, ks_meetings);
        for (int f = 0; f < kit->n_fixtures; f++)
            all[f] = fixture_meetings(kit, kind, &kit->fixtures[f], &kit->arena);
        kind->by_fixture = all;
    }
}
