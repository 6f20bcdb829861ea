#include "check.h"

#include "../studio/orders.h"
#include "clock/start.h"

#include <math.h>

static ks_order *read_order(const char *rest, ks_arena *arena)
{
    ks_order *order = NULL;
    ks_error err = {0};
    assert_int_equal(order_from(rest, arena, &order, &err), KS_OK);
    return order;
}

static void the_studios_hours_are_read_and_come_back_from_a_plan(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_plan *again, plan = {.version = "1", .stopped_by = "rounds", .bound_kind = ""};
    ks_order *order = read_order(
        "\"time_zone\": \"EST5EDT,M3.2.0,M11.1.0\", \"start\": \"19:30\", \"loading\": \"90 min\", "
        "\"opening_hours\": [{\"days\": \"mon-fri\", \"from\": \"9:00\", \"to\": \"21:00\"}, "
        "{\"from\": \"12:00\", \"to\": \"24:00\"}]" SOME_WARE,
        &arena);
    plan.order = order;
    const char *first = ks_plan_json(&plan, &arena);
    assert_int_equal(ks_plan_parse("plan", first, strlen(first), &arena, &again, &err), KS_OK);
    assert_string_equal(ks_plan_json(again, &arena), first);
    const ks_order *both[] = {order, again->order};
    for (int i = 0; i < 2; i++) {
        assert_string_equal(both[i]->zone, "EST5EDT,M3.2.0,M11.1.0");
        assert_true(both[i]->start_told && both[i]->start_min == 19 * 60 + 30);
        assert_int_equal(both[i]->n_open, 2);
        assert_int_equal(both[i]->open[0].weekdays, 31);
        assert_int_equal(both[i]->open[1].to_min, 0); /* midnight */
        check_near(both[i]->loading_s, 5400, 0);
        assert_true(isnan(both[i]->unloading_s));
    }
    ks_arena_finish(&arena);
}

static void the_zone_is_found_in_its_old_place_too(void **state)
{
    (void)state;
    ks_arena arena = {0};
    assert_string_equal(read_order("\"costs\": {\"time_zone\": \"CET-1\"}" SOME_WARE, &arena)->zone,
                        "CET-1");
    assert_string_equal(read_order("\"title\": \"x\"" SOME_WARE, &arena)->zone, "");
    ks_arena_finish(&arena);
}

static void slips_are_told_with_what_would_be_right(void **state)
{
    (void)state;
    static const struct {
        const char *told, *says;
    } slips[] = {
        {"\"time_zone\": \"Berlin\"", "time_zone: found \"Berlin\""},
        {"\"time_zone\": \"CET-1\", \"costs\": {\"time_zone\": \"EST5\"}", "tell one"},
        {"\"start\": \"2026-12-03 08:00\"", "an hour of the studio's clock is needed"},
        {"\"start\": \"24:00\"", "an hour of the studio's clock is needed"},
        {"\"opening_hours\": [{\"days\": \"mo-fr\", \"from\": \"9:00\", \"to\": \"21:00\"}]",
         "mon-fri"},
        {"\"opening_hours\": [{\"from\": \"9:00\"}]", "to"},
    };
    for (size_t i = 0; i < sizeof slips / sizeof *slips; i++) {
        ks_arena arena = {0};
        ks_order *order;
        ks_error err = {0};
        const char *rest = ks_arena_print(&arena, "%s" SOME_WARE, slips[i].told);
        assert_int_equal(order_from(rest, &arena, &order, &err), KS_BAD_INPUT);
        assert_non_null(strstr(err.text, slips[i].says));
        ks_arena_finish(&arena);
    }
}

/* A load's own day, at the order's hour, else at that of the costs, else at 8:00. */
static void a_dated_load_starts_at_the_hour_that_is_told(void **state)
{
    (void)state;
    static const struct {
        const char *told;
        int minute;
        bool assumed;
    } rows[] = {{"\"start\": \"19:30\", \"costs\": {\"start\": \"2026-01-01 06:15\"}", 1170, false},
                {"\"costs\": {\"start\": \"2026-01-01 06:15\"}", 375, false},
                {"\"title\": \"x\"", 480, true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ks_arena arena = {0};
        ks_load load = {.day = 20000};
        const char *rest = ks_arena_print(&arena, "%s" SOME_WARE, rows[i].told);
        ks_start start = ks_load_start(read_order(rest, &arena), &load);
        assert_int_equal(start.local_min, 20000 * 1440 + rows[i].minute);
        assert_int_equal(start.clock_assumed, rows[i].assumed);
        ks_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_studios_hours_are_read_and_come_back_from_a_plan),
        cmocka_unit_test(the_zone_is_found_in_its_old_place_too),
        cmocka_unit_test(slips_are_told_with_what_would_be_right),
        cmocka_unit_test(a_dated_load_starts_at_the_hour_that_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
