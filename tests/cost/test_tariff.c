#include "check.h"

#include "cost/fine.h"
#include "base/days/civil.h"
#include "cost/tariff.h"

#include <string.h>

enum { ALL_DAYS = 127, WORKDAYS = 31, WEEKEND = 96, WINTER = 0xC0F, SUMMER = 0x3F0 };

/* Ontario Energy Board, time-of-use prices from 1 November 2023 (its announcement of 19 October
 * 2023): off-peak 8.7, mid-peak 12.2, on-peak 18.2 cents a kWh; in winter on-peak from 7 to 11 and
 * 17 to 19 on weekdays, mid-peak from 11 to 17, off-peak else and all weekend. Holidays left out.
 */
static ks_price_time ontario_winter[] = {
    {"off-peak", 8700000, {WEEKEND, WINTER, 0, 0}},
    {"on-peak", 18200000, {WORKDAYS, WINTER, 7 * 60, 11 * 60}},
    {"on-peak evening", 18200000, {WORKDAYS, WINTER, 17 * 60, 19 * 60}},
    {"mid-peak", 12200000, {WORKDAYS, WINTER, 11 * 60, 17 * 60}},
    {"off-peak night", 8700000, {ALL_DAYS, 4095, 0, 0}},
};

static const ks_power_tariff ontario = {
    .told = true, .n_times = 5, .times = ontario_winter, .demand_share = 1};

static ks_zone_rule toronto(void)
{
    ks_zone_rule zone;
    assert_null(ks_zone_rule_parse("EST5EDT,M3.2.0,M11.1.0", &zone));
    return zone;
}

static int64_t local(const ks_zone_rule *zone, int64_t day, int hour)
{
    return ks_utc_of_local(zone, day * 86400 + hour * 3600);
}

/* Worked by hand: Monday 15 January 2024, 6:00 to 20:00 at 5 kW. 6-7 night 5 kWh, 7-11 on-peak 20,
 * 11-17 mid 30, 17-19 on-peak 10, 19-20 night 5: 10 x 8.7 + 20 x 18.2 + 30 x 12.2 + 10 x 18.2
 * = 87 + 364 + 366 + 182 = 999 cents. */
static void a_winter_monday_costs_as_worked_by_hand(void **state)
{
    (void)state;
    ks_zone_rule zone = toronto();
    ks_arena arena = {0};
    ks_cost_lines lines = {0};
    ks_draw_step step = {0, 14, 5};
    ks_tariff_price(&ontario, &zone, local(&zone, ks_day_of(2024, 1, 15), 6), 1, &step, "CAD",
                    &arena, &lines);
    assert_int_equal(lines.sum, ks_minor_fine(999));
    ks_arena_finish(&arena);
}

static void the_weekend_is_cheap_all_day(void **state)
{
    (void)state;
    ks_zone_rule zone = toronto();
    ks_arena arena = {0};
    ks_cost_lines lines = {0};
    ks_draw_step step = {0, 14, 5};
    ks_tariff_price(&ontario, &zone, local(&zone, ks_day_of(2024, 1, 14), 6), 1, &step, "CAD",
                    &arena, &lines);
    assert_int_equal(lines.sum, ks_minor_fine(609));
    ks_arena_finish(&arena);
}

static void energy_is_the_same_whatever_the_clock_does(void **state)
{
    (void)state;
    ks_zone_rule zone = toronto();
    ks_price_time flat = {"", 20000000, {ALL_DAYS, 4095, 0, 0}};
    ks_power_tariff tariff = {.told = true, .n_times = 1, .times = &flat};
    ks_draw_step step = {0, 12, 3};
    for (int day = 0; day < 400; day++) {
        ks_arena arena = {0};
        ks_cost_lines lines = {0};
        ks_tariff_price(&tariff, &zone, local(&zone, ks_day_of(2024, 1, 1) + day, 20), 1, &step,
                        "CAD", &arena, &lines);
        assert_int_equal(lines.sum, ks_minor_fine(720));
        ks_arena_finish(&arena);
    }
}

/* In the night of 10 March 2024 clocks in Toronto went from 2:00 to 3:00, so that a night price
 * that ends at 7:00 held an hour less for a firing begun at midnight: 6 kWh of 1 kW and not 7. On 3
 * November 2024 it held an hour longer (8). */
static void prices_follow_the_clock_over_its_changes(void **state)
{
    (void)state;
    ks_zone_rule zone = toronto();
    ks_price_time times[] = {{"night", 1000000, {ALL_DAYS, 4095, 0, 420}},
                             {"day", 0, {ALL_DAYS, 4095, 420, 0}}};
    ks_power_tariff tariff = {.told = true, .n_times = 2, .times = times};
    static const struct {
        int month, day;
        int64_t cents;
    } nights[] = {{3, 9, 7}, {3, 10, 6}, {11, 2, 7}, {11, 3, 8}};
    for (int i = 0; i < 4; i++) {
        ks_arena arena = {0};
        ks_cost_lines lines = {0};
        ks_draw_step step = {0, 12, 1};
        int64_t start = local(&zone, ks_day_of(2024, nights[i].month, nights[i].day), 0);
        ks_tariff_price(&tariff, &zone, start, 1, &step, "CAD", &arena, &lines);
        assert_int_equal(lines.sum, ks_minor_fine(nights[i].cents));
        ks_arena_finish(&arena);
    }
}

