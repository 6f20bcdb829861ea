#include "base/days/date.h"
#include "check.h"

#include <string.h>
#include <time.h>

static void known_days_are_right(void **state)
{
    (void)state;
    /* The epoch by POSIX; the Gregorian leap rule at its edges; 2000-03-01 = 11017. */
    static const struct {
        const char *text;
        int day;
    } cases[] = {
        {"1970-01-01", 0},      {"1969-12-31", -1},      {"1970-03-01", 59},
        {"1972-02-29", 789},    {"2000-02-29", 11016},   {"2000-03-01", 11017},
        {"2026-11-28", 20785},  {"0001-01-01", -719162}, {"9999-12-31", 2932896},
        {"1900-03-01", -25508},
    };
    ks_arena arena = {0};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        int day = 1;
        assert_null(ks_date_parse(cases[i].text, &day));
        assert_int_equal(day, cases[i].day);
        assert_string_equal(ks_date_print(day, &arena), cases[i].text);
    }
    ks_arena_finish(&arena);
}

/* The C library's calendar is the outside check. */
static void the_calendar_is_that_of_the_c_library(void **state)
{
    (void)state;
    ks_arena arena = {0};
    for (int day = -719162; day <= 2932896; day += 61) {
        time_t seconds = (time_t)day * 86400;
        struct tm parts;
        assert_non_null(gmtime_r(&seconds, &parts));
        char wanted[40];
        snprintf(wanted, sizeof wanted, "%04d-%02d-%02d", parts.tm_year + 1900, parts.tm_mon + 1,
                 parts.tm_mday);
        const char *text = ks_date_print(day, &arena);
        assert_string_equal(text, wanted);
        int back = day + 1;
        assert_null(ks_date_parse(text, &back));
        assert_int_equal(back, day);
    }
    ks_arena_finish(&arena);
}

static void days_that_do_not_exist_are_refused(void **state)
{
    (void)state;
    static const char *const refused[] = {
        "2026-02-29", "1900-02-29",       "2026-13-01", "2026-00-10", "2026-04-31", "2026-01-00",
        "0000-01-01", "2026-1-1",         "26-11-28",   "2026/11/28", "28.11.2026", "2026-11-28 ",
        "2026-11-2x", "2026-11-28T00:00", "",           "tomorrow",   "+026-11-28", "-026-11-28",
    };
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        int day = 12345;
        assert_non_null(ks_date_parse(refused[i], &day));
        assert_int_equal(day, 12345);
    }
}

static void a_moment_is_a_day_and_a_time_of_it(void **state)
{
    int64_t minute = -7;
    assert_true(ks_moment_parse("1970-01-02 00:01", &minute));
    assert_int_equal(minute, 24 * 60 + 1);
    static const char *const none[] = {"2026-11-28",
                                       "2026-11-28 24:00",
                                       "2026-11-28 12:60",
                                       "2026-11-28T12:00",
                                       "2026-11-28 1.5 h",
                                       "2026-02-30 12:00",
                                       "",
                                       "2026-11-28 12:00 "};
    for (size_t i = 0; i < sizeof none / sizeof *none; i++)
        assert_false(ks_moment_parse(none[i], &minute));
    assert_int_equal(minute, 24 * 60 + 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(known_days_are_right),
        cmocka_unit_test(the_calendar_is_that_of_the_c_library),
        cmocka_unit_test(days_that_do_not_exist_are_refused),
        cmocka_unit_test(a_moment_is_a_day_and_a_time_of_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
