#include "base/units.h"
#include "base/random.h"
#include "base/rational.h"
#include "base/text.h"
#include "check.h"

#include <string.h>

typedef struct {
    ks_quantity quantity;
    const char *text;
    double value;
} understood;

/* An inch is 25.4 mm, a pound 0.45359237 kg (international yard and pound agreement, 1959); 0 C is
 * 273.15 K and 32 F (BIPM, The International System of Units); a BTU(IT) is 1055.05585262 J. */
static const understood written[] = {
    {KS_LENGTH, "26 cm", 260},
    {KS_LENGTH, "260 mm", 260},
    {KS_LENGTH, "260mm", 260},
    {KS_LENGTH, "0.26 m", 260},
    {KS_LENGTH, "11,5 cm", 115},
    {KS_LENGTH, "0,125 in", 3.175},
    {KS_LENGTH, "10 1/2 in", 266.7},
    {KS_LENGTH, "10-1/2 in", 266.7},
    {KS_LENGTH, "4-1/2\"", 114.3},
    {KS_LENGTH, "4 1/2\u201D", 114.3},
    {KS_LENGTH, "4 1/2\u2033", 114.3},
    {KS_LENGTH, "4 1/2''", 114.3},
    {KS_LENGTH, "4\u00BD\"", 114.3},
    {KS_LENGTH, "4 \u00BD in", 114.3},
    {KS_LENGTH, "\u215D in", 15.875},
    {KS_LENGTH, "3/4 in", 19.05},
    {KS_LENGTH, "1\u20442 in", 12.7},
    {KS_LENGTH, "1/64 in", 0.396875},
    {KS_LENGTH, "1 ft 2 in", 355.6},
    {KS_LENGTH, "1 ft 2 1/2 in", 368.3},
    {KS_LENGTH, "1'2\"", 355.6},
    {KS_LENGTH, "1\u2032 2\u2033", 355.6},
    {KS_LENGTH, "2 ft", 609.6},
    {KS_LENGTH, "10 in.", 254},
    {KS_LENGTH, "10 INCHES", 254},
    {KS_LENGTH, "1 inch", 25.4},
    {KS_LENGTH, "-3.5 mm", -3.5},
    {KS_LENGTH, "\u22123.5 mm", -3.5},
    {KS_LENGTH, "+3 mm", 3},
    {KS_LENGTH, "  7 mm  ", 7},
    {KS_LENGTH, "7\u00A0mm", 7},
    {KS_LENGTH, ".5 in", 12.7},
    {KS_LENGTH, "5. mm", 5},
    {KS_LENGTH, "1e1 mm", 10},
    {KS_LENGTH, "12 millimetres", 12},
    {KS_MASS, "300 g", 0.3},
    {KS_MASS, "2.5 lb", 1.133980925},
    {KS_MASS, "2 lb 4 oz", 1.0205828325},
    {KS_MASS, "2lb 4.333oz", 1.030023223700625},
    {KS_MASS, "1 kg 250 g", 1.25},
    {KS_MASS, "16 oz", 0.45359237},
    {KS_MASS, "3 lbs.", 1.36077711},
    {KS_TEMP, "1186 C", 1186},
    {KS_TEMP, "1186C", 1186},
    {KS_TEMP, "1186 \u00B0C", 1186},
    {KS_TEMP, "1186\u2103", 1186},
    {KS_TEMP, "212 F", 100},
    {KS_TEMP, "2228 deg F", 1220},
    {KS_TEMP, "-40 F", -40},
    {KS_TEMP, "273.15 K", 0},
    {KS_RATE, "100 C/h", 100},
    {KS_RATE, "180 F/h", 100},
    {KS_RATE, "180 \u00B0F/hr", 100},
    {KS_RATE, "180 F per hour", 100},
    {KS_RATE, "100 K/h", 100},
    {KS_RATE, "2 K/min", 120},
    {KS_RATE, "9 F/min", 300},
    {KS_RATE, "-50 C/h", -50},
    {KS_TIME, "1h30", 5400},
    {KS_TIME, "1h30m", 5400},
    {KS_TIME, "1 h 30 min", 5400},
    {KS_TIME, "1.5 h", 5400},
    {KS_TIME, "1 1/2 hours", 5400},
    {KS_TIME, "90 min", 5400},
    {KS_TIME, "90 minutes", 5400},
    {KS_TIME, "2 h", 7200},
    {KS_TIME, "04:30", 16200},
    {KS_TIME, "4:30", 16200},
    {KS_TIME, "00:00:15", 15},
    {KS_TIME, "1 h 2 min 3 s", 3723},
    {KS_TIME, "2 days", 172800},
    {KS_TIME, "2 d 6 h", 194400},
    {KS_POWER, "11.5 kW", 11.5},
    {KS_POWER, "11,5kW", 11.5},
    {KS_POWER, "800 W", 0.8},
    {KS_POWER, "3600 BTU/h", 1.05505585262},
};

