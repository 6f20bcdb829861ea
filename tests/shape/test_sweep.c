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

/* A ring of many corners: round, or with teeth when `depth` is not 0. */
static ks_outline many_corners(uint64_t *seed, double depth, ks_arena *arena)
{
    int n = 30 + (int)random_between(seed, 0, 220);
    double r = random_between(seed, 30, 90), x = random_between(seed, -90, 90),
           y = random_between(seed, -90, 90), squash = random_between(seed, 0.3, 1);
    ks_point *at = KS_TAKE(arena, n, ks_point);
    for (int i = 0; i < n; i++) {
        double turn = 2 * M_PI * i / n, out = r * (1 - depth * (0.5 + 0.5 * cos(5 * turn)));
        at[i] = (ks_point){x + out * cos(turn), y + squash * out * sin(turn)};
    }
    return (ks_outline){n, at, random_between(seed, 0, 5)};
}

static ks_outline edge_of(const ks_outline *shape, int i, ks_point ends[2])
{
    ends[0] = shape->at[i];
    ends[1] = shape->at[(i + 1) % shape->n];
    return (ks_outline){2, ends, shape->round};
}

/* Edge by edge, where they are too few for any short cut. */
static double apart_by_edges(const ks_outline *a, const ks_outline *b)
{
    double least = INFINITY;
    ks_point of_a[2], of_b[2];
    for (int i = 0; i < a->n; i++)
        for (int k = 0; k < b->n; k++) {
            ks_outline one = edge_of(a, i, of_a), other = edge_of(b, k, of_b);
            least = fmin(least, ks_outline_distance(&one, &other));
        }
    return least;
}

static double overlap_over(const ks_outline *a, const ks_outline *b)
{
    double least = INFINITY;
    for (int i = 0; i < a->n; i++) {
        ks_point p = a->at[i], q = a->at[(i + 1) % a->n];
        double length = hypot(q.x - p.x, q.y - p.y), lowest = INFINITY;
        for (int k = 0; k < b->n; k++)
            lowest =
                fmin(lowest, ((b->at[k].x - p.x) * (q.y - p.y) - (b->at[k].y - p.y) * (q.x - p.x)) /
                                 length);
        least = fmin(least, -lowest);
    }
    return least;
}

static void short_cuts_for_many_corners_change_no_distance(void **state)
{
    (void)state;
    uint64_t seed = 27;
    int apart = 0, over = 0, within = 0;
    for (int i = 0; i < 400; i++) {
        ks_arena arena = {0};
        double depth = i % 2 ? 0 : 0.4;
        ks_outline a = many_corners(&seed, depth, &arena), b = many_corners(&seed, depth, &arena);
        double distance = ks_outline_distance(&a, &b), rounds = a.round + b.round;
        if (distance > -rounds) {
            check_near(distance, apart_by_edges(&a, &b), 1e-9);
            apart++;
        } else if (depth == 0) {
            check_near(distance, -fmin(overlap_over(&a, &b), overlap_over(&b, &a)) - rounds, 1e-9);
            over++;
        }
        ks_outline wide = many_corners(&seed, 0, &arena);
        double slack = INFINITY;
        for (int k = 0; k < a.n; k++)
            slack = fmin(slack, -ks_outline_from_point(&wide, a.at[k]) - a.round);
        check_near(ks_outline_inside(&a, &wide), slack, 1e-9);
        within += slack > 0;
        ks_arena_finish(&arena);
    }
    assert_true(apart > 100 && over > 50 && within > 2);
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
        cmocka_unit_test(short_cuts_for_many_corners_change_no_distance),
        cmocka_unit_test(hull_and_circle_hold_what_they_are_around),
        cmocka_unit_test(the_grid_moves_no_edge_by_more_than_its_diagonal),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
