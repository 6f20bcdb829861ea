#include "check.h"
#include "oracle.h"

#include <string.h>

/* Everything here is judged by GEOS (libgeos), which shares no code with the program. */

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

static void compare_distance(const ks_outline *a, const ks_outline *b)
{
    GEOSGeometry *cores[2] = {oracle_core(a), oracle_core(b)};
    double known = oracle_distance(cores[0], cores[1]), got = ks_outline_distance(a, b);
    if (known > 0)
        check_near(got, known - a->round - b->round, 1e-9);
    else
        assert_true(got <= 1e-9 - a->round - b->round);
    check_near(ks_outline_distance(b, a), got, 1e-9);
    for (int i = 0; i < 2; i++)
        GEOSGeom_destroy(cores[i]);
}

static void distances_agree(void **state)
{
    (void)state;
    uint64_t seed = 1;
    for (int i = 0; i < trials_of(20000); i++) {
        ks_arena arena = {0};
        ks_outline a = random_outline(&seed, ANY_KIND, 100, 120, &arena);
        ks_outline b = random_outline(&seed, ANY_KIND, 100, 120, &arena);
        compare_distance(&a, &b);
        ks_arena_finish(&arena);
    }
}

/* Two convex outlines that meet are parted by a push of the length told, and by none that is
 * shorter (tried in 32 directions). */
static void a_convex_overlap_is_the_least_push_that_parts(void **state)
{
    (void)state;
    uint64_t seed = 2;
    for (int i = 0; i < 60; i++) {
        ks_arena arena = {0};
        ks_outline a = random_outline(&seed, CONVEX, 100, 20, &arena);
        ks_outline b = random_outline(&seed, CONVEX, 100, 20, &arena);
        double push = -ks_outline_distance(&a, &b);
        double least = -INFINITY;
        for (int k = 0; push > 0 && k < 360; k++) {
            ks_rotation to = ks_rotation_of(k);
            ks_outline away = ks_outline_place(&b, (ks_stand){push * to.c, push * to.s, 0}, &arena);
            GEOSGeometry *one = oracle_core(&a), *other = oracle_core(&away);
            double common = oracle_common(one, other);
            least = least < -common ? -common : least;
            GEOSGeom_destroy(one);
            GEOSGeom_destroy(other);
            if (k % 12 == 0) {
                away = ks_outline_place(&b, (ks_stand){0.99 * push * to.c, 0.99 * push * to.s, 0},
                                        &arena);
                assert_true(ks_outline_distance(&a, &away) < 0);
            }
        }
        if (push > 0)
            assert_true(least > -push * push * 0.05); /* a degree off the right way */
        ks_arena_finish(&arena);
    }
}

/* The sign of an overlap, concave outlines too: beyond what the chords of GEOS's rounds hide. */
static void overlaps_are_seen_by_both(void **state)
{
    (void)state;
    uint64_t seed = 3;
    int met = 0;
    for (int i = 0; i < 700; i++) {
        ks_arena arena = {0};
        ks_outline a = random_outline(&seed, STAR_ROUND, 100, 40, &arena);
        ks_outline b = random_outline(&seed, ANY_KIND, 100, 40, &arena);
        double got = ks_outline_distance(&a, &b), error = oracle_error(&a) + oracle_error(&b);
        GEOSGeometry *one = oracle_whole(&a), *other = oracle_whole(&b);
        if (got < -error)
            assert_true(oracle_common(one, other) > 0);
        if (got > 0)
            check_near(oracle_distance(one, other), got, error);
        met += got < 0;
        GEOSGeom_destroy(one);
        GEOSGeom_destroy(other);
        ks_arena_finish(&arena);
    }
    assert_true(met > 100 && met < 650);
}

static void areas_agree(void **state)
{
    (void)state;
    uint64_t seed = 4;
    for (int i = 0; i < 700; i++) {
        ks_arena arena = {0};
        ks_outline a = random_outline(&seed, ANY_KIND, 200, 50, &arena);
        GEOSGeometry *whole = oracle_whole(&a);
        double known = oracle_area(whole), got = ks_outline_area(&a);
        double chords = oracle_error(&a) * 2 * acos(-1) * a.round + 1e-6;
        assert_true(got >= known - 1e-6);
        check_near(got, known, chords);
        GEOSGeom_destroy(whole);
        ks_arena_finish(&arena);
    }
}

