#include "check.h"

#include "place/small_order.h"
#include "studio/late_ware.h"

#include <stdio.h>

/* What is due goes into a load that opens in time if any can take it; what is late is told. Two
 * loads of one kiln, five days apart, and ware of one kind for which either has room. */

enum { FIRST_DAY = 20000, SECOND_DAY = FIRST_DAY + 5 };

static ks_plan *planned_by(small_order *s, ks_load_hours hours, uint64_t seed)
{
    ks_place_options options = ks_place_default();
    ks_placing *placing;
    ks_progress progress;
    ks_plan *plan;
    bool more = true;
    options.rounds = 2;
    options.seed = seed;
    options.hours = &hours;
    assert_int_equal(ks_placing_create(&s->order, &options, &placing, NULL), KS_OK);
    while (more)
        assert_int_equal(ks_placing_step(placing, &more, &progress, NULL), KS_OK);
    assert_int_equal(ks_placing_best(placing, "rounds", &s->arena, &plan, NULL), KS_OK);
    ks_placing_destroy(placing);
    return plan;
}

static void two_dated_loads(small_order *s)
{
    small_begun(s, 250, 1, 0, 2);
    s->order.slots[0].day = FIRST_DAY;
    s->order.slots[1].day = SECOND_DAY;
    cylinder_added(s, "large", 180, 200, 6);
}

static int copies_in(const ks_plan *plan, int load, const char *id)
{
    int n = 0;
    for (int l = 0; load < plan->n_loads && l < plan->loads[load].n_levels; l++)
        for (int p = 0; p < plan->loads[load].levels[l].n_pieces; p++)
            n += strcmp(plan->loads[load].levels[l].pieces[p].id, id) == 0;
    return n;
}

/* 08:00 and 58 hours: 18:00 two days later. */
static void ware_is_in_time_up_to_18_00(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 3; seed++)
        for (int over = 0; over < 2; over++) {
            small_order s;
            ks_late_ware *late;
            two_dated_loads(&s);
            cylinder_added(&s, "due", 60, 60, 2)->due_day = FIRST_DAY + 2;
            ks_plan *plan = planned_by(&s, (ks_load_hours){9, 10, 58 + over}, seed);
            assert_int_equal(copies_in(plan, 0, "due"), 2);
            assert_int_equal(ks_late_ware_find(plan, &s.arena, &late), over);
            ks_arena_finish(&s.arena);
        }
}

static void what_is_late_is_told_and_remarked(void **state)
{
    (void)state;
    small_order s;
    ks_late_ware *late;
    ks_check_report report;
    two_dated_loads(&s);
    cylinder_added(&s, "due", 60, 60, 2)->due_day = FIRST_DAY;
    ks_plan *plan = planned_by(&s, (ks_load_hours){9, 10, 58}, 1);
    assert_int_equal(ks_late_ware_find(plan, &s.arena, &late), 1);
    assert_non_null(strstr(ks_late_ware_words(plan, late, &s.arena),
                           "2 x due, due by 2024-10-04 18:00, opens by 2024-10-"));
    ks_check(plan, &s.arena, &report);
    assert_true(report.ok);
    bool remarked = false;
    for (int i = 0; i < report.n_remarks; i++)
        remarked = remarked || strcmp(report.remarks[i].rule, "due") == 0;
    assert_true(remarked);
    ks_arena_finish(&s.arena);
}

static void the_plan_tells_its_times(void **state)
{
    (void)state;
    small_order s;
    two_dated_loads(&s);
    s.order.start_told = true;
    s.order.start_min = 20 * 60;
    ks_plan *plan = planned_by(&s, (ks_load_hours){9, 10, 58}, 1);
    const char *text = ks_plan_json(plan, &s.arena);
    assert_non_null(strstr(text, "\"times\": {\"on\": \"2024-10-04 20:00\", \"cone_down\": "
                                 "\"2024-10-05 05:00\", \"ended\": \"2024-10-05 06:00\", "
                                 "\"open\": \"2024-10-07 06:00\"}"));
    ks_arena_finish(&s.arena);
}

/* One kiln, one level, and two kinds of which either fills it: the larger unless the other waited.
 */
static void what_two_plans_left_out_goes_first(void **state)
{
    (void)state;
    for (int times = 0; times <= 3; times++) {
        small_order s;
        small_begun(&s, 250, 1, 0, 1);
        cylinder_added(&s, "larger", 160, 200, 1);
        cylinder_added(&s, "smaller", 125, 200, 1)->waited = times;
        ks_plan *plan = planned_by(&s, (ks_load_hours){9, 10, 58}, 1);
        assert_int_equal(copies_in(plan, 0, "smaller"), times >= 2);
        assert_int_equal(copies_in(plan, 0, "larger"), times < 2);
        ks_arena_finish(&s.arena);
    }
}

/* It goes before what is due, and not before what must go. */
static void what_has_waited_goes_before_dates_and_after_musts(void **state)
{
    (void)state;
    for (int must = 0; must < 2; must++) {
        small_order s;
        small_begun(&s, 250, 1, 0, 1);
        s.order.slots[0].day = FIRST_DAY;
        ks_piece *due = cylinder_added(&s, "due", 160, 200, 1);
        due->due_day = FIRST_DAY + 4;
        due->must_go = must;
        cylinder_added(&s, "waited", 125, 200, 1)->waited = 2;
        ks_plan *plan = planned_by(&s, (ks_load_hours){9, 10, 58}, 1);
        assert_int_equal(copies_in(plan, 0, "waited"), !must);
        ks_arena_finish(&s.arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ware_is_in_time_up_to_18_00),
        cmocka_unit_test(what_is_late_is_told_and_remarked),
        cmocka_unit_test(the_plan_tells_its_times),
        cmocka_unit_test(what_two_plans_left_out_goes_first),
        cmocka_unit_test(what_has_waited_goes_before_dates_and_after_musts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
