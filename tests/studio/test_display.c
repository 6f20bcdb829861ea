#include "studio/display.h"
#include "check.h"

static const ks_display metric = {"mm", "kg", "C"}, small = {"cm", "g", "C"},
                        customary = {"in", "lb", "F"}, ounces = {"in", "oz", "F"}, untold = {0};

/* An inch is 25.4 mm, a pound 0.45359237 kg (international yard and pound agreement, 1959); water
 * freezes at 0 C = 32 F, and a step of 100 C is one of 180 F (BIPM, The International System of
 * Units). */
static void an_order_is_answered_in_its_own_units(void **state)
{
    ks_arena *arena = *state;
    assert_string_equal(ks_show_length(&customary, 266.7, arena), "10 1/2 in");
    assert_string_equal(ks_show_length(&small, 125, arena), "12.5 cm");
    assert_string_equal(ks_show_mass(&customary, 0.45359237, arena), "1.00 lb");
    assert_string_equal(ks_show_mass(&small, 0.8, arena), "800 g");
    assert_string_equal(ks_show_mass(&untold, 1.25, arena), "1.25 kg");
    assert_string_equal(ks_show_temp(&customary, 0, arena), "32 °F");
    assert_string_equal(ks_show_temp(&untold, 1186, arena), "1186 °C");
    assert_string_equal(ks_show_rate(&customary, 100, arena), "180 °F/h");
    assert_string_equal(ks_show_rate(&metric, 100, arena), "100 °C/h");
}

static void a_difference_is_no_temperature(void **state)
{
    assert_string_equal(ks_show_warmer(&customary, 100, *state), "180 °F");
    assert_string_equal(ks_show_warmer(&metric, 100, *state), "100 °C");
}

static void what_is_to_spare_goes_down_and_what_is_lacking_up(void **state)
{
    ks_arena *arena = *state;
    assert_string_equal(ks_show_spare(&metric, 6.39, arena), "6.3 mm");
    assert_string_equal(ks_show_lack(&metric, 6.31, arena), "6.4 mm");
    assert_string_equal(ks_show_spare(&customary, 6.49, arena), "0.25 in"); /* 0.2555 */
    assert_string_equal(ks_show_lack(&customary, 6.36, arena), "0.26 in");  /* 0.2504 */
    assert_string_equal(ks_show_spare(&small, 6.39, arena), "0.63 cm");
    assert_string_equal(ks_show_spare(&metric, 25.3, arena), "25.3 mm"); /* as it is */
    assert_string_equal(ks_show_lack(&metric, 25.3, arena), "25.3 mm");
}

static void heavy_loads_are_not_told_in_ounces(void **state)
{
    assert_string_equal(ks_show_mass(&ounces, 0.3, *state), "10.6 oz");
    assert_string_equal(ks_show_mass(&ounces, 100 * 0.45359237, *state), "100.00 lb");
    assert_string_equal(ks_show_mass(&small, 120, *state), "120.00 kg");
}

static void a_column_has_one_unit(void **state)
{
    assert_string_equal(ks_show_unit(&ounces, KS_MASS), "lb");
    check_near(ks_show_number(&ounces, KS_MASS, 0.45359237), 1, 1e-12);
    assert_string_equal(ks_show_unit(&customary, KS_RATE), "°F/h");
    check_near(ks_show_number(&customary, KS_RATE, -50), -90, 1e-12);
    check_near(ks_show_number(&customary, KS_TEMP, 100), 212, 1e-12);
    check_near(ks_show_number(&small, KS_LENGTH, 25.4), 2.54, 1e-12);
}

static int arena_made(void **state)
{
    static ks_arena arena;
    *state = &arena;
    return 0;
}

static int arena_freed(void **state)
{
    ks_arena_finish(*state);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_order_is_answered_in_its_own_units),
        cmocka_unit_test(a_difference_is_no_temperature),
        cmocka_unit_test(what_is_to_spare_goes_down_and_what_is_lacking_up),
        cmocka_unit_test(heavy_loads_are_not_told_in_ounces),
        cmocka_unit_test(a_column_has_one_unit),
    };
    return cmocka_run_group_tests(tests, arena_made, arena_freed);
}
