#include "check.h"

#include "base/random.h"
#include "place/bound/cell.h"

/* The least areas of cells: against formulas of the handbooks and against cells drawn by chance. */

#define PI 3.14159265358979323846

static ks_cell_body disc_body(double r)
{
    ks_arena arena = {0};
    ks_outline disc = ks_outline_disc(3, -4, r, &arena);
    ks_cell_body body = ks_cell_body_of(&disc, 0);
    ks_arena_finish(&arena);
    return body;
}

/* M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, or any table of regular
 * polygons: with an inscribed circle of radius 1 they have these areas (from memory). */
static void cells_around_a_disc_are_regular_polygons(void **state)
{
    static const double area[] = {5.196152, 4.000000, 3.632713, 3.464102, 3.371022, 3.313708};
    ks_cell_body body = disc_body(1);
    for (int k = 3; k <= 8; k++)
        check_near(ks_cell_area_mm2(&body, k), area[k - 3], 1e-6);
}

/* A square holds its own incircle, an oblong the same stretched, a long hexagon an ellipse. */
static void an_ellipse_is_found_within_a_polygon(void **state)
{
    ks_arena arena = {0};
    ks_outline oblong = ks_outline_rectangle(80, 20, 0, &arena);
    ks_cell_body body = ks_cell_body_of(&oblong, 0);
    check_near(body.oval_mm2, PI * 40 * 10, 1e-6);
    check_near(body.disc_mm, 10, 1e-9);
    body = ks_cell_body_of(&oblong, 5);
    check_near(body.oval_mm2, PI * 45 * 15, 1e-6);
    check_near(body.area_mm2, 1600 + 200 * 5 + PI * 25, 1e-6);
    ks_outline hexagon = ks_outline_regular(6, 50, &arena);
    check_near(ks_cell_body_of(&hexagon, 0).oval_mm2, PI * 625, 1e-6);
    ks_arena_finish(&arena);
}

/* Turning, moving and the order of corners change nothing. */
static void a_body_is_the_same_however_it_lies(void **state)
{
    ks_random random = ks_random_of(31, 0);
    ks_arena arena = {0};
    for (int trial = 0; trial < 200; trial++) {
        ks_outline shape = ks_outline_rectangle(ks_random_between(&random, 10, 90),
                                                ks_random_between(&random, 10, 90), 3, &arena);
        ks_stand stand = {ks_random_between(&random, -300, 300),
                          ks_random_between(&random, -300, 300),
                          ks_random_between(&random, 0, 360)};
        ks_outline moved = ks_outline_place(&shape, stand, &arena);
        ks_cell_body a = ks_cell_body_of(&shape, 2), b = ks_cell_body_of(&moved, 2);
        check_near(a.oval_mm2, b.oval_mm2, 1e-6);
        check_near(a.disc_mm, b.disc_mm, 1e-7);
    }
    ks_arena_finish(&arena);
}

/* Area of what the wall and lines that leave the disc alone enclose, summed by directions from the
 * disc's middle; the wall's middle lies `off` behind it. */
static double cell_area(double off, double wall, int sides, const double *at, const double *away)
{
    enum { STEPS = 7200 };
    double sum = 0;
    for (int i = 0; i < STEPS; i++) {
        double f = 2 * PI * (i + 0.5) / STEPS, across = off * sin(f);
        double out = sqrt(wall * wall - across * across) - off * cos(f);
        for (int s = 0; s < sides; s++) {
            double c = cos(f - at[s]);
            if (c > 0 && away[s] / c < out)
                out = away[s] / c;
        }
        sum += out * out / 2 * 2 * PI / STEPS;
    }
    return sum;
}

static void no_cell_at_the_wall_is_smaller_than_is_said(void **state)
{
    ks_random random = ks_random_of(32, 0);
    for (int trial = 0; trial < trials_of(1500); trial++) {
        double wall = ks_random_between(&random, 60, 300),
               r = wall * ks_random_between(&random, 0.05, 0.7);
        int sides = 1 + ks_random_below(&random, 6);
        double at[6], away[6], off = (wall - r) * (trial % 2 ? 1 : ks_random_unit(&random));
        double free = ks_random_between(&random, 0, 2.5), share = (2 * PI - free) / sides;
        for (int s = 0; s < sides; s++) {
            at[s] = free / 2 + share * (s + 0.5) + ks_random_between(&random, -0.1, 0.1);
            away[s] = r * (trial % 3 ? 1 : ks_random_between(&random, 1, 1.1));
        }
        ks_cell_body body = disc_body(r);
        double least = ks_cell_wall_area_mm2(&body, sides, wall);
        assert_true(least <= cell_area(off, wall, sides, at, away) * (1 + 1e-5));
    }
}

/* The cell that is said to be least can be drawn: the wall in front, the sides sharing the rest. */
static void the_least_cell_at_the_wall_is_met(void **state)
{
    for (int sides = 2; sides <= 6; sides++)
        for (double r = 20; r < 120; r += 20) {
            double least = INFINITY, at[6], away[6], wall = 200;
            for (double free = 0.1; free < 3; free += 0.01) {
                for (int s = 0; s < sides; s++) {
                    at[s] = free / 2 + (2 * PI - free) / sides * (s + 0.5);
                    away[s] = r;
                }
                least = fmin(least, cell_area(wall - r, wall, sides, at, away));
            }
            ks_cell_body body = disc_body(r);
            check_near(ks_cell_wall_area_mm2(&body, sides, wall) / least, 1, 1e-3);
        }
}

/* Equal discs, many: the best price of a side makes each take its hexagon. */
static void needs_lie_between_the_disc_and_its_hexagon(void **state)
{
    ks_cell_body body = disc_body(10);
    double most = 0;
    for (double price = 0; price < 60; price += 0.5) {
        ks_cell_rule rule = {price, 0};
        double need = ks_cell_need_mm2(&body, &rule);
        assert_true(need <= 2 * sqrt(3) * 100 + 1e-6);
        most = fmax(most, need);
    }
    check_near(most, 2 * sqrt(3) * 100, 1e-4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cells_around_a_disc_are_regular_polygons),
        cmocka_unit_test(an_ellipse_is_found_within_a_polygon),
        cmocka_unit_test(a_body_is_the_same_however_it_lies),
        cmocka_unit_test(no_cell_at_the_wall_is_smaller_than_is_said),
        cmocka_unit_test(the_least_cell_at_the_wall_is_met),
        cmocka_unit_test(needs_lie_between_the_disc_and_its_hexagon),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
