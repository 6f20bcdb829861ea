/* Cones: the chart, interpolation, and heat work. */
#include "check.h"

#include "kilnstow/cone.h"

#include <string.h>

static double fahrenheit(double celsius)
{
    return celsius * 1.8 + 32;
}

/* The published chart of self-supporting cones in F, at 27, 108 and 270 F/h: another column than
 * the one the table is made of. Cone 6 confirmed in a potters' forum, the rest from memory. */
static void cones_bend_at_the_charts_temperatures_in_fahrenheit(void **state)
{
    const struct {
        const char *cone;
        double at[3];
    } rows[] = {{"06", {1798, 1828, 1855}},
                {"04", {1915, 1945, 1971}},
                {"5", {2118, 2167, 2205}},
                {"6", {2165, 2232, 2269}},
                {"10", {2284, 2345, 2381}}};
    const double rates[] = {15, 60, 150};
    for (int i = 0; i < 5; i++)
        for (int r = 0; r < 3; r++)
            check_near(fahrenheit(ks_cone_temp_c(rows[i].cone, rates[r])), rows[i].at[r], 1.3);
}

/* The old chart of large cones (06 999, 04 1060, 5 1196, 6 1222, 10 1305 at 150 K/h) still goes
 * about; only cone 6 happens to be alike. */
static void the_old_chart_has_not_crept_in(void **state)
{
    assert_true(ks_cone_temp_c("06", 150) - 999 > 10);
    assert_true(ks_cone_temp_c("04", 150) - 1060 > 10);
    assert_true(ks_cone_temp_c("5", 150) - 1196 > 5);
    check_near(ks_cone_temp_c("6", 60), 1222, 0.01);
    check_near(ks_cone_temp_c("10", 150), 1305, 0.01);
    check_near(ks_cone_temp_c("10", 60), 1285, 0.01);
}

static void cones_are_found_however_they_are_written(void **state)
{
    assert_int_equal(ks_cone_find("6"), ks_cone_find("cone 6"));
    assert_int_equal(ks_cone_find("5.5"), ks_cone_find("5 1/2"));
    assert_int_equal(ks_cone_find("05½"), ks_cone_find("05.5"));
    assert_int_not_equal(ks_cone_find("06"), ks_cone_find("6"));
    const char *none[] = {"", "0", "023", "15", "six", "6a", "-6", "6.2", "99999999999"};
    for (int i = 0; i < 9; i++)
        assert_int_equal(ks_cone_find(none[i]), -1);
}

static void every_cone_is_hotter_than_the_last_at_every_rate(void **state)
{
    for (int i = 1; i < ks_cone_count(); i++)
        for (double rate = 15; rate < 400; rate *= 1.3) {
            double below = ks_cone_temp_c(ks_cone(i - 1)->name, rate);
            double here = ks_cone_temp_c(ks_cone(i)->name, rate);
            assert_true(here > below);
        }
}

static void a_faster_firing_needs_a_higher_temperature(void **state)
{
    for (int i = 0; i < ks_cone_count(); i++)
        for (double rate = i < 3 ? 60 : 10; rate < 300; rate *= 1.4)
            assert_true(ks_cone_temp_c(ks_cone(i)->name, 1.4 * rate) >
                        ks_cone_temp_c(ks_cone(i)->name, rate));
}

static void the_way_back_from_temperature_to_cone_closes(void **state)
{
    for (int i = 0; i < ks_cone_count(); i++)
        for (double rate = 15; rate < 300; rate *= 1.7)
            check_near(ks_cone_at(ks_cone_temp_c(ks_cone(i)->name, rate), rate), i, 1e-9);
    check_near(ks_cone_at(200, 60), -1, 0);
    check_near(ks_cone_at(1600, 60), ks_cone_count() - 1, 0);
    assert_true(isnan(ks_cone_temp_c("23", 60)));
}

static void places_between_cones_are_told_as_orders_write_them(void **state)
{
    ks_arena arena = {0};
    double six = ks_cone_find("6");
    assert_string_equal(ks_cone_print(six, &arena), "6");
    assert_string_equal(ks_cone_print(six - 0.6, &arena), "5.5+0.4");
    assert_string_equal(ks_cone_print(six - 0.04, &arena), "6");
    assert_string_equal(ks_cone_print(-0.3, &arena), "below 022");
    check_near(ks_cone_place_c(six + 0.5), 0.5 * (1222 + 1239), 1e-9);
    /* half a cone: to the middle of 5 and 6, whatever stands between */
    check_near(ks_cone_least_c((int)six), 0.5 * (1186 + 1222), 1e-9);
    check_near(ks_cone_most_c((int)six), 1222 + 11, 1e-9); /* 7 lies only 17 K on */
    ks_arena_finish(&arena);
}

/* Hand integration of the heat work of a steady rise. */
static double bend_after_rise(const ks_heat_work *work, double peak_c, double rate_c_h)
{
    double sum = 0, dt_h = 0.1 / rate_c_h;
    for (double temp_c = peak_c - 400 + 0.05; temp_c < peak_c; temp_c += 0.1)
        sum += dt_h * ks_heat_work_rate(work, temp_c);
    return sum;
}

