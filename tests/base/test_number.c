#include "base/number.h"
#include "base/random.h"
#include "check.h"

#include <float.h>
#include <locale.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static ks_arena arena;

static int freed(void **state)
{
    (void)state;
    ks_arena_finish(&arena);
    return 0;
}

static void numbers_are_written_short(void **state)
{
    (void)state;
    static const struct {
        double number;
        const char *text;
    } cases[] = {
        {0, "0"},
        {-0.0, "0"},
        {1, "1"},
        {-1, "-1"},
        {123.456, "123.456"},
        {0.1, "0.1"},
        {0.05, "0.05"},
        {0.001, "0.001"},
        {-0.5, "-0.5"},
        {1e15, "1e15"},
        {1e21, "1e21"},
        {1e-7, "1e-7"},
        {12345678.9, "12345678.9"},
        {1.0 / 3, "0.3333333333333333"},
        {0.1 + 0.2, "0.30000000000000004"},
        {DBL_MAX, "1.7976931348623157e308"},
        {5e-324, "4.94065645841247e-324"},
        {999999999999.999, "999999999999.999"},
        {0.0005, "0.0005"},
        {1e-10, "1e-10"},
        {100, "100"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(ks_number_print(cases[i].number, &arena), cases[i].text);
}

/* Any bit pattern, and steps of a thousandth as plans have them. */
static void written_numbers_read_back_as_themselves(void **state)
{
    (void)state;
    ks_random random = ks_random_of(1, 0);
    for (int i = 0; i < 200000; i++) {
        uint64_t bits = ks_random_bits(&random);
        double number, back = 0;
        memcpy(&number, &bits, sizeof number);
        if (i % 2)
            number = (double)((int64_t)(bits >> 30) - (1 << 30)) / 1000;
        if (!isfinite(number))
            continue;
        char text[KS_NUMBER_ROOM];
        ks_number_write(number, text);
        assert_int_equal(ks_number_read(text, &back), strlen(text));
        assert_true(back == number);
        assert_true(strlen(text) <= 24);
    }
}

static void only_the_number_at_the_start_is_read(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        size_t bytes;
        double number;
    } cases[] = {
        {"12", 2, 12},     {"12mm", 2, 12},   {"0x10", 1, 0}, {"-0x1", 2, 0}, {"1e", 1, 1},
        {"1e+", 1, 1},     {"1e+2x", 4, 100}, {".5", 2, 0.5}, {"5.", 2, 5},   {"", 0, 0},
        {"-", 0, 0},       {".", 0, 0},       {"inf", 0, 0},  {"nan", 0, 0},  {"1,5", 1, 1},
        {"1.5.2", 3, 1.5}, {"+3", 2, 3},      {" 3", 0, 0},   {"e5", 0, 0},   {"10x5", 2, 10},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        double number = 0;
        assert_int_equal(ks_number_read(cases[i].text, &number), cases[i].bytes);
        assert_true(number == cases[i].number);
    }
}

static void decimals_can_be_fixed(void **state)
{
    (void)state;
    assert_string_equal(ks_number_fixed(26, 1, &arena), "26.0");
    assert_string_equal(ks_number_fixed(-0.04, 1, &arena), "0.0");
    assert_string_equal(ks_number_fixed(-0.06, 1, &arena), "-0.1");
    assert_string_equal(ks_number_fixed(2.5, 0, &arena), "2");
    assert_string_equal(ks_number_fixed(1234.567, 2, &arena), "1234.57");
    assert_int_equal(strlen(ks_number_fixed(-DBL_MAX, 2, &arena)), 313);
}

/* A locale with a comma is made for the test, where the machine has what that takes. */
static void no_locale_changes_a_number(void **state)
{
    (void)state;
    char folder[] = "/tmp/kilnstow-locale-XXXXXX", command[200];
    assert_non_null(mkdtemp(folder));
    snprintf(command, sizeof command,
             "localedef --no-archive -i de_DE -f UTF-8 %s/de_DE.UTF-8 2>/dev/null", folder);
    int made = system(command);
    setenv("LOCPATH", folder, 1);
    bool comma =
        made != -1 && setlocale(LC_ALL, "de_DE.UTF-8") && *localeconv()->decimal_point == ',';
    char printed[20] = "", text[KS_NUMBER_ROOM];
    snprintf(printed, sizeof printed, "%.1f", 1.5);
    double number = 0;
    size_t bytes = ks_number_read("1.5", &number);
    ks_number_write(2.0 / 3, text);
    const char *fixed = ks_number_fixed(1.5, 1, &arena),
               *words = ks_arena_print(&arena, "%.1f", 1.5);
    setlocale(LC_ALL, "C");
    snprintf(command, sizeof command, "rm -r %s", folder);
    assert_int_equal(system(command), 0);
    if (!comma)
        skip(); /* no localedef, or not its sources */
    assert_string_equal(printed, "1,5");
    assert_int_equal(bytes, 3);
    assert_true(number == 1.5);
    assert_string_equal(text, "0.6666666666666666");
    assert_string_equal(fixed, "1.5");
    assert_string_equal(words, "1.5");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(numbers_are_written_short, freed),
        cmocka_unit_test_teardown(written_numbers_read_back_as_themselves, freed),
        cmocka_unit_test_teardown(only_the_number_at_the_start_is_read, freed),
        cmocka_unit_test_teardown(decimals_can_be_fixed, freed),
        cmocka_unit_test_teardown(no_locale_changes_a_number, freed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