static void quantities_are_understood_exactly(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof written / sizeof *written; i++) {
        double value = -1e9;
        const char *fault = ks_quantity_parse(written[i].quantity, written[i].text, NULL, &value);
        if (fault)
            fail_msg("%s: %s", written[i].text, fault);
        if (value != written[i].value)
            fail_msg("%s = %.17g, wanted %.17g", written[i].text, value, written[i].value);
    }
}

static const struct {
    ks_quantity quantity;
    const char *text, *part; /* of the reason */
} unclear[] = {
    {KS_LENGTH, "", "26 cm"},
    {KS_LENGTH, "  ", "26 cm"},
    {KS_LENGTH, "mm", "start it with a number"},
    {KS_LENGTH, "tall", "start it with a number"},
    {KS_LENGTH, "26", "needs its unit"},
    {KS_LENGTH, "26 furlongs", "ends in mm, cm, m, in or ft"},
    {KS_LENGTH, "26 kg", "ends in mm"},
    {KS_LENGTH, "26 mmm", "ends in mm"},
    {KS_LENGTH, "26 mm tall", "ends in mm"},
    {KS_LENGTH, "26 mm;", "ends in mm"},
    {KS_LENGTH, "1,200 mm", "either"},
    {KS_LENGTH, "1.234,5 mm", "parting the thousands"},
    {KS_LENGTH, "1,234.5 mm", "parting the thousands"},
    {KS_LENGTH, "1/0 in", "divided by 0"},
    {KS_LENGTH, "10 1/0 in", "divided by 0"},
    {KS_LENGTH, "10 3/2 in", "less than 1"},
    {KS_LENGTH, "10.5 1/2 in", "ends in mm"},
    {KS_LENGTH, "2 in 1 ft", "larger units come first"},
    {KS_LENGTH, "1 ft 1 ft", "larger units come first"},
    {KS_LENGTH, "1 ft -2 in", "larger units come first"},
    {KS_LENGTH, "1 ft 2", "needs its unit"},
    {KS_LENGTH, "--5 mm", "start it with a number"},
    {KS_LENGTH, "- mm", "start it with a number"},
    {KS_LENGTH, "nan mm", "start it with a number"},
    {KS_LENGTH, "inf mm", "start it with a number"},
    {KS_LENGTH, "0x10 mm", "ends in mm"},
    {KS_LENGTH, "1e99 mm", "fewer digits"},
    {KS_LENGTH, "1e999999999999 mm", "fewer digits"},
    {KS_LENGTH, "99999999999999999999999 mm", "fewer digits"},
    {KS_MASS, "2 stone", "ends in kg, g, lb or oz"},
    {KS_MASS, "2 lb 4 lb", "larger units come first"},
    {KS_TEMP, "1186", "needs its unit"},
    {KS_TEMP, "1186 R", "ends in C, F or K"},
    {KS_TEMP, "1186 C 3 F", "larger units come first"},
    {KS_RATE, "100 C", "ends in C/h"},
    {KS_RATE, "100", "needs its unit"},
    {KS_RATE, "100 C/", "ends in C/h"},
    {KS_RATE, "100 /h", "ends in C/h"},
    {KS_RATE, "100 C/kg", "ends in C/h"},
    {KS_TIME, "90", "needs its unit"},
    {KS_TIME, "04:75", "below 60"},
    {KS_TIME, "04:5", "below 60"},
    {KS_TIME, "04:30 pm", "ends in h, min or s"},
    {KS_TIME, "30 min 1 h", "larger units come first"},
    {KS_TIME, "1h30h", "larger units come first"},
    {KS_POWER, "11.5", "needs its unit"},
    {KS_POWER, "11.5 kWh", "ends in kW"},
};

static void what_is_not_clear_is_refused_in_words(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof unclear / sizeof *unclear; i++) {
        double value = -1e9;
        const char *fault = ks_quantity_parse(unclear[i].quantity, unclear[i].text, NULL, &value);
        if (!fault || !strstr(fault, unclear[i].part))
            fail_msg("%s: %s, wanted %s", unclear[i].text, fault ? fault : "taken",
                     unclear[i].part);
        assert_true(value == -1e9);
    }
}

