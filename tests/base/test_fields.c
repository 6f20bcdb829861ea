#include "base/data/fields.h"
#include "check.h"

#include <string.h>

typedef struct {
    double height_mm, mass_kg, temp_c, rate_c_h, time_s, power_kw, share;
    int count, day, loading;
    bool must_go;
    const char *id, *note;
    int64_t price_minor;
    const ks_json *outline;
} thing;

static const ks_field fields[] = {
    KS_FIELD(NAME, thing, id, "id", .required = true),
    KS_FIELD(LENGTH, thing, height_mm, "height", .required = true, .least = 1, .most = 2000),
    KS_FIELD(MASS, thing, mass_kg, "mass"),
    KS_FIELD(TEMP, thing, temp_c, "top"),
    KS_FIELD(RATE, thing, rate_c_h, "rate"),
    KS_FIELD(TIME, thing, time_s, "hold"),
    KS_FIELD(POWER, thing, power_kw, "power", .unit = "kW"),
    KS_FIELD(NUMBER, thing, share, "share", .least = 0, .most = 1),
    KS_FIELD(WHOLE, thing, count, "count", .least = 1, .most = 10000),
    KS_FIELD(BOOL, thing, must_go, "must_go"),
    KS_FIELD(TEXT, thing, note, "note", .least = 0, .most = 10),
    KS_FIELD(DATE, thing, day, "due"),
    KS_FIELD(MONEY, thing, price_minor, "price", .least = 0, .most = 1000),
    KS_FIELD(WORD, thing, loading, "loading", .words = "top|front"),
    KS_FIELD(ELSEWHERE, thing, outline, "outline"),
    KS_FIELD_KNOWN("ware"),
};

static ks_arena arena;

static int freed(void **state)
{
    (void)state;
    ks_arena_finish(&arena);
    return 0;
}

static ks_status read_thing(const char *source, const ks_units *units, thing *out, ks_error *err)
{
    const ks_json *top = NULL;
    assert_int_equal(ks_json_parse("t.json", source, strlen(source), &arena, &top, err), KS_OK);
    ks_field_reader reader = {*units, 2, &arena, err};
    return KS_FIELDS_READ(top, fields, &reader, out);
}

static void a_table_fills_a_struct(void **state)
{
    (void)state;
    thing got = {.count = 1, .day = 7};
    ks_error err = {0};
    ks_units inches = {"in", "lb", "F"};
    assert_int_equal(
        read_thing("{\"id\": \"mug\", \"height\": 10.5, \"mass\": 2, \"top\": 212, \"rate\": 180,"
                   "\"hold\": \"1h30\", \"power\": 11.5, \"share\": 0.25, \"must_go\": true,"
                   "\"note\": \"\", \"price\": 12.50, \"loading\": \"front\", \"outline\": [1],"
                   "\"ware\": 5}",
                   &inches, &got, &err),
        KS_OK);
    assert_string_equal(got.id, "mug");
    assert_true(got.height_mm == 266.7 && got.mass_kg == 0.90718474 && got.temp_c == 100);
    assert_true(got.rate_c_h == 100 && got.time_s == 5400 && got.power_kw == 11.5);
    assert_true(got.share == 0.25 && got.count == 1 && got.day == 7 && got.must_go);
    assert_true(got.price_minor == 1250 && got.loading == 1 && got.outline->n == 1);
    assert_string_equal(got.note, "");
}