static void has_its_middle_where_geos_has_it(const ks_outline *shape, double within)
{
    GEOSGeometry *whole = oracle_whole(shape), *middle = GEOSGetCentroid(whole);
    double x = 0, y = 0;
    assert_int_equal(GEOSGeomGetX(middle, &x) + GEOSGeomGetY(middle, &y), 2);
    ks_point got = ks_outline_centroid(shape);
    check_near(got.x, x, within);
    check_near(got.y, y, within);
    GEOSGeom_destroy(whole);
    GEOSGeom_destroy(middle);
}

/* Stars whose rays grow together; a horseshoe whose mouth, a comb whose gaps close over a hole. */
static void middles_agree_where_notches_fill(void **state)
{
    (void)state;
    const ks_point horseshoe[] = {{-50, -50}, {50, -50},  {50, 50},  {8, 50},  {8, 20},  {20, 20},
                                  {20, -20},  {-20, -20}, {-20, 20}, {-8, 20}, {-8, 50}, {-50, 50}};
    const ks_point comb[] = {{0, 0},   {70, 0},  {70, 60}, {60, 60}, {50, 10}, {40, 60},
                             {30, 10}, {20, 60}, {12, 60}, {12, 20}, {0, 55}};
    for (double round = 0.5; round < 40; round *= 1.21) {
        has_its_middle_where_geos_has_it(&(ks_outline){12, horseshoe, round}, 0.002);
        has_its_middle_where_geos_has_it(&(ks_outline){11, comb, round}, 0.002);
    }
    uint64_t seed = 14;
    for (int i = 0; i < 300; i++) {
        ks_arena arena = {0};
        ks_outline a =
            random_outline(&seed, STAR_ROUND, random_between(&seed, 20, 200), 50, &arena);
        has_its_middle_where_geos_has_it(&a, 0.002);
        ks_arena_finish(&arena);
    }
}

static void compare_inside(const ks_outline *inner, const ks_outline *outer, int *in, int *out)
{
    double got = ks_outline_inside(inner, outer), error = oracle_error(inner) + oracle_error(outer);
    bool exact = ks_outline_convex(outer) || outer->round == 0;
    GEOSGeometry *one = oracle_whole(inner), *other = oracle_whole(outer);
    GEOSGeometry *core = oracle_core(outer);
    if (got > error) {
        ++*in;
        assert_true(GEOSCovers(other, one) == 1);
        double known = oracle_to_boundary(one, other);
        check_near(got, known, exact ? error : got); /* never more than there is */
        assert_true(got <= known + error);
    } else if (got < -0.01) {
        ++*out;
        double known = oracle_sticks_out(one, core, 2) - outer->round;
        if (ks_outline_convex(outer) && known > 0)
            check_near(-got, known, 2 + error);
        assert_true(-got >= known - error); /* never less */
        if (exact)
            assert_true(GEOSCovers(other, one) == 0);
    }
    GEOSGeom_destroy(one);
    GEOSGeom_destroy(other);
    GEOSGeom_destroy(core);
}

static void what_lies_inside_agrees(void **state)
{
    (void)state;
    uint64_t seed = 5;
    int in = 0, out = 0;
    for (int i = 0; i < trials_of(1200); i++) {
        ks_arena arena = {0};
        ks_outline outer = random_outline(&seed, ANY_KIND, 300, 10, &arena);
        ks_outline inner = random_outline(&seed, ANY_KIND, 60, 60, &arena);
        compare_inside(&inner, &outer, &in, &out);
        ks_arena_finish(&arena);
    }
    assert_true(in > trials_of(250) && out > trials_of(250));
}

/* The convex parts fill the polygon and do not overlap. */
static void convex_parts_are_the_polygon(void **state)
{
    (void)state;
    uint64_t seed = 6;
    for (int i = 0; i < 700; i++) {
        ks_arena arena = {0};
        ks_outline shape = random_outline(&seed, STAR, 200, 0, &arena), *parts;
        int n = ks_outline_convex_parts(&shape, &arena, &parts), inward = 0;
        double sum = 0;
        GEOSGeometry *whole = oracle_core(&shape);
        for (int k = 0; k < n; k++) {
            GEOSGeometry *part = oracle_core(&parts[k]);
            assert_true(ks_outline_convex(&parts[k]));
            check_near(oracle_common(part, whole), oracle_area(part), 1e-6);
            sum += ks_outline_area(&parts[k]);
            GEOSGeom_destroy(part);
        }
        check_near(sum, oracle_area(whole), 1e-6);
        for (int k = 0; k < shape.n; k++) {
            ks_point a = shape.at[(k + shape.n - 1) % shape.n], b = shape.at[k],
                     c = shape.at[(k + 1) % shape.n];
            inward += (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x) < 0;
        }
        assert_true(n <= 2 * inward + 1); /* Hertel and Mehlhorn's promise */
        GEOSGeom_destroy(whole);
        ks_arena_finish(&arena);
    }
}