static void a_bare_number_takes_the_declared_unit_alone(void **state)
{
    (void)state;
    ks_units units = {"in", "lb", "F"};
    double value = 0;
    assert_null(ks_quantity_parse(KS_LENGTH, "10 1/2", ks_units_of(&units, KS_LENGTH), &value));
    assert_true(value == 266.7);
    assert_null(ks_quantity_parse(KS_MASS, "2", ks_units_of(&units, KS_MASS), &value));
    assert_true(value == 0.90718474);
    assert_null(ks_quantity_parse(KS_TEMP, "212", ks_units_of(&units, KS_TEMP), &value));
    assert_true(value == 100);
    assert_null(ks_quantity_parse(KS_RATE, "180", ks_units_of(&units, KS_RATE), &value));
    assert_true(value == 100);
    assert_null(ks_quantity_parse(KS_LENGTH, "10 cm", ks_units_of(&units, KS_LENGTH), &value));
    assert_true(value == 100);
    assert_null(ks_units_of(&units, KS_TIME));
    assert_null(ks_units_of(&(ks_units){0}, KS_LENGTH));
    assert_true(ks_quantity_of(KS_LENGTH, 2, "in") == 50.8);
    check_near(ks_quantity_of(KS_TEMP, 2167, "F"), 1186.1111111111, 1e-9);
    check_near(ks_quantity_of(KS_RATE, 180, "F/h"), 100, 1e-12);
}

static void bare_numbers_carry_no_unit(void **state)
{
    (void)state;
    double value = -1;
    assert_null(ks_number_parse(" 4-1/2 ", &value));
    assert_true(value == 4.5);
    assert_non_null(ks_number_parse("4 mm", &value));
    assert_non_null(ks_number_parse("", &value));
    assert_true(value == 4.5);
}

static void units_that_may_be_declared_are_known(void **state)
{
    (void)state;
    assert_true(ks_unit_known(KS_LENGTH, "mm"));
    assert_true(ks_unit_known(KS_MASS, "oz"));
    assert_true(ks_unit_known(KS_TEMP, "F"));
    assert_true(ks_unit_known(KS_RATE, "C/h"));
    assert_false(ks_unit_known(KS_LENGTH, "kg"));
    assert_false(ks_unit_known(KS_LENGTH, ""));
    assert_false(ks_unit_known(KS_LENGTH, "mm "
                                          "x"));
    assert_false(ks_unit_known(KS_RATE, "C"));
}

/* 1/64 in is 396875 nm, so that any number of them is a whole number of nanometres. */
static void sixty_fourths_of_an_inch_are_exact(void **state)
{
    (void)state;
    for (int n = -640; n < 64 * 100; n += 1 + n % 3 * (n > 0)) {
        char text[40];
        int whole = (n < 0 ? -n : n) / 64, part = (n < 0 ? -n : n) % 64;
        snprintf(text, sizeof text, n % 2 ? "%s%d %d/64 in" : "%s%d-%d/64\"", n < 0 ? "-" : "",
                 whole, part);
        double mm = 0;
        assert_null(ks_quantity_parse(KS_LENGTH, text, NULL, &mm));
        assert_true(mm == (double)n * 396875 / 1000000);
    }
}

/* Scaling units and back gives the number that was there: mm, cm and m, of numbers with decimals.
 */
static void metric_units_agree_with_each_other(void **state)
{
    (void)state;
    ks_random random = ks_random_of(11, 0);
    for (int i = 0; i < 50000; i++) {
        int thousandths = ks_random_below(&random, 10000000);
        char text[80];
        double mm = 0, cm = 0, m = 0;
        snprintf(text, sizeof text, "%d.%03d mm", thousandths / 1000, thousandths % 1000);
        assert_null(ks_quantity_parse(KS_LENGTH, text, NULL, &mm));
        snprintf(text, sizeof text, "%d.%04d cm", thousandths / 10000, thousandths % 10000);
        assert_null(ks_quantity_parse(KS_LENGTH, text, NULL, &cm));
        snprintf(text, sizeof text, "%d,%06d m", thousandths / 1000000, thousandths % 1000000);
        assert_null(ks_quantity_parse(KS_LENGTH, text, NULL, &m));
        assert_true(mm == thousandths / 1000.0 && cm == mm && m == mm);
    }
}