/* The peak at which a cone is down by heat work at this rate. */
static double peak_by_work(int place, double rate_c_h)
{
    return ks_cone_peak_with_hold_c(place, rate_c_h, 0);
}

static void heat_work_gives_back_the_chart_it_was_fitted_to(void **state)
{
    double squares = 0;
    int n = 0;
    for (int i = 0; i < ks_cone_count(); i++) {
        ks_heat_work work = ks_cone_heat_work(i);
        const ks_cone_row *row = ks_cone(i);
        check_near(bend_after_rise(&work, row->temp_c[1], 60), 1, 0.003);
        for (int column = 0; column < 3; column += 2) {
            if (isnan(row->temp_c[column]))
                continue;
            double off = peak_by_work(i, column == 0 ? 15 : 150) - row->temp_c[column];
            assert_true(fabs(off) < 11);
            squares += off * off;
            n++;
        }
    }
    check_near(sqrt(squares / n), 3.4, 0.1);
}

static void no_two_cones_change_places_by_heat_work_at_any_rate(void **state)
{
    for (double rate = 2; rate <= 600; rate *= 1.2)
        for (int i = 1; i < ks_cone_count(); i++)
            assert_true(peak_by_work(i, rate) > peak_by_work(i - 1, rate));
}

/* Energies of an independent fit to the slow and fast columns of each row by itself, unsmoothed;
 * pairs of columns of one row differ by 10 to 15 %. */
static void energies_are_near_those_of_an_independent_fit(void **state)
{
    const struct {
        const char *cone;
        double energy;
    } rows[] = {{"05", 1397}, {"04", 1078}, {"03", 1051}, {"01", 797}, {"1", 816},
                {"3", 674},   {"5", 822},   {"6", 705},   {"7", 747},  {"8", 706},
                {"9", 770},   {"10", 827},  {"018", 369}, {"015", 297}};
    for (int i = 0; i < 14; i++) {
        ks_heat_work work = ks_cone_heat_work(ks_cone_find(rows[i].cone));
        check_near(work.energy_kj_mol, rows[i].energy, 0.12 * rows[i].energy);
    }
}

/* Consequences worked out independently: how much lower the peak may be with a hold, at 60 K/h. */
static void a_hold_is_credited(void **state)
{
    const struct {
        const char *cone;
        double less_k[4];
    } rows[] = {{"6", {8, 12, 20, 31}}, {"04", {8, 10, 16, 23}}, {"10", {8, 12, 19, 30}}};
    const double hold_h[] = {1.0 / 6, 0.25, 0.5, 1};
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 4; k++) {
            int place = ks_cone_find(rows[i].cone);
            double less =
                ks_cone(place)->temp_c[1] - ks_cone_peak_with_hold_c(place, 60, hold_h[k]);
            check_near(less, rows[i].less_k[k], 2.2);
        }
}

/* How long one cone's own peak must be held until the next is down. */
static double hours_to_next(const char *cone, const char *next)
{
    double peak_c = ks_cone_temp_c(cone, 60);
    ks_heat_work work = ks_cone_heat_work(ks_cone_find(next));
    double bent = bend_after_rise(&work, peak_c, 60);
    return (1 - bent) / ks_heat_work_rate(&work, peak_c);
}

/* Practice, within a factor of two: a potter's log has cone 6 held for 40 min as cone 8 (cone 6 of
 * a fast firing); a maker's rule has 1 to 2 h for the next cone, from memory. */
static void holds_match_potters_practice(void **state)
{
    double to_8 = hours_to_next("6", "8");
    assert_true(to_8 > 0.33 && to_8 < 1.4);
    assert_true(hours_to_next("5", "6") > 0.5 && hours_to_next("5", "6") < 4);
    assert_true(hours_to_next("04", "03") > 0.5 && hours_to_next("04", "03") < 4);
    assert_true(hours_to_next("05", "04") > 0.5 && hours_to_next("05", "04") < 4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cones_bend_at_the_charts_temperatures_in_fahrenheit),
        cmocka_unit_test(the_old_chart_has_not_crept_in),
        cmocka_unit_test(cones_are_found_however_they_are_written),
        cmocka_unit_test(every_cone_is_hotter_than_the_last_at_every_rate),
        cmocka_unit_test(a_faster_firing_needs_a_higher_temperature),
        cmocka_unit_test(the_way_back_from_temperature_to_cone_closes),
        cmocka_unit_test(places_between_cones_are_told_as_orders_write_them),
        cmocka_unit_test(heat_work_gives_back_the_chart_it_was_fitted_to),
        cmocka_unit_test(no_two_cones_change_places_by_heat_work_at_any_rate),
        cmocka_unit_test(energies_are_near_those_of_an_independent_fit),
        cmocka_unit_test(a_hold_is_credited),
        cmocka_unit_test(holds_match_potters_practice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
