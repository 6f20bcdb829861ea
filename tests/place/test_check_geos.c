#include "check.h"
#include "oracle.h"
#include "oracle_layout.h"
#include "check/check_judge.h"

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

/* The same, a million times over: tests/slow/layouts.c. */
static void random_layouts_get_the_same_verdict(void **state)
{
    (void)state;
    int kept = 0, under = 0;
    for (uint64_t i = 1; i <= 5000; i++) {
        ks_arena arena = {0};
        uint64_t seed = i * 7919;
        const ks_plan *plan = random_layout(&seed, &arena);
        layout_verdict known = oracle_verdict(plan), got = checker_verdict(plan, &arena);
        if (!verdicts_agree(known, got, 1e-6))
            print_error("layout %d: GEOS %g %g %g %g, checker %g %g %g %g\n", (int)i, known.ware,
                        known.under, known.wall, known.support, got.ware, got.under, got.wall,
                        got.support);
        assert_true(verdicts_agree(known, got, 1e-6));
        kept += known.ware >= 0;
        under += known.under >= 0 && !isinf(known.under);
        ks_arena_finish(&arena);
    }
    assert_true(kept > 300 && under > 100);
}

/* Rectangles that touch side by side are one rectangle; GEOS makes the union. */
static void shelves_side_by_side_carry_as_one(void **state)
{
    (void)state;
    uint64_t seed = 11;
    int over_seam = 0;
    for (int i = 0; i < 1500; i++) {
        ks_arena arena = {0};
        double depth = random_between(&seed, 200, 400), width = random_between(&seed, 100, 200);
        ks_outline half = ks_outline_rectangle(width, depth, 0, &arena), halves[2];
        for (int k = 0; k < 2; k++)
            halves[k] =
                ks_outline_place(&half, (ks_stand){k ? width / 2 : -width / 2, 0, 0}, &arena);
        ks_outline foot = random_outline(&seed, ANY_KIND, 120, 120, &arena);
        double got = ks_support_slack(&foot, 2, halves);
        ks_outline whole = ks_outline_rectangle(2 * width, depth, 0, &arena);
        GEOSGeometry *floor = oracle_core(&whole), *core = oracle_core(&foot);
        double known =
            (GEOSCovers(floor, core) == 1 ? oracle_to_boundary(core, floor) : 0) - foot.round;
        if (known > 0 || GEOSCovers(floor, core) == 1)
            check_near(got, known, 2e-4);
        else
            assert_true(got <= -foot.round + 1e-6);
        over_seam += got > 0 && ks_outline_distance(&foot, &halves[0]) < 0 &&
                     ks_outline_distance(&foot, &halves[1]) < 0;
        GEOSGeom_destroy(floor);
        GEOSGeom_destroy(core);
        ks_arena_finish(&arena);
    }
    assert_true(over_seam > 200);
}

/* Half shelves as they are: corners rounded by 5 mm, a seam of 2 mm. In its middle a platter lies
 * as on one shelf; hard at a seam's end the notch costs it a little. 25 mm is no seam but a gap. */
static void a_seam_is_crossed_and_a_gap_is_not(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline half = ks_outline_rectangle(219, 440, 5, &arena), halves[2];
    ks_outline platter = ks_outline_disc(0, 0, 150, &arena);
    ks_outline at_end = ks_outline_disc(0, 65, 150, &arena);
    const double seams[] = {2, 25};
    for (int i = 0; i < 2; i++) {
        for (int k = 0; k < 2; k++)
            halves[k] = ks_outline_place(
                &half, (ks_stand){(k ? 1 : -1) * (109.5 + seams[i] / 2), 0, 0}, &arena);
        double middle = ks_support_slack(&platter, 2, halves);
        if (i == 0) {
            check_near(middle, 70, 2);
            double end = ks_support_slack(&at_end, 2, halves);
            assert_true(end <= 5 + 1e-3 && end >= 5 - 2);
        } else {
            assert_true(middle < -100);
        }
    }
    ks_arena_finish(&arena);
}

/* An L of two shelves: the inner corner counts as filled by no more than the closing of seams of
 * 20 mm does there, (sqrt 2 - 1) x 10 mm, and never as less than it is. */
static void an_inner_corner_is_not_a_floor(void **state)
{
    (void)state;
    uint64_t seed = 12;
    ks_arena arena = {0};
    ks_outline shelves[2];
    shelves[0] = ks_outline_rectangle(400, 150, 0, &arena);
    shelves[1] = ks_outline_rectangle(150, 150, 0, &arena);
    shelves[1] = ks_outline_place(&shelves[1], (ks_stand){-125, 150, 0}, &arena);
    const ks_point at[] = {{-200, -75}, {200, -75}, {200, 75}, {-50, 75}, {-50, 225}, {-200, 225}};
    ks_outline ell = {6, at, 0};
    int near_corner = 0;
    for (int i = 0; i < 3000; i++) {
        ks_arena own = {0};
        ks_outline foot = random_outline(&seed, i % 2 ? DISC : CAPSULE, 100, 0, &own);
        ks_stand stand = {random_between(&seed, -200, 200), random_between(&seed, -75, 225), 0};
        foot = ks_outline_place(&foot, stand, &own);
        double got = ks_support_slack(&foot, 2, shelves), known = ks_outline_inside(&foot, &ell);
        if (known > -5) {
            assert_true(got >= known - 2e-4 && got <= known + 4.15);
            near_corner += got > known + 0.1;
        }
        ks_arena_finish(&own);
    }
    assert_true(near_corner > 0);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(random_layouts_get_the_same_verdict),
        cmocka_unit_test(shelves_side_by_side_carry_as_one),
        cmocka_unit_test(a_seam_is_crossed_and_a_gap_is_not),
        cmocka_unit_test(an_inner_corner_is_not_a_floor),
    };
    return cmocka_run_group_tests(tests, start, finish);
}