static void what_is_shown_in_inches_is_the_nearest_sixteenth(void **state)
{
    (void)state;
    ks_arena arena = {0};
    static const struct {
        ks_quantity quantity;
        double value;
        const char *unit, *text;
    } cases[] = {
        {KS_LENGTH, 266.7, "in", "10 1/2 in"},
        {KS_LENGTH, 12.7, "in", "1/2 in"},
        {KS_LENGTH, 25.4, "in", "1 in"},
        {KS_LENGTH, 0, "in", "0 in"},
        {KS_LENGTH, 25.3, "in", "1 in"},
        {KS_LENGTH, -266.7, "in", "-10 1/2 in"},
        {KS_LENGTH, -0.1, "in", "0 in"},
        {KS_LENGTH, 1.5875, "in", "1/16 in"},
        {KS_LENGTH, 260, "cm", "26.0 cm"},
        {KS_LENGTH, 260.4, "mm", "260 mm"},
        {KS_MASS, 1.2345, "kg", "1.23 kg"},
        {KS_MASS, 0.3, "g", "300 g"},
        {KS_MASS, 1.133980925, "lb", "2.50 lb"},
        {KS_MASS, 0.5, "oz", "17.6 oz"},
        {KS_TEMP, 1186.1, "C", "1186 \u00B0C"},
        {KS_TEMP, 1220, "F", "2228 \u00B0F"},
        {KS_RATE, 100, "F", "180 \u00B0F/h"},
        {KS_TIME, 5400, "", "1 h 30 min"},
        {KS_TIME, 7200, "", "2 h"},
        {KS_TIME, 59 * 60, "", "59 min"},
        {KS_TIME, 3599, "", "1 h"},
        {KS_POWER, 11.5, "kW", "11.5 kW"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(
            ks_quantity_print(cases[i].quantity, cases[i].value, cases[i].unit, &arena),
            cases[i].text);
    assert_null(ks_quantity_print(KS_LENGTH, 1, "cubit", &arena));
    for (double mm = 0; mm < 3000; mm += 0.73) {
        double back = -1;
        const char *text = ks_quantity_print(KS_LENGTH, mm, "in", &arena);
        assert_null(ks_quantity_parse(KS_LENGTH, text, NULL, &back));
        check_near(back, mm, 25.4 / 32 + 1e-9);
    }
    ks_arena_finish(&arena);
}

static void exact_sums_say_when_they_have_no_room(void **state)
{
    (void)state;
    ks_rational out, big = {INT64_MAX, 1}, third = {1, 3}, half = {1, 2};
    assert_true(ks_rational_plus(third, half, &out) && out.num == 5 && out.den == 6);
    assert_true(ks_rational_times(third, (ks_rational){3, 7}, &out) && out.num == 1 &&
                out.den == 7);
    assert_false(ks_rational_times(big, (ks_rational){2, 1}, &out));
    assert_false(ks_rational_plus(big, big, &out));
    assert_false(
        ks_rational_plus((ks_rational){1, INT64_MAX}, (ks_rational){1, INT64_MAX - 1}, &out));
}

static void a_quantity_with_any_byte_changed_is_read_or_refused(void **state)
{
    (void)state;
    ks_random random = ks_random_of(5, 0);
    int taken = 0;
    for (int i = 0; i < 100000; i++) {
        const understood *from = &written[i % (int)(sizeof written / sizeof *written)];
        char changed[64];
        strcpy(changed, from->text);
        int at = ks_random_below(&random, (int)strlen(changed));
        int choice = ks_random_below(&random, 4);
        if (choice == 0)
            changed[at] = "0123456789.,/-:'\" eE"[ks_random_below(&random, 20)];
        else if (choice == 1)
            memmove(changed + at, changed + at + 1, strlen(changed + at));
        else
            changed[at] = (char)(1 + ks_random_below(&random, 255));
        double value = NAN;
        const char *fault = ks_quantity_parse(from->quantity, changed, i % 2 ? "mm" : NULL, &value);
        assert_true(fault ? isnan(value) && *fault : isfinite(value));
        taken += !fault;
    }
    assert_true(taken > 5000 && taken < 95000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantities_are_understood_exactly),
        cmocka_unit_test(what_is_not_clear_is_refused_in_words),
        cmocka_unit_test(a_bare_number_takes_the_declared_unit_alone),
        cmocka_unit_test(bare_numbers_carry_no_unit),
        cmocka_unit_test(units_that_may_be_declared_are_known),
        cmocka_unit_test(sixty_fourths_of_an_inch_are_exact),
        cmocka_unit_test(metric_units_agree_with_each_other),
        cmocka_unit_test(what_is_shown_in_inches_is_the_nearest_sixteenth),
        cmocka_unit_test(exact_sums_say_when_they_have_no_room),
        cmocka_unit_test(a_quantity_with_any_byte_changed_is_read_or_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