/* Against GEOS's hull of the grown outlines. */
static void hulls_enclose_by_no_more_than_they_say(void **state)
{
    (void)state;
    uint64_t seed = 7;
    for (int i = 0; i < 120; i++) {
        ks_arena arena = {0};
        ks_outline shapes[4];
        GEOSGeometry *wholes[4];
        for (int k = 0; k < 4; k++) {
            shapes[k] = random_outline(&seed, ANY_KIND, 80, 100, &arena);
            if (i % 2)
                shapes[k].round = 7;
            wholes[k] = oracle_whole(&shapes[k]);
        }
        GEOSGeometry *all = GEOSGeom_createCollection(GEOS_GEOMETRYCOLLECTION, wholes, 4);
        GEOSGeometry *known = GEOSConvexHull(all);
        ks_outline got = ks_outline_hull(shapes, 4, &arena);
        GEOSGeometry *hull = oracle_whole(&got);
        double error = 0.01; /* chords of rounds up to 40 mm */
        assert_true(oracle_sticks_out(known, hull, 5) <= error);
        assert_true(oracle_sticks_out(hull, known, 5) <= (i % 2 ? error : 0.05 + error));
        GEOSGeom_destroy(all);
        GEOSGeom_destroy(known);
        GEOSGeom_destroy(hull);
        ks_arena_finish(&arena);
    }
}

/* GEOSMinimumBoundingCircle gives its radius. */
static void the_smallest_circle_is_the_smallest(void **state)
{
    (void)state;
    uint64_t seed = 8;
    for (int i = 0; i < trials_of(3000); i++) {
        ks_arena arena = {0};
        ks_outline shape = random_outline(&seed, ANY_KIND, 200, 100, &arena);
        GEOSGeometry *core = oracle_core(&shape), *centre = NULL;
        double known = 0;
        GEOSGeometry *circle = GEOSMinimumBoundingCircle(core, &known, &centre);
        ks_circle got = ks_outline_around(&shape);
        check_near(got.r, known + shape.round, 1e-9 * (1 + known));
        GEOSGeom_destroy(core);
        GEOSGeom_destroy(circle);
        GEOSGeom_destroy(centre);
        ks_arena_finish(&arena);
    }
}

/* OGC 06-103r4, 6.1.11: a polygon's ring is simple; GEOSisValidDetail tells whether it is. */
static void what_crosses_itself_is_told(void **state)
{
    (void)state;
    uint64_t seed = 9;
    int crossed = 0, trials = trials_of(2000);
    for (int i = 0; i < trials; i++) {
        ks_arena arena = {0};
        ks_outline star = random_outline(&seed, STAR, 200, 0, &arena);
        ks_point *at = KS_TAKE(&arena, star.n, ks_point);
        memcpy(at, star.at, sizeof *at * (size_t)star.n);
        at[i % star.n] =
            (ks_point){random_between(&seed, -100, 100), random_between(&seed, -100, 100)};
        ks_outline moved = {star.n, at, 0};
        GEOSGeometry *core = oracle_core(&moved);
        const char *fault = ks_outline_fault(&moved);
        bool crosses = fault && strcmp(fault, "its edges cross or touch") == 0;
        assert_int_equal(crosses, GEOSisValidDetail(core, 0, NULL, NULL) == 0);
        crossed += crosses;
        GEOSGeom_destroy(core);
        ks_arena_finish(&arena);
    }
    assert_true(crossed > trials / 10 && crossed < trials);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(distances_agree),
        cmocka_unit_test(a_convex_overlap_is_the_least_push_that_parts),
        cmocka_unit_test(overlaps_are_seen_by_both),
        cmocka_unit_test(areas_agree),
        cmocka_unit_test(middles_agree_where_notches_fill),
        cmocka_unit_test(what_lies_inside_agrees),
        cmocka_unit_test(convex_parts_are_the_polygon),
        cmocka_unit_test(hulls_enclose_by_no_more_than_they_say),
        cmocka_unit_test(the_smallest_circle_is_the_smallest),
        cmocka_unit_test(what_crosses_itself_is_told),
    };
    return cmocka_run_group_tests(tests, start, finish);
}
