#include "pack/instance/instance.h"

#include "pack/shelf/shelf_rule.h"

#include <math.h>

static void add_fixture(ks_instance *instance, int *room, ks_fixture fixture,
                        const ks_outline *outline)
{
    ks_outline bare = {outline->n, outline->at, 0};
    ks_circle around = ks_outline_around(&bare);
    fixture.core = ks_core_of(&bare, &instance->arena);
    fixture.middle_x = around.centre.x;
    fixture.middle_y = around.centre.y;
    fixture.reach = around.r;
    instance->fixtures =
        KS_GROW(&instance->arena, instance->fixtures, instance->n_fixtures, room, ks_fixture);
    instance->fixtures[instance->n_fixtures++] = fixture;
}

static void fixtures_of(ks_instance *instance, int *room, ks_fixture like,
                        const ks_outline *outline)
{
    ks_outline *parts;
    int n = ks_outline_convex_parts(outline, &instance->arena, &parts);
    for (int p = 0; p < n; p++)
        add_fixture(instance, room, like, &parts[p]);
}

static int corner_at(const ks_outline *polygon, ks_point p)
{
    for (int i = 0; i < polygon->n; i++)
        if (polygon->at[i].x == p.x && polygon->at[i].y == p.y)
            return i;
    return -1;
}

/* What places between a polygon's corners `from` and `to` and the straight line that joins them. */
static void add_pocket(ks_instance *instance, int *room, int region, const ks_outline *polygon,
                       int from, int to)
{
    int n = (to - from + polygon->n) % polygon->n + 1;
    if (n < 3)
        return;
    ks_point *at = KS_TAKE(&instance->arena, n, ks_point);
    for (int k = 0; k < n; k++)
        at[n - 1 - k] = polygon->at[(from + k) % polygon->n];
    ks_outline pocket = {n, at, 0};
    if (ks_outline_fault(&pocket))
        return; /* corners in one line: no room in it */
    fixtures_of(instance, room, (ks_fixture){.obstacle = -1, .region = region}, &pocket);
}

/* The hull around a region is its wall; what the hull has too much becomes fixtures. */
static void make_wall(ks_instance *instance, int *room, int region)
{
    const ks_outline *outline = &instance->space.regions[region].outline;
    ks_outline bare = {outline->n, outline->at, 0};
    if (bare.n < 4 || ks_outline_convex(&bare)) {
        instance->walls[region] = ks_core_of(&bare, &instance->arena);
        return;
    }
    ks_outline hull = ks_outline_hull(&bare, 1, &instance->arena);
    instance->walls[region] = ks_core_of(&hull, &instance->arena);
    for (int k = 0; k < hull.n; k++)
        add_pocket(instance, room, region, &bare, corner_at(&bare, hull.at[k]),
                   corner_at(&bare, hull.at[(k + 1) % hull.n]));
}

static void find_bounds(const ks_instance *instance, ks_item_type *kind, ks_arena *arena)
{
    const ks_shelf_space *space = &instance->space;
    ks_separation *list = KS_TAKE(arena, space->n_regions * kind->n_slices, ks_separation);
    ks_separation_list to = {.list = list};
    for (int r = 0; r < space->n_regions; r++)
        for (int s = 0; s < kind->n_slices; s++) {
            const struct ks_slice *slice = &kind->slices[s];
            to.own = s > 0 && slice->part == slice[-1].part ? to.own : 0;
            const ks_shelf_region *region = &space->regions[r];
            if (!ks_shelf_region_holds(region, &kind->item->parts[slice->part]))
                continue;
            double keep = region->margin_mm + space->reserve_mm + ks_item_type_allowance(kind);
            double allowed = region->outline.round - keep - slice->round;
            kind->hopeless = kind->hopeless || (allowed < 0 && instance->walls[r].n < 3);
            ks_separation_add(kind, NULL, &to, (ks_separation){slice->core, r, -allowed});
        }
    int n = to.n;
    ks_type_bound *bounds = KS_TAKE(arena, n, ks_type_bound);
    for (int k = 0; k < n; k++)
        bounds[k] = (ks_type_bound){list[k].a, list[k].b, -list[k].need};
    kind->n_bounds = n;
    kind->in_round = kind->turnless && n == 1 && instance->walls[bounds[0].wall].n == 1;
    kind->bounds = bounds;
}

/* What a slice keeps from a fixture; false when they are nothing to each other. */
static bool fixture_need(const ks_instance *instance, const ks_fixture *fixture, ks_shelf_part part,
                         double *need)
{
    if (fixture->obstacle >= 0) {
        const ks_shelf_obstacle *obstacle = &instance->space.obstacles[fixture->obstacle];
        double apart = ks_shelf_obstacle_apart(&instance->space, obstacle, part);
        *need = apart - instance->space.reserve_mm + obstacle->outline.round;
        return apart != KS_SHELF_FREE;
    }
    const ks_shelf_region *region = &instance->space.regions[fixture->region];
    *need = region->margin_mm - region->outline.round;
    return ks_shelf_region_holds(region, part.part);
}

static ks_separations fixture_meetings(const ks_instance *instance, const ks_item_type *kind,
                                       const ks_fixture *fixture, ks_arena *arena)
{
    ks_separation *list = KS_TAKE(arena, kind->n_slices, ks_separation);
    ks_separations out = {.list = list};
    ks_separation_list to = {.list = list};
    for (int s = 0; s < kind->n_slices; s++) {
        const struct ks_slice *slice = &kind->slices[s];
        to.own = s > 0 && slice->part == slice[-1].part ? to.own : 0;
        double need;
        ks_shelf_part part = {kind->item, &kind->item->parts[slice->part]};
        if (!fixture_need(instance, fixture, part, &need))
            continue;
        need += slice->round + instance->space.reserve_mm + ks_item_type_allowance(kind);
        ks_separation_add(kind, NULL, &to, (ks_separation){slice->core, 0, need});
    }
    out.n = to.n;
    for (int m = 0; m < out.n; m++)
        out.far = fmax(out.far, kind->core_reach[list[m].a] + fixture->reach + list[m].need);
    return out;
}

static void region_taken_in(ks_instance *instance, const ks_shelf_region *region)
{
    ks_box box = ks_outline_box(&region->outline);
    double area = ks_outline_area(&region->outline);
    if (instance->area_mm2 == 0 || area < instance->area_mm2) {
        instance->area_mm2 = area;
        instance->box = box;
    }
}

void ks_instance_walls(ks_instance *instance)
{
    const ks_shelf_space *space = &instance->space;
    int room = 0;
    instance->n_walls = space->n_regions;
    instance->walls = KS_TAKE(&instance->arena, instance->n_walls, ks_core);
    for (int r = 0; r < space->n_regions; r++) {
        make_wall(instance, &room, r);
        region_taken_in(instance, &space->regions[r]);
    }
    for (int o = 0; o < space->n_obstacles; o++) {
        ks_fixture like = {.obstacle = o, .region = -1, .turns = space->obstacles[o].turns};
        fixtures_of(instance, &room, like, &space->obstacles[o].outline);
    }
    for (int k = 0; k < instance->n_kinds; k++) {
        ks_item_type *kind = &instance->kinds[k];
        find_bounds(instance, kind, &instance->arena);
        ks_separations *all = KS_TAKE(&instance->arena, instance->n_fixtures, ks_separations);
        for (int f = 0; f < instance->n_fixtures; f++)
            all[f] = fixture_meetings(instance, kind, &instance->fixtures[f], &instance->arena);
        kind->by_fixture = all;
    }
}
