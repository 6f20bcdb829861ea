#include "check.h"
#include "oracle.h"

/* What must hold for any outlines, whatever their distances are. */

static ks_outline grown(ks_outline shape, double by)
{
    shape.round += by;
    return shape;
}

static ks_stand anywhere(uint64_t *seed)
{
    return (ks_stand){random_between(seed, -300, 300), random_between(seed, -300, 300),
                      floor(random_between(seed, 0, 360000)) / 1000};
}

static void distance_is_the_same_from_anywhere(void **state)
{
    (void)state;
    uint64_t seed = 21;
    for (int i = 0; i < 20000; i++) {
        ks_arena arena = {0};
        ks_outline a = random_outline(&seed, ANY_KIND, 100, 80, &arena);
        ks_outline b = random_outline(&seed, ANY_KIND, 100, 80, &arena);
        double apart = ks_outline_distance(&a, &b);
        check_near(ks_outline_distance(&b, &a), apart, 1e-10);
        ks_stand stand = anywhere(&seed);
        ks_outline a_there = ks_outline_place(&a, stand, &arena);
        ks_outline b_there = ks_outline_place(&b, stand, &arena);
        check_near(ks_outline_distance(&a_there, &b_there), apart, 1e-9);
        ks_outline wider = grown(a, 7);
        check_near(ks_outline_distance(&wider, &b), apart - 7, 1e-10);
        ks_arena_finish(&arena);
    }
}

/* So that a search can step by the distance and never jump over a contact. */
static void a_move_changes_no_distance_by_more_than_itself(void **state)
{
    (void)state;
    uint64_t seed = 22;
    for (int i = 0; i < 20000; i++) {
        ks_arena arena = {0};
        ks_outline a = random_outline(&seed, ANY_KIND, 100, 80, &arena);
        ks_outline b = random_outline(&seed, ANY_KIND, 100, 80, &arena);
        ks_stand step = {random_between(&seed, -5, 5), random_between(&seed, -5, 5), 0};
        ks_outline moved = ks_outline_place(&b, step, &arena);
        double before = ks_outline_distance(&a, &b), after = ks_outline_distance(&a, &moved);
        assert_true(fabs(after - before) <= hypot(step.x, step.y) + 1e-9);
        ks_arena_finish(&arena);
    }
}

static void a_disc_is_as_far_as_its_centre_less_its_radius(void **state)
{
    (void)state;
    uint64_t seed = 23;
    for (int i = 0; i < 20000; i++) {
        ks_arena arena = {0};
        ks_outline a = random_outline(&seed, ANY_KIND, 100, 80, &arena);
        ks_outline disc = random_outline(&seed, DISC, 60, 80, &arena);
        check_near(ks_outline_distance(&a, &disc),
                   ks_outline_from_point(&a, disc.at[0]) - disc.round, 1e-10);
        ks_arena_finish(&arena);
    }
}

static void what_is_grown_by_its_room_just_touches(void **state)
{
    (void)state;
    uint64_t seed = 24;
    int inside = 0;
    for (int i = 0; i < 20000; i++) {
        ks_arena arena = {0};
        ks_outline outer = random_outline(&seed, i % 3 ? CONVEX_ROUND : STAR, 300, 10, &arena);
        ks_outline inner = random_outline(&seed, ANY_KIND, 50, 60, &arena);
        double room = ks_outline_inside(&inner, &outer);
        if (room > 0) {
            ks_outline fuller = grown(inner, room);
            check_near(ks_outline_inside(&fuller, &outer), 0, 1e-9);
            for (int k = 0; k < inner.n; k++)
                assert_true(ks_outline_from_point(&outer, inner.at[k]) <=
                            -room - inner.round + 1e-9);
            inside++;
        }
        ks_arena_finish(&arena);
    }
    assert_true(inside > 4000);
}

static void hull_and_circle_hold_what_they_are_around(void **state)
{
    (void)state;
    uint64_t seed = 25;
    for (int i = 0; i < 3000; i++) {
        ks_arena arena = {0};
        ks_outline shapes[3];
        for (int k = 0; k < 3; k++)
            shapes[k] = random_outline(&seed, ANY_KIND, 80, 90, &arena);
        ks_outline hull = ks_outline_hull(shapes, 3, &arena);
        ks_circle circle = ks_outline_around(&hull);
        ks_outline round = {1, &circle.centre, circle.r};
        assert_true(ks_outline_convex(&hull));
        for (int k = 0; k < 3; k++) {
            assert_true(ks_outline_inside(&shapes[k], &hull) >= -1e-9);
            assert_true(ks_outline_inside(&shapes[k], &round) >= -1e-9);
        }
        ks_arena_finish(&arena);
    }
}

static void the_grid_moves_no_edge_by_more_than_its_diagonal(void **state)
{
    (void)state;
    uint64_t seed = 26;
    for (int i = 0; i < 5000; i++) {
        ks_arena arena = {0};
        ks_outline shape = random_outline(&seed, ANY_KIND, 100, 300, &arena);
        ks_outline on = ks_outline_gridded(&shape, &arena);
        for (int k = 0; k < on.n; k++) {
            ks_outline bare = {shape.n, shape.at, 0};
            assert_true(fabs(ks_outline_from_point(&bare, on.at[k])) <= 0.00071);
            check_near(on.at[k].x * 1000, round(on.at[k].x * 1000), 1e-6);
        }
        ks_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(distance_is_the_same_from_anywhere),
        cmocka_unit_test(a_move_changes_no_distance_by_more_than_itself),
        cmocka_unit_test(a_disc_is_as_far_as_its_centre_less_its_radius),
        cmocka_unit_test(what_is_grown_by_its_room_just_touches),
        cmocka_unit_test(hull_and_circle_hold_what_they_are_around),
        cmocka_unit_test(the_grid_moves_no_edge_by_more_than_its_diagonal),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
