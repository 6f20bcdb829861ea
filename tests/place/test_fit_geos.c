/* Balance, and forms that just go in or just do not, judged by GEOS (libgeos.org), which shares no
 * code with the program. */
#include "check.h"
#include "oracle.h"

#include "kilnstow/piece.h"
#include "pack/shelf/roomiest.h"
#include "pack/shelf/shelf.h"

static int start(void **state)
{
    (void)state;
    oracle_start();
    return 0;
}

static int finish(void **state)
{
    (void)state;
    oracle_finish();
    return 0;
}

/* Two feet and three bodies over one another, anywhere, of any kind. */
static ks_piece random_form(uint64_t *seed, ks_arena *arena)
{
    ks_piece form = {.n_parts = 5, .parts = KS_TAKE(arena, 5, ks_part)};
    double from = random_between(seed, 20, 120);
    for (int p = 0; p < form.n_parts; p++) {
        double to = from + random_between(seed, 20, 200);
        outline_kind kind = (outline_kind)(random_share(seed) * KINDS);
        ks_outline outline = random_outline(seed, kind, 160, 90, arena);
        form.parts[p] = p < 2 ? (ks_part){KS_PART_FOOT, 0, from, outline, {0}}
                              : (ks_part){KS_PART_BODY, from, to, outline, {0}};
        from = p < 2 ? from : to;
        form.height_mm = from;
    }
    return form;
}

typedef struct {
    double x, y, z;
} centre;

/* Area times height of each block at GEOS's own centroid. */
static centre independent_centre(const ks_piece *form)
{
    centre sum = {0};
    double all = 0;
    for (int p = 0; p < form->n_parts; p++) {
        const ks_part *part = &form->parts[p];
        GEOSGeometry *shape = oracle_whole(&part->outline), *middle = GEOSGetCentroid(shape);
        double x = 0, y = 0, mass = oracle_area(shape) * (part->to_mm - part->from_mm);
        assert_int_equal(GEOSGeomGetX(middle, &x) + GEOSGeomGetY(middle, &y), 2);
        sum.x += mass * x;
        sum.y += mass * y;
        sum.z += mass * (part->from_mm + part->to_mm) / 2;
        all += mass;
        GEOSGeom_destroy(shape);
        GEOSGeom_destroy(middle);
    }
    return (centre){sum.x / all, sum.y / all, sum.z / all};
}

/* From under the centre to the edge of the hull of both feet, negative outside. */
static double independent_stand(const ks_piece *form, centre at)
{
    GEOSGeometry *one = oracle_whole(&form->parts[0].outline);
    GEOSGeometry *other = oracle_whole(&form->parts[1].outline);
    GEOSGeometry *feet = GEOSUnion(one, other);
    GEOSGeometry *hull = GEOSConvexHull(feet), *edge = GEOSBoundary(hull);
    GEOSGeometry *point = GEOSGeom_createPointFromXY(at.x, at.y);
    double far = oracle_distance(point, edge);
    bool inside = GEOSCovers(hull, point) == 1;
    GEOSGeom_destroy(one);
    GEOSGeom_destroy(other);
    GEOSGeom_destroy(feet);
    GEOSGeom_destroy(hull);
    GEOSGeom_destroy(edge);
    GEOSGeom_destroy(point);
    return inside ? far : -far;
}

static void forms_balance_as_an_independent_centre_of_mass_has_it(void **state)
{
    (void)state;
    uint64_t seed = 5;
    int stand = 0, fall = 0;
    for (int i = 0; i < 600; i++) {
        ks_arena arena = {0};
        ks_piece form = random_form(&seed, &arena);
        centre at = independent_centre(&form);
        double level = independent_stand(&form, at), tilted = level - at.z * tan(acos(-1) / 36);
        check_near(ks_piece_stands_by(&form, 0), level, 0.1);
        check_near(ks_piece_stands_by(&form, 5), tilted, 0.1);
        stand += tilted > 0;
        fall += level < 0;
        ks_arena_finish(&arena);
    }
    assert_true(stand > 50 && fall > 50);
}

static ks_outline octagon_of(double flat_mm, ks_arena *arena)
{
    ks_point *at = KS_TAKE(arena, 8, ks_point);
    double t = flat_mm * (sqrt(2) - 1);
    const double x[] = {1, 0, 0, -1, -1, 0, 0, 1}, y[] = {0, 1, 1, 0, 0, -1, -1, 0};
    const double side[] = {1, 1, -1, 1, -1, -1, 1, -1};
    for (int i = 0; i < 8; i++)
        at[i] = (ks_point){x[i] != 0 ? x[i] * flat_mm : side[i] * t,
                           y[i] != 0 ? y[i] * flat_mm : side[i] * t};
    return (ks_outline){8, at, 0};
}

