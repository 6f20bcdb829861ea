/* A plate on posts against beams and plates of the handbooks. */
#include "check.h"

#include "studio/plate.h"

#include <math.h>

/* A narrow plate 600 long on posts near both ends, 520 apart, is a beam on two supports with
 * overhanging ends: load all over W (s / 4 - L / 8), a load over its middle c W (s / 4 - c / 8) (W.
 * C. Young and R. G. Budynas, Roark's Formulas for Stress and Strain, table 8.1, from memory);
 * stress 6 M / (b h^2). */
static void a_narrow_plate_bends_as_a_beam(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline plate = ks_outline_rectangle(600, 60, 0, &arena);
    ks_outline middle = ks_outline_rectangle(60, 60, 0, &arena);
    const ks_point ends[] = {{-260, -29}, {-260, 29}, {260, -29}, {260, 29}};
    double all = 6 * (520.0 / 4 - 600.0 / 8) / 60, there = 6 * (520.0 / 4 - 60.0 / 8) / 60;
    check_near(ks_plate_bending(&plate, NULL, 4, ends, &arena), all, 0.03 * all);
    check_near(ks_plate_bending(&plate, &middle, 4, ends, &arena), there, 0.07 * there);
    ks_arena_finish(&arena);
}

static void posts_on_ring(int n, double r, ks_point *out)
{
    for (int i = 0; i < n; i++) {
        ks_rotation at = ks_rotation_of(360.0 * i / n);
        out[i] = (ks_point){r * at.c, r * at.s};
    }
}

/* Simply held all round 3 (3 + nu) / 8 q a^2 / h^2, nu = 0.2 (Roark, table 11.2, from memory): 1.2
 * q a^2 / h^2. On three posts at its rim the middle bends as much, and its edge more; 0.553 W / h^2
 * came out of polynomials of degree 12 with another rule of integration. */
static void a_disc_bends_as_a_round_plate(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline disc = ks_outline_disc(0, 0, 100, &arena);
    double held = 1.2 / 3.14159265;
    ks_point ring[12];
    posts_on_ring(12, 99, ring);
    check_near(ks_plate_bending(&disc, NULL, 12, ring, &arena), held, 0.03 * held);
    posts_on_ring(3, 99.5, ring);
    check_near(ks_plate_bending(&disc, NULL, 3, ring, &arena), 0.553, 0.03);
    ks_arena_finish(&arena);
}

/* Held at its four corners a square's edge has a moment of 0.15 q a^2 (Timoshenko and
 * Woinowsky-Krieger, article 49, from memory: 0.1527 for nu = 0.3). */
static void a_square_on_its_corners(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline square = ks_outline_rectangle(400, 400, 0, &arena);
    const ks_point corners[] = {{-200, -200}, {200, -200}, {200, 200}, {-200, 200}};
    check_near(ks_plate_bending(&square, NULL, 4, corners, &arena), 6 * 0.1527, 0.08);
    ks_arena_finish(&arena);
}

/* Posts nearer together bend it less; one that would pull, and one twice, change nothing; two do
 * not carry it, nor three on one line. */
static void what_carries_decides(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline plate = ks_outline_rectangle(600, 300, 0, &arena);
    const ks_point wide[] = {{-280, -100}, {-280, 100}, {280, 0}, {280, 0}};
    const ks_point near[] = {{-200, -100}, {-200, 100}, {200, 0}};
    const ks_point line[] = {{-280, 0}, {0, 0}, {280, 0}};
    double three = ks_plate_bending(&plate, NULL, 3, wide, &arena);
    assert_true(ks_plate_bending(&plate, NULL, 3, near, &arena) < 0.7 * three);
    check_near(ks_plate_bending(&plate, NULL, 4, wide, &arena), three, 1e-9);
    assert_true(isinf(ks_plate_bending(&plate, NULL, 2, wide, &arena)));
    assert_true(isinf(ks_plate_bending(&plate, NULL, 3, line, &arena)));
    ks_outline heap = ks_outline_disc(-200, 0, 60, &arena);
    const ks_point four[] = {{-280, -100}, {-280, 100}, {-120, 0}, {280, 0}};
    check_near(ks_plate_bending(&plate, &heap, 4, four, &arena),
               ks_plate_bending(&plate, &heap, 3, four, &arena), 1e-9);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_narrow_plate_bends_as_a_beam),
        cmocka_unit_test(a_disc_bends_as_a_round_plate),
        cmocka_unit_test(a_square_on_its_corners),
        cmocka_unit_test(what_carries_decides),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
