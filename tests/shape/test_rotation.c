#include "check.h"
#include "kilnstow/shape.h"

static void quarter_turns_are_exact(void **state)
{
    (void)state;
    const struct {
        double turn, c, s;
    } known[] = {{0, 1, 0}, {90, 0, 1}, {180, -1, 0}, {270, 0, -1}, {360, 1, 0}, {-90, 0, -1}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        ks_rotation by = ks_rotation_of(known[i].turn);
        assert_true(by.c == known[i].c && by.s == known[i].s);
    }
}

/* Against the machine's own mathematics library, over every step of a whole turn. */
static void every_step_is_right_to_the_last_digits(void **state)
{
    (void)state;
    const long double degree = acosl(-1.0L) / 180;
    double worst = 0, off_circle = 0;
    for (int step = 0; step < 360000; step++) {
        double turn = step / 1000.0;
        ks_rotation by = ks_rotation_of(turn);
        worst = fmax(worst, fabs((double)((long double)by.c - cosl((long double)turn * degree))));
        worst = fmax(worst, fabs((double)((long double)by.s - sinl((long double)turn * degree))));
        off_circle = fmax(off_circle, fabs(by.c * by.c + by.s * by.s - 1));
    }
    check_near(worst, 0, 3e-16);
    check_near(off_circle, 0, 1e-15);
}

static void a_thing_stood_turned_lands_where_it_should(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline rectangle = ks_outline_rectangle(40, 20, 0, &arena);
    ks_outline there = ks_outline_place(&rectangle, (ks_stand){100, 50, 90}, &arena);
    ks_box box = ks_outline_box(&there);
    check_near(box.x0, 90, 0);
    check_near(box.x1, 110, 0);
    check_near(box.y0, 30, 0);
    check_near(box.y1, 70, 0);
    ks_arena_finish(&arena);
}

static void gridding_rounds_to_the_thousandth_and_drops_doubles(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const ks_point at[] = {{0.00049, -0.0002}, {10.12351, 0}, {10.1236, 0.0001}, {5, 7.9999}};
    ks_outline on = ks_outline_gridded(&(ks_outline){4, at, 1.23456}, &arena);
    assert_int_equal(on.n, 3);
    assert_true(on.at[0].x == 0 && !signbit(on.at[0].x) && !signbit(on.at[0].y));
    assert_true(on.at[1].x == 10.124 && on.at[2].y == 8.0 && on.round == 1.235);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quarter_turns_are_exact),
        cmocka_unit_test(every_step_is_right_to_the_last_digits),
        cmocka_unit_test(a_thing_stood_turned_lands_where_it_should),
        cmocka_unit_test(gridding_rounds_to_the_thousandth_and_drops_doubles),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