static ks_shelf_space space_in(const ks_outline *chamber, ks_shelf_region *region)
{
    *region = (ks_shelf_region){.outline = *chamber, .to_mm = 1000};
    return (ks_shelf_space){.n_regions = 1, .regions = region, .height_mm = 1000};
}

/* A square in a regular octagon has most room turned by 22.5 degrees, where its half diagonal, less
 * by cos 22.5, meets the flats. 0.2 mm more than they leave does not go in, 0.2 mm less does, and
 * so says GEOS of both at that turn. */
static void two_tenths_over_in_an_octagon_do_not_go_in(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline octagon = octagon_of(250, &arena);
    GEOSGeometry *room = oracle_whole(&octagon);
    for (int over = -1; over <= 1; over += 2) {
        double half_diagonal = (250 + 0.2 * over) / cos(acos(-1) / 8);
        double side = half_diagonal * sqrt(2);
        ks_part part = {KS_PART_BODY, 0, 100, ks_outline_rectangle(side, side, 0, &arena), {0}};
        ks_shelf_item item = {.n_parts = 1, .parts = &part, .copies = 1};
        ks_shelf_region region;
        ks_shelf_space space = space_in(&octagon, &region);
        ks_outline turned = ks_outline_place(&part.outline, (ks_stand){0, 0, 22.5}, &arena);
        GEOSGeometry *square = oracle_whole(&turned);
        assert_int_equal(GEOSCovers(room, square), over < 0);
        assert_int_equal(ks_roomiest_reaches(&space, &item, 0, 0.1), over < 0);
        check_near(ks_roomiest_find(&space, &item, 0.05).slack_mm, -0.2 * over, 0.06);
        item.turn_step_deg = 45;
        assert_false(ks_roomiest_reaches(&space, &item, 0, 0.1) && over > 0);
        GEOSGeom_destroy(square);
    }
    GEOSGeom_destroy(room);
    ks_arena_finish(&arena);
}

/* Least distance from the blocks to the wall by GEOS, negative where one sticks out. */
static double independent_room(const GEOSGeometry *room, const ks_shelf_item *item, ks_stand stand,
                               ks_arena *arena)
{
    double least = INFINITY;
    for (int p = 0; p < item->n_parts; p++) {
        ks_outline placed = ks_outline_place(&item->parts[p].outline, stand, arena);
        GEOSGeometry *shape = oracle_whole(&placed);
        double slack = GEOSCovers(room, shape) == 1 ? oracle_to_boundary(shape, room)
                                                    : -oracle_sticks_out(shape, room, 2);
        least = fmin(least, slack);
        GEOSGeom_destroy(shape);
    }
    return least;
}

/* A jar with two handles, and concave and round plans, in an octagon and in a chamber that is
 * concave itself. Where it is said to stand it has by GEOS the room that is told; and of many
 * stands tried none has more. */
static void no_stand_is_roomier_than_the_one_told(void **state)
{
    (void)state;
    uint64_t seed = 21;
    for (int i = 0; i < 8; i++) {
        ks_arena arena = {0};
        ks_point bent[] = {{-250, -250}, {250, -250}, {250, 60}, {40, 90}, {20, 250}, {-250, 250}};
        ks_outline chamber = i % 2 ? octagon_of(240, &arena) : (ks_outline){6, bent, 0};
        ks_part parts[3] = {{KS_PART_BODY,
                             0,
                             100,
                             random_outline(&seed, (outline_kind)(i % KINDS), 200, 0, &arena),
                             {0}}};
        ks_outline handle = ks_outline_rectangle(60, 20, 5, &arena);
        for (int h = 0; h < 2; h++)
            parts[h + 1] = (ks_part){
                KS_PART_BODY,
                30,
                80,
                ks_outline_place(&handle, (ks_stand){h ? 110 : -110, h ? 10 : -20, 0}, &arena),
                {0}};
        ks_shelf_item item = {.n_parts = 3, .parts = parts, .copies = 1};
        ks_shelf_region region;
        ks_shelf_space space = space_in(&chamber, &region);
        ks_roomiest best = ks_roomiest_find(&space, &item, 0.1);
        GEOSGeometry *room = oracle_whole(&chamber);
        check_near(independent_room(room, &item, best.stand, &arena), best.slack_mm, 0.1);
        for (int trial = 0; trial < 400; trial++) {
            ks_stand other = {random_between(&seed, -60, 60), random_between(&seed, -60, 60),
                              random_between(&seed, 0, 360)};
            assert_true(independent_room(room, &item, other, &arena) <= best.slack_mm + 0.2);
        }
        GEOSGeom_destroy(room);
        ks_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(forms_balance_as_an_independent_centre_of_mass_has_it),
        cmocka_unit_test(two_tenths_over_in_an_octagon_do_not_go_in),
        cmocka_unit_test(no_stand_is_roomier_than_the_one_told),
    };
    return cmocka_run_group_tests(tests, start, finish);
}
