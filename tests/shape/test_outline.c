#include "check.h"
#include "kilnstow/shape.h"

static const ks_point ell_at[] = {{0, 0}, {60, 0}, {60, 20}, {20, 20}, {20, 50}, {0, 50}};
static const ks_outline ell = {6, ell_at, 0};

/* Areas of regular polygons across the flats: n/4 w^2 tan(pi/n) (any handbook of geometry). */
static void regular_polygons_have_the_known_area(void **state)
{
    (void)state;
    ks_arena arena = {0};
    for (int sides = 3; sides <= 16; sides++) {
        ks_outline shape = ks_outline_regular(sides, 500, &arena);
        double known = sides / 4.0 * 500 * 500 * tan(acos(-1) / sides);
        check_near(ks_outline_area(&shape), known, 1e-8);
        check_near(ks_outline_box(&shape).y0, -250, 1e-12);
        assert_null(ks_outline_fault(&shape));
        check_near(-ks_outline_from_point(&shape, (ks_point){0, 0}), 250, 1e-11);
    }
    ks_arena_finish(&arena);
}

/* Half disc: centroid 4r/(3 pi) from its straight side (handbooks). A quarter capsule's worth of
 * it: two rounds of a capsule and a rectangle between. */
static void areas_and_centroids_are_those_of_the_handbook(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const double pi = acos(-1);
    ks_outline disc = ks_outline_disc(3, 4, 10, &arena);
    check_near(ks_outline_area(&disc), pi * 100, 1e-10);
    check_near(ks_outline_centroid(&disc).x, 3, 0);
    ks_outline oval = ks_outline_rectangle(100, 40, 20, &arena);
    assert_int_equal(oval.n, 2);
    check_near(ks_outline_area(&oval), pi * 400 + 60 * 40, 1e-9);
    ks_outline rounded = ks_outline_rectangle(100, 40, 5, &arena);
    check_near(ks_outline_area(&rounded), 4000 - (4 - pi) * 25, 1e-9);
    ks_point middle = ks_outline_centroid(&rounded);
    check_near(middle.x, 0, 1e-12);
    check_near(middle.y, 0, 1e-12);
    check_near(ks_outline_area(&ell), 1200 + 600, 1e-12);
    check_near(ks_outline_centroid(&ell).x, (1200 * 30 + 600 * 10) / 1800.0, 1e-12);
    check_near(ks_outline_centroid(&ell).y, (1200 * 10 + 600 * 35) / 1800.0, 1e-12);
    /* A triangle of area T grown by r, by its parts: triangle, three strips, three sectors. */
    const ks_point at[] = {{0, 0}, {30, 0}, {0, 40}};
    ks_outline grown = {3, at, 6};
    check_near(ks_outline_area(&grown), 600 + 6 * 120 + pi * 36, 1e-9);
    ks_arena_finish(&arena);
}

/* Counted on a fine grid of points, which knows nothing of strips and sectors. */
static void the_centroid_of_a_grown_triangle_is_that_of_its_points(void **state)
{
    (void)state;
    const ks_point at[] = {{0, 0}, {30, 0}, {0, 40}};
    ks_outline grown = {3, at, 12};
    double n = 0, x = 0, y = 0;
    for (int i = 0; i < 560; i++)
        for (int j = 0; j < 660; j++) {
            ks_point p = {-12.95 + i * 0.1, -12.95 + j * 0.1};
            if (ks_outline_from_point(&grown, p) < 0) {
                n++;
                x += p.x;
                y += p.y;
            }
        }
    check_near(n * 0.01, ks_outline_area(&grown), 1.5);
    check_near(ks_outline_centroid(&grown).x, x / n, 0.01);
    check_near(ks_outline_centroid(&grown).y, y / n, 0.01);
}

static void distances_known_by_hand(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline a = ks_outline_disc(0, 0, 10, &arena), b = ks_outline_disc(30, 40, 15, &arena);
    check_near(ks_outline_distance(&a, &b), 25, 1e-12);
    ks_outline square = ks_outline_rectangle(20, 20, 0, &arena);
    ks_outline far = ks_outline_place(&square, (ks_stand){50, 0, 45}, &arena);
    check_near(ks_outline_distance(&square, &far), 40 - 10 * sqrt(2), 1e-12);
    ks_outline on = ks_outline_place(&square, (ks_stand){15, 1, 0}, &arena);
    check_near(ks_outline_distance(&square, &on), -5, 1e-12);
    check_near(ks_outline_distance(&square, &square), -20, 1e-12);
    ks_outline within = ks_outline_disc(0, 4, 1, &arena);
    check_near(ks_outline_distance(&square, &within), -7, 1e-12);
    ks_outline nook = ks_outline_disc(40, 40, 5, &arena);
    check_near(ks_outline_distance(&ell, &nook), 15, 1e-12);
    ks_outline oval = ks_outline_rectangle(4, 50, 2, &arena);
    oval = ks_outline_place(&oval, (ks_stand){23, 46, 0}, &arena);
    check_near(ks_outline_distance(&ell, &oval), 1, 1e-12);
    ks_arena_finish(&arena);
}