static void tiers_go_on_from_what_the_month_has_used(void **state)
{
    (void)state;
    ks_price_tier tiers[] = {{100, 10000000}, {INFINITY, 15000000}};
    ks_power_tariff tariff = {.told = true, .n_tiers = 2, .tiers = tiers, .month_kwh = 80};
    ks_zone_rule utc = {0};
    ks_arena arena = {0};
    ks_cost_lines lines = {0};
    ks_draw_step step = {0, 10, 5};
    ks_tariff_price(&tariff, &utc, 0, 1, &step, "EUR", &arena, &lines);
    assert_int_equal(lines.sum, ks_minor_fine(20 * 10 + 30 * 15));
    ks_arena_finish(&arena);
}

/* The same announcement: by tiers 10.3 cents for the first 1000 kWh of a winter month at home, 12.5
 * beyond. By hand: 60 x 10.3 + 40 x 12.5 = 618 + 500. */
static void a_published_tariff_by_tiers_is_met(void **state)
{
    (void)state;
    ks_price_tier tiers[] = {{1000, 10300000}, {INFINITY, 12500000}};
    ks_power_tariff tariff = {.told = true, .n_tiers = 2, .tiers = tiers, .month_kwh = 940};
    ks_zone_rule utc = {0};
    ks_arena arena = {0};
    ks_cost_lines lines = {0};
    ks_draw_step step = {0, 10, 10};
    ks_tariff_price(&tariff, &utc, 0, 1, &step, "CAD", &arena, &lines);
    assert_int_equal(lines.sum, ks_minor_fine(1118));
    ks_arena_finish(&arena);
}

static void demand_is_the_highest_quarter_of_an_hour(void **state)
{
    (void)state;
    ks_draw_step steps[] = {{0, 0.3, 4}, {0.3, 0.45, 10}, {0.45, 1, 2}};
    /* second quarter: 0.05 h at 4, 0.15 h at 10, 0.05 h at 2: 1.8 kWh in 0.25 h */
    check_near(ks_tariff_demand_kw(3, steps), 7.2, 1e-9);
}

static void days_and_dates_agree_for_four_hundred_years(void **state)
{
    (void)state;
    assert_int_equal(ks_day_of(1970, 1, 1), 0);
    assert_int_equal(ks_day_of(2000, 3, 1), 11017);
    for (int64_t day = ks_day_of(1900, 1, 1); day < ks_day_of(2300, 1, 1); day++) {
        ks_civil at = ks_civil_of(day * 86400 + 3660);
        assert_int_equal(ks_day_of(at.year, at.month, at.day), day);
        assert_int_equal(at.minute, 61);
        assert_int_equal(at.weekday, ((day + 3) % 7 + 7) % 7);
    }
}

static void zone_rules_that_are_none_are_refused(void **state)
{
    (void)state;
    static const char *const bad[] = {"E",
                                      "CET",
                                      "CET-1CEST",
                                      "CET-1CEST,M3.5.0",
                                      "CET-1CE",
                                      "CET-1CEST,M13.5.0,M10.5.0",
                                      "CET-x",
                                      "CET-1CEST,M3.6.0,M10.5.0",
                                      "CET-1CEST,M3.5.0,M10.5.0x",
                                      "<CET-1"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        ks_zone_rule zone;
        assert_non_null(ks_zone_rule_parse(bad[i], &zone));
    }
}

/* Summer time south of the equator runs over the turn of the year; Lord Howe Island's is half an
 * hour (IANA time zone database, Australia/Lord_Howe; from memory). */
static void rules_south_of_the_equator_hold_over_new_year(void **state)
{
    (void)state;
    ks_zone_rule zone;
    assert_null(ks_zone_rule_parse("<+1030>-10:30<+11>-11,M10.1.0,M4.1.0", &zone));
    assert_int_equal(ks_local_of_utc(&zone, ks_day_of(2024, 1, 1) * 86400),
                     ks_day_of(2024, 1, 1) * 86400 + 11 * 3600);
    assert_int_equal(ks_local_of_utc(&zone, ks_day_of(2024, 7, 1) * 86400),
                     ks_day_of(2024, 7, 1) * 86400 + 10 * 3600 + 1800);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_winter_monday_costs_as_worked_by_hand),
        cmocka_unit_test(the_weekend_is_cheap_all_day),
        cmocka_unit_test(energy_is_the_same_whatever_the_clock_does),
        cmocka_unit_test(prices_follow_the_clock_over_its_changes),
        cmocka_unit_test(tiers_go_on_from_what_the_month_has_used),
        cmocka_unit_test(a_published_tariff_by_tiers_is_met),
        cmocka_unit_test(demand_is_the_highest_quarter_of_an_hour),
        cmocka_unit_test(days_and_dates_agree_for_four_hundred_years),
        cmocka_unit_test(zone_rules_that_are_none_are_refused),
        cmocka_unit_test(rules_south_of_the_equator_hold_over_new_year),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
