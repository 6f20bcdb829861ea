#include "check.h"

#include "base/days/civil.h"
#include "clock/zone_words.h"

#include <string.h>

static ks_zone_rule zone_of(const char *text)
{
    ks_zone_rule zone;
    assert_null(ks_zone_rule_parse(text, &zone));
    return zone;
}

static int64_t utc(int year, int month, int day, int hour, int minute)
{
    return ks_day_of(year, month, day) * 86400 + hour * 3600 + minute * 60;
}

/* Directive 2000/84/EC of the European Parliament: summer time begins and ends at 1:00 Greenwich
 * time, on the last Sunday of March and of October. In 2026 these are 29 March and 25 October. */
static void the_clock_goes_forward_and_back_as_the_directive_says(void **state)
{
    (void)state;
    ks_zone_rule berlin = zone_of("CET-1CEST,M3.5.0,M10.5.0/3");
    ks_arena arena = {0};
    static const struct {
        int month, day, hour, minute;
        const char *local;
    } rows[] = {{3, 29, 0, 59, "2026-03-29 01:59"},        {3, 29, 1, 0, "2026-03-29 03:00"},
                {10, 24, 23, 59, "2026-10-25 01:59"},      {10, 25, 0, 0, "2026-10-25 02:00+02:00"},
                {10, 25, 0, 59, "2026-10-25 02:59+02:00"}, {10, 25, 1, 0, "2026-10-25 02:00+01:00"},
                {10, 25, 1, 59, "2026-10-25 02:59+01:00"}, {10, 25, 2, 0, "2026-10-25 03:00"},
                {2, 28, 23, 30, "2026-03-01 00:30"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_string_equal(
            ks_zone_print(&berlin,
                          utc(2026, rows[i].month, rows[i].day, rows[i].hour, rows[i].minute),
                          &arena),
            rows[i].local);
    ks_arena_finish(&arena);
}

/* 15 U.S.C. 260a: from the second Sunday of March to the first of November, at 2:00 local time. */
static void an_hour_west_of_greenwich_that_comes_twice_carries_its_offset(void **state)
{
    (void)state;
    ks_zone_rule york = zone_of("EST5EDT,M3.2.0,M11.1.0");
    ks_arena arena = {0};
    assert_string_equal(ks_zone_print(&york, utc(2026, 11, 1, 5, 30), &arena),
                        "2026-11-01 01:30-04:00");
    assert_string_equal(ks_zone_print(&york, utc(2026, 11, 1, 6, 30), &arena),
                        "2026-11-01 01:30-05:00");
    ks_arena_finish(&arena);
}

/* Every hour of three years, there and back; 2028 has a 29 February. Of the hour that comes twice
 * the earlier is meant, so the later comes back an hour less. */
static void local_time_comes_back_from_every_hour_of_three_years(void **state)
{
    (void)state;
    static const char *const rules[] = {"",
                                        "CET-1CEST,M3.5.0,M10.5.0/3",
                                        "EST5EDT,M3.2.0,M11.1.0",
                                        "AEST-10AEDT,M10.1.0,M4.1.0/3",
                                        "IST-5:30",
                                        "<+1030>-10:30<+11>-11,M10.1.0,M4.1.0"};
    for (size_t r = 0; r < sizeof rules / sizeof *rules; r++) {
        ks_zone_rule zone = zone_of(rules[r]);
        int twice = 0;
        for (int64_t at = utc(2026, 1, 1, 0, 0); at < utc(2029, 1, 1, 0, 0); at += 1800) {
            int64_t back = ks_utc_of_local(&zone, ks_local_of_utc(&zone, at));
            twice += back != at;
            assert_true(back == at || back == at - (zone.summer_s - zone.standard_s));
        }
        assert_int_equal(twice, zone.has_summer ? 3 * (zone.summer_s - zone.standard_s) / 1800 : 0);
    }
}

static void a_rule_is_told_in_words(void **state)
{
    (void)state;
    ks_arena arena = {0};
    static const struct {
        const char *rule, *words;
    } rows[] = {
        {"CET-1CEST,M3.5.0,M10.5.0/3", "UTC+1, in summer UTC+2 from the last Sunday of March at "
                                       "2:00 to the last Sunday of October at 3:00"},
        {"EST5EDT,M3.2.0,M11.1.0", "UTC-5, in summer UTC-4 from the second Sunday of March at 2:00 "
                                   "to the first Sunday of November at 2:00"},
        {"NST3:30NDT,M3.2.0,M11.1.0",
         "UTC-3:30, in summer UTC-2:30 from the second Sunday of March "
         "at 2:00 to the first Sunday of November at 2:00"},
        {"IST-5:30", "UTC+5:30 all the year"},
        {"XXX2YYY1,J60/0,J305/24:30", "UTC-2, in summer UTC-1 from 1 March at 0:00 to 24:30 hours "
                                      "after 1 November began"},
        {"<-02>2<-01>,M3.5.0/-1,M10.5.0/0", "UTC-2, in summer UTC-1 from 1:00 hours before the "
                                            "last Sunday of March begins to the last "
                                            "Sunday of October at 0:00"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ks_zone_rule zone = zone_of(rows[i].rule);
        assert_string_equal(ks_zone_words(&zone, &arena), rows[i].words);
    }
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_clock_goes_forward_and_back_as_the_directive_says),
        cmocka_unit_test(an_hour_west_of_greenwich_that_comes_twice_carries_its_offset),
        cmocka_unit_test(a_rule_is_told_in_words),
        cmocka_unit_test(local_time_comes_back_from_every_hour_of_three_years),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