/* The same answer as the distance gives, however deep they lie in one another. */
static void nearer_is_what_the_distance_says(void **state)
{
    (void)state;
    static const double by_mm[] = {-25, -3, -1, -1e-3, 0, 1e-3, 2, 30};
    ks_arena arena = {0};
    ks_outline square = ks_outline_rectangle(20, 20, 0, &arena);
    ks_outline oval = ks_outline_rectangle(4, 50, 2, &arena);
    ks_outline disc = ks_outline_disc(3, 1, 4, &arena);
    const ks_outline *shapes[] = {&square, &oval, &disc, &ell};
    for (int i = 0; i < 4; i++)
        for (int k = 0; k < 4; k++)
            for (int step = 0; step < 60; step++) {
                ks_outline other = ks_outline_place(
                    shapes[k], (ks_stand){step - 20, 0.7 * step - 15, 6 * step}, &arena);
                double distance = ks_outline_distance(shapes[i], &other);
                bool exact = distance > 0 || (i < 3 && k < 3); /* both are convex */
                for (size_t m = 0; m < sizeof by_mm / sizeof *by_mm; m++)
                    if (exact || by_mm[m] >= distance)
                        assert_int_equal(ks_outline_nearer(shapes[i], &other, by_mm[m]),
                                         distance < by_mm[m]);
                if (exact)
                    assert_false(ks_outline_nearer(shapes[i], &other, distance - 1e-9));
                assert_true(ks_outline_nearer(shapes[i], &other, distance + 1e-9));
            }
    ks_arena_finish(&arena);
}

static void how_far_inside_known_by_hand(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline shelf = ks_outline_disc(0, 0, 200, &arena);
    ks_outline mug = ks_outline_disc(120, 50, 40, &arena);
    check_near(ks_outline_inside(&mug, &shelf), 30, 1e-12);
    ks_outline box = ks_outline_rectangle(60, 60, 10, &arena);
    check_near(ks_outline_inside(&box, &shelf), 190 - 20 * sqrt(2), 1e-12);
    ks_outline out = ks_outline_place(&box, (ks_stand){190, 0, 0}, &arena);
    check_near(ks_outline_inside(&out, &shelf), 200 - 10 - hypot(210, 20), 1e-12);
    ks_outline nook = ks_outline_disc(10, 45, 3, &arena);
    check_near(ks_outline_inside(&nook, &ell), 2, 1e-12);
    ks_outline plank = ks_outline_rectangle(30, 5, 0, &arena);
    plank = ks_outline_place(&plank, (ks_stand){20, 30, 0}, &arena);
    check_near(ks_outline_inside(&plank, &ell), -12.5, 1e-6);
    ks_outline across = ks_outline_place(&plank, (ks_stand){20, 21, 45}, &arena);
    assert_true(ks_outline_inside(&across, &ell) < 0);
    ks_arena_finish(&arena);
}

/* A keyhole: grown by 3 the neck closes but its room stays open, so a plate over both is in only
 * where the grown shape has no hole. */
static void a_plate_over_a_hole_is_not_inside(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const ks_point at[] = {{-50, -50}, {50, -50},  {50, 50},  {1, 50},  {1, 10},  {10, 10},
                           {10, -10},  {-10, -10}, {-10, 10}, {-1, 10}, {-1, 50}, {-50, 50}};
    ks_outline keyhole = {12, at, 3};
    assert_null(ks_outline_fault(&keyhole));
    ks_outline plate = ks_outline_rectangle(60, 60, 0, &arena);
    check_near(ks_outline_inside(&plate, &keyhole), -7, 0.2);
    ks_outline narrow = ks_outline_rectangle(4, 10, 0, &arena);
    narrow = ks_outline_place(&narrow, (ks_stand){0, 35, 0}, &arena);
    double slack = ks_outline_inside(&narrow, &keyhole);
    assert_true(slack <= 2 + 1e-9 && slack >= 1.98); /* 2, told a little short along the neck */
    ks_arena_finish(&arena);
}

static void what_cannot_be_an_outline_is_told_why(void **state)
{
    (void)state;
    const ks_point bow[] = {{0, 0}, {10, 10}, {10, 0}, {0, 10}};
    const ks_point clockwise[] = {{0, 0}, {0, 10}, {10, 10}, {10, 0}};
    const ks_point spike[] = {{0, 0}, {10, 0}, {20, 0}, {10, 0}, {5, 9}};
    const ks_point twice[] = {{0, 0}, {0, 0}, {10, 0}, {0, 10}};
    const ks_point wild[] = {{0, 0}, {NAN, 0}, {0, 10}};
    assert_string_equal(ks_outline_fault(&(ks_outline){0, bow, 1}), "it has no vertices");
    assert_string_equal(ks_outline_fault(&(ks_outline){4, bow, 0}), "its edges cross or touch");
    assert_string_equal(ks_outline_fault(&(ks_outline){4, clockwise, 0}),
                        "its vertices do not run counter-clockwise");
    assert_string_equal(ks_outline_fault(&(ks_outline){5, spike, 0}), "its edges cross or touch");
    assert_string_equal(ks_outline_fault(&(ks_outline){4, twice, 0}),
                        "a vertex is the same as the one before it");
    assert_non_null(ks_outline_fault(&(ks_outline){3, wild, 0}));
    assert_non_null(ks_outline_fault(&(ks_outline){1, bow, 0}));
    assert_non_null(ks_outline_fault(&(ks_outline){2, bow, 0}));
    assert_non_null(ks_outline_fault(&(ks_outline){1, bow, NAN}));
    assert_null(ks_outline_fault(&(ks_outline){1, bow, 4}));
    assert_null(ks_outline_fault(&(ks_outline){2, bow, 4}));
    assert_null(ks_outline_fault(&ell));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(regular_polygons_have_the_known_area),
        cmocka_unit_test(areas_and_centroids_are_those_of_the_handbook),
        cmocka_unit_test(the_centroid_of_a_grown_triangle_is_that_of_its_points),
        cmocka_unit_test(distances_known_by_hand),
        cmocka_unit_test(nearer_is_what_the_distance_says),
        cmocka_unit_test(how_far_inside_known_by_hand),
        cmocka_unit_test(a_plate_over_a_hole_is_not_inside),
        cmocka_unit_test(what_cannot_be_an_outline_is_told_why),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
