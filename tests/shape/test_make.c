#include "check.h"
#include "kilnstow/shape.h"

/* How far the point lies beyond the ellipse, by Newton's method on its nearest point's angle: not
 * how the polygon was made. */
static double beyond_ellipse(double a, double b, ks_point p)
{
    double best = INFINITY, t = 0;
    for (int k = 0; k < 720; k++) {
        double angle = k * acos(-1) / 360, away = hypot(p.x - a * cos(angle), p.y - b * sin(angle));
        if (away < best) {
            best = away;
            t = angle;
        }
    }
    for (int k = 0; k < 30; k++) {
        double x = a * cos(t), y = b * sin(t), dx = -a * sin(t), dy = b * cos(t);
        double slope = (x - p.x) * dx + (y - p.y) * dy;
        double bend = dx * dx + dy * dy - (x - p.x) * x - (y - p.y) * y;
        t -= bend > 0 ? slope / bend : 0;
    }
    best = fmin(best, hypot(p.x - a * cos(t), p.y - b * sin(t)));
    return p.x * p.x / (a * a) + p.y * p.y / (b * b) > 1 ? best : -best;
}

static const double halves[][2] = {{50, 30},   {300, 299}, {30, 50},   {300, 150},
                                   {400, 40},  {1000, 10}, {250, 220}, {5, 4.99},
                                   {0.5, 200}, {700, 600}, {45, 44}};

static void an_ellipse_is_enclosed_by_no_more_than_promised(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof halves / sizeof *halves; i++) {
        ks_arena arena = {0};
        double a = halves[i][0], b = halves[i][1];
        ks_outline around = ks_outline_ellipse(10, -5, a, b, true, &arena);
        ks_outline within = ks_outline_ellipse(10, -5, a, b, false, &arena);
        assert_null(ks_outline_fault(&around));
        assert_null(ks_outline_fault(&within));
        assert_true(ks_outline_convex(&around) && ks_outline_convex(&within));
        assert_true(around.n <= 160 && within.n <= 160);
        for (int k = 0; k < 3600; k++) {
            double t = k * acos(-1) / 1800;
            ks_point p = {10 + a * cos(t), -5 + b * sin(t)};
            assert_true(ks_outline_from_point(&around, p) <= 1e-9);
            double short_ = ks_outline_from_point(&within, p);
            assert_true(short_ >= -1e-9 && short_ <= 0.0501);
        }
        for (int k = 0; k < around.n; k++) {
            ks_point v = {around.at[k].x - 10, around.at[k].y + 5};
            assert_true(beyond_ellipse(a, b, v) + around.round <= 0.0501);
        }
        ks_arena_finish(&arena);
    }
}

static void rounded_rectangles_reach_their_sides(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const double cases[][4] = {
        {100, 50, 10, 4}, {100, 50, 25, 2}, {50, 100, 80, 2}, {60, 60, 30, 1}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ks_outline shape = ks_outline_rectangle(cases[i][0], cases[i][1], cases[i][2], &arena);
        ks_box box = ks_outline_box(&shape);
        assert_int_equal(shape.n, (int)cases[i][3]);
        check_near(box.x1 - box.x0, cases[i][0], 1e-12);
        check_near(box.y1 - box.y0, cases[i][1], 1e-12);
        assert_null(ks_outline_fault(&shape));
    }
    ks_arena_finish(&arena);
}

static void a_dodecagon_has_its_flat_to_the_operator_and_mirrors(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline shape = ks_outline_regular(12, 600, &arena);
    for (int i = 0; i < 12; i++) {
        bool mirrored = false;
        for (int k = 0; k < 12; k++)
            mirrored |= fabs(shape.at[k].x + shape.at[i].x) < 1e-12 &&
                        fabs(shape.at[k].y - shape.at[i].y) < 1e-12;
        assert_true(mirrored);
    }
    check_near(shape.at[0].y, -300, 1e-12);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_ellipse_is_enclosed_by_no_more_than_promised),
        cmocka_unit_test(rounded_rectangles_reach_their_sides),
        cmocka_unit_test(a_dodecagon_has_its_flat_to_the_operator_and_mirrors),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