static void each_slip_is_told_once_with_its_remedy(void **state)
{
    (void)state;
    static const struct {
        const char *member, *message;
    } cases[] = {
        {"\"mass\": 3", "t.json:1: mass: found 3; a mass needs its unit, such as \"1.2 kg\" or "
                        "\"2.5 lb\", or declare it for the file: \"units\": {\"mass\": \"kg\"}"},
        {"\"mass\": \"3 stone\"",
         "t.json:1: mass: found \"3 stone\"; a mass ends in kg, g, lb or oz"},
        {"\"mass\": null", "t.json:1: mass: found null; a mass is written such as \"1.2 kg\", "
                           "\"300 g\" or \"2 lb 4 oz\""},
        {"\"power\": [1]", "t.json:1: power: found an array [...]; a power is written such as "
                           "\"11.5 kW\" or \"800 W\""},
        {"\"share\": 1.5", "t.json:1: share: found 1.5; it must be from 0 to 1"},
        {"\"share\": \"1\"", "t.json:1: share: found \"1\"; a number without quotes is needed"},
        {"\"count\": 0", "t.json:1: count: found 0; it must be from 1 to 10000"},
        {"\"count\": 1.5", "t.json:1: count: found 1.5; a whole number is needed"},
        {"\"count\": 1e300", "t.json:1: count: found 1e300; a whole number is needed"},
        {"\"must_go\": 1", "t.json:1: must_go: found 1; true or false is needed"},
        {"\"must_go\": \"yes\"", "t.json:1: must_go: found \"yes\"; true or false is needed"},
        {"\"note\": 5", "t.json:1: note: found 5; a text in double quotes is needed"},
        {"\"note\": \"01234567890\"", "t.json:1: note: found \"01234567890\"; make it shorter"},
        {"\"due\": \"2026-02-30\"",
         "t.json:1: due: found \"2026-02-30\"; name a day that the calendar has"},
        {"\"due\": 20261128", "t.json:1: due: found 20261128; a date is written year-month-day, "
                              "such as \"2026-11-28\""},
        {"\"price\": 1.255", "t.json:1: price: found 1.255; this currency has 2 decimals"},
        {"\"price\": -1", "t.json:1: price: found -1; it must be from 0 to 1000"},
        {"\"price\": true", "t.json:1: price: found true; an amount such as 12.50 is needed"},
        {"\"loading\": \"frnt\"",
         "t.json:1: loading: found \"frnt\"; did you mean \"front\"? It is "
         "one of \"top\" or \"front\""},
        {"\"loading\": \"Top\"",
         "t.json:1: loading: found \"Top\"; did you mean \"top\"? It is one "
         "of \"top\" or \"front\""},
        {"\"loading\": 3", "t.json:1: loading: found 3; it must be one of \"top\" or \"front\""},
        {"\"cuont\": 3", "t.json:1: cuont: found an unknown key; did you mean \"count\"?"},
        {"\"Count\": 3", "t.json:1: Count: found an unknown key; did you mean \"count\"?"},
        {"\"zzz\": 3", "t.json:1: zzz: found an unknown key; take it away"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char source[300];
        thing got = {0};
        ks_error err = {0};
        snprintf(source, sizeof source, "{\"id\": \"mug\", \"height\": \"1 cm\", %s}",
                 cases[i].member);
        assert_int_equal(read_thing(source, &(ks_units){0}, &got, &err), KS_BAD_INPUT);
        assert_string_equal(err.text, cases[i].message);
        assert_true(got.height_mm == 10);
    }
}

static void required_fields_names_and_bounds_are_asked_for(void **state)
{
    (void)state;
    thing got = {0};
    ks_error err = {0};
    assert_int_equal(read_thing("{\"id\": \"\"}", &(ks_units){0}, &got, &err), KS_BAD_INPUT);
    assert_string_equal(err.text, "t.json:1: id: found \"\"; it must not be empty\n"
                                  "t.json:1: height: found nothing; it is needed here");
    memset(&err, 0, sizeof err);
    assert_int_equal(
        read_thing("{\"id\": \"a\\tb\", \"height\": \"9 m\"}", &(ks_units){0}, &got, &err),
        KS_BAD_INPUT);
    assert_string_equal(err.text,
                        "t.json:1: id: found \"a b\"; it must be on one line, without tabs\n"
                        "t.json:1: height: found \"9 m\"; it must be from 1 to 2000 mm");
    memset(&err, 0, sizeof err);
    assert_int_equal(read_thing("[1]", &(ks_units){0}, &got, &err), KS_BAD_INPUT);
    assert_string_equal(err.text,
                        "t.json:1: the file: found an array [...]; an object {...} is needed");
}

static void a_spreadsheets_row_is_read_by_the_same_table(void **state)
{
    (void)state;
    thing got = {0};
    ks_error err = {0};
    ks_field_reader reader = {{"in", NULL, NULL}, 2, &arena, &err};
    ks_json *row = ks_json_row("w.csv", 5, 8, &arena);
    ks_json_cell(row, "id", "mug", 5, 1);
    ks_json_cell(row, "height", "4 1/2", 5, 5);
    ks_json_cell(row, "count", "12", 5, 9);
    ks_json_cell(row, "share", "0,5", 5, 12);
    ks_json_cell(row, "must_go", "Yes", 5, 16);
    ks_json_cell(row, "price", "11,50", 5, 20);
    ks_json_cell(row, "loading", "Front", 5, 26);
    assert_int_equal(KS_FIELDS_READ(row, fields, &reader, &got), KS_OK);
    assert_true(got.height_mm == 114.3 && got.count == 12 && got.share == 0.5 && got.must_go);
    assert_true(got.price_minor == 1150 && got.loading == 1);
    row->items[2].text = "a dozen";
    row->items[4].text = "maybe";
    assert_int_equal(KS_FIELDS_READ(row, fields, &reader, &got), KS_BAD_INPUT);
    assert_string_equal(err.text, "w.csv:5: count: found \"a dozen\"; start it with a number, such "
                                  "as 26, 11.5 or 10 1/2\n"
                                  "w.csv:5: must_go: found \"maybe\"; write yes or no");
}

static void units_and_format_are_checked(void **state)
{
    (void)state;
    static const struct {
        const char *source, *message;
    } cases[] = {
        {"{}", "t.json:1: format: found nothing; write \"format\": \"kilnstow-kiln/1\""},
        {"{\"format\": \"kilnstow-order/1\"}",
         "t.json:1: format: found \"kilnstow-order/1\"; \"kilnstow-kiln/1\" is needed here"},
        {"5", "t.json:1: the file: found 5; an object {...} is needed"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const ks_json *top = NULL;
        ks_error err = {0};
        ks_json_parse("t.json", cases[i].source, strlen(cases[i].source), &arena, &top, &err);
        assert_int_equal(ks_format_check(top, "kilnstow-kiln/1", &err), KS_BAD_INPUT);
        assert_string_equal(err.text, cases[i].message);
    }
    const char *source =
        "{\"units\": {\"length\": \"in\", \"mass\": \"stone\", \"temprature\": \"C\"}}";
    const ks_json *top = NULL;
    ks_error err = {0};
    ks_units units;
    ks_json_parse("t.json", source, strlen(source), &arena, &top, &err);
    assert_int_equal(ks_units_read(top, &units, &err), KS_BAD_INPUT);
    assert_string_equal(units.length, "in");
    assert_string_equal(units.mass, "kg");
    assert_string_equal(units.temp, "C");
    assert_string_equal(err.text, "t.json:1: units.temprature: found an unknown key; did you mean "
                                  "\"temperature\"?\n"
                                  "t.json:1: units.mass: found \"stone\"; it must be one of "
                                  "\"kg\", \"g\", \"lb\" or \"oz\"");
}

static void one_slip_is_not_told_twice(void **state)
{
    (void)state;
    thing got = {0};
    ks_error err = {0};
    assert_int_equal(read_thing("{\"id\": \"mug\", \"heigth\": 3}", &(ks_units){0}, &got, &err),
                     KS_BAD_INPUT);
    assert_string_equal(err.text,
                        "t.json:1: heigth: found an unknown key; did you mean \"height\"?");
    memset(&err, 0, sizeof err);
    for (int i = 0; i < 3; i++)
        assert_int_equal(read_thing("{\"id\": \"mug\", \"height\": 3}", &(ks_units){0}, &got, &err),
                         KS_BAD_INPUT);
    assert_int_equal(err.count, 3);
    assert_null(strchr(err.text, '\n'));
}

static void arrays_are_counted(void **state)
{
    (void)state;
    const ks_json *top = NULL;
    ks_error err = {0};
    ks_json_parse("t.json", "{\"a\": [1, 2], \"b\": 1}", 21, &arena, &top, &err);
    assert_int_equal(ks_array_check(ks_json_get(top, "a"), 1, 2, &err), KS_OK);
    assert_int_equal(ks_array_check(ks_json_get(top, "c"), 1, 2, &err), KS_OK);
    assert_int_equal(ks_array_check(ks_json_get(top, "a"), 3, 9, &err), KS_BAD_INPUT);
    assert_int_equal(ks_array_check(ks_json_get(top, "b"), 0, 9, &err), KS_BAD_INPUT);
    assert_string_equal(err.text, "t.json:1: a: found 2 elements; from 3 to 9 are needed\n"
                                  "t.json:1: b: found 1; an array [...] is needed");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(a_table_fills_a_struct, freed),
        cmocka_unit_test_teardown(each_slip_is_told_once_with_its_remedy, freed),
        cmocka_unit_test_teardown(required_fields_names_and_bounds_are_asked_for, freed),
        cmocka_unit_test_teardown(a_spreadsheets_row_is_read_by_the_same_table, freed),
        cmocka_unit_test_teardown(units_and_format_are_checked, freed),
        cmocka_unit_test_teardown(one_slip_is_not_told_twice, freed),
        cmocka_unit_test_teardown(arrays_are_counted, freed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
