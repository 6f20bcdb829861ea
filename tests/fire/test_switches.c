/* Kilns without a controller, controllers that hold few segments, and a kiln's own ways. */
#include "check.h"

#include "fire/merge.h"
#include "kilns.h"

#include <string.h>

static plain_firing glaze_6(void)
{
    plain_firing f = plain_198();
    f.stage = KS_GLAZED;
    f.cone = "6";
    return f;
}

static void switches_bring_the_ware_to_its_cone(void **state)
{
    plain_firing f = glaze_6();
    plain_case c;
    plain_case_make(&f, &c);
    c.kiln.heat.control = KS_BY_SWITCHES;
    c.options.schedule = NULL;
    c.options.cooling = c.options.range = true;
    ks_firing_result r = plain_fire(&c);
    assert_true(r.reached);
    assert_int_equal(r.n_segments, 0);
    assert_true(r.n_turns >= 3 && r.n_turns <= 12);
    assert_true(r.turns[0].lid_propped);
    for (int i = 1; i < r.n_turns; i++)
        assert_true(r.turns[i].at_h > r.turns[i - 1].at_h);
    const ks_turn *off = &r.turns[r.n_turns - 1];
    check_near(off->part, 0, 0);
    check_near(off->at_h, r.cone_down_h, 0.01);
    assert_non_null(strstr(off->look, "cone 5.5 goes first"));
    assert_false(off->lid_propped);
    assert_true(r.low_kwh > 0.6 * r.energy.total && r.high_kwh < 1.6 * r.energy.total);
    assert_true(r.ledger_residual < 1e-6);
    ks_arena_finish(&c.arena);
}

/* Two coils of a switch in series take a quarter of what they take side by side: V^2 / 2R against
 * 2 V^2 / R. */
static void a_turn_tells_its_part_of_the_power(void **state)
{
    plain_firing f = glaze_6();
    plain_case c;
    plain_case_make(&f, &c);
    c.kiln.heat.control = KS_BY_SWITCHES;
    ks_firing_result r = plain_fire(&c);
    for (int i = 0; i < r.n_turns; i++) {
        const ks_turn *turn = &r.turns[i];
        double part = strstr(turn->set, "bottom switch low")       ? 0.25 / 3
                      : strstr(turn->set, "lowest 2 switches low") ? 0.5 / 3
                      : strstr(turn->set, "others low")            ? NAN
                      : strstr(turn->set, "low")                   ? 0.25
                      : strstr(turn->set, "medium")                ? 0.5
                      : strstr(turn->set, "high")                  ? 1
                                                                   : 0;
        if (!isnan(part))
            check_near(turn->part, part, 1e-9);
    }
    ks_arena_finish(&c.arena);
}

/* What a hold does to the kiln says nothing of the next turn: none is turned past what its ware
 * bears, a half hour at a time. */
static void nobody_turns_up_past_what_the_ware_bears(void **state)
{
    plain_firing f = glaze_6();
    plain_case c;
    plain_case_make(&f, &c);
    ks_segment segments[] = {{100, 120, 0.25}, {80, 1270, 0}};
    c.schedule.segments = segments;
    c.schedule.n_segments = 2;
    c.kiln.heat.control = KS_BY_SWITCHES;
    ks_firing_result r = plain_fire(&c);
    for (int i = 1, from = 0; i < r.n_points && r.points[i].chamber_c < 900; i++) {
        while (r.points[i].time_h - r.points[from].time_h > 0.51)
            from++;
        if (r.points[from].time_h > 2) /* 40 K asked in half an hour, and what it lagged before */
            assert_true(r.points[i].edge_c[1] - r.points[from].edge_c[1] < 130);
    }
    ks_arena_finish(&c.arena);
}

static void thick_dry_by_hand(double wall_mm, plain_case *c)
{
    plain_firing f = plain_198();
    f.stage = KS_DRY;
    f.cone = "06";
    plain_case_make(&f, c);
    c->bulk.wall_mm = wall_mm;
    c->kiln.heat.control = KS_BY_SWITCHES;
    c->options.schedule = NULL;
}

/* Which turn is the end of heating. */
static int off_at(const ks_firing_result *r)
{
    int i = 0;
    while (r->turns[i].part > 0)
        i++;
    return i;
}

/* 25 mm of dry clay bear 42 K/h where quartz grows: switches are turned up one by one until no wall
 * is asked more while it heats; the turns keep half hours. */
static void thick_work_is_turned_up_as_slowly_as_a_controller_would(void **state)
{
    plain_case c;
    thick_dry_by_hand(25, &c);
    ks_firing_result r = plain_fire(&c);
    assert_true(r.reached);
    bool one_by_one = false;
    for (int i = 0; i < r.n_turns; i++)
        one_by_one = one_by_one || strstr(r.turns[i].set, "bottom switch medium, others low");
    assert_true(one_by_one);
    assert_int_equal(r.n_strains, 0);
    for (int i = 0; i < off_at(&r); i++) /* nobody has to stay by it */
        check_near(r.turns[i].toward_k_h, 0, 0);
    c.kiln.heat.control = KS_BY_CONTROLLER;
    assert_true(r.hours < 1.6 * plain_fire(&c).hours);
    ks_arena_finish(&c.arena);
}

/* 25 mm bear 60 K/h where quartz shrinks, and the kiln falls at 90: it is turned on again on the
 * way, and what the meter leaves open repeats that as long after the end as it was. */
static void thick_work_is_cooled_by_hand_no_faster_than_it_bears(void **state)
{
    plain_case c;
    thick_dry_by_hand(25, &c);
    c.options.cooling = c.options.range = true;
    ks_firing_result r = plain_fire(&c);
    int off = off_at(&r);
    assert_true(off + 2 < r.n_turns);
    check_near(r.turns[off].at_h, r.cone_down_h, 0.05);
    assert_non_null(strstr(r.turns[off].look, "goes first"));
    assert_true(r.turns[off + 1].part > 0 && r.turns[off + 1].at_c > 549);
    check_near(r.turns[r.n_turns - 1].part, 0, 0);
    check_near(r.hours, r.turns[r.n_turns - 1].at_h, 1e-6);
    assert_true(r.open_low_h > r.open_after_hours - 6 && r.open_high_h < r.open_after_hours + 6);
    ks_arena_finish(&c.arena);
}

/* 40 mm bear 16 K/h there, less than the least step of such switches makes of it: that part of the
 * way is minded, the limits hold, and it is said that somebody has to be there. */
static void what_no_position_is_slow_enough_for_is_minded(void **state)
{
    plain_case c;
    thick_dry_by_hand(40, &c);
    ks_firing_result r = plain_fire(&c);
    assert_true(r.reached);
    assert_int_equal(r.n_strains, 0);
    int minded = 0, told = 0;
    for (int i = 0; i < off_at(&r); i++)
        minded += r.turns[i].toward_k_h > 0 && r.turns[i].at_c < 560 && r.turns[i + 1].at_c > 570;
    for (int i = 0; i < r.n_special; i++)
        told += strstr(r.cautions[i], "somebody stays with it") != NULL;
    assert_int_equal(minded, 1);
    assert_int_equal(told, 1);
    ks_arena_finish(&c.arena);
}

/* Whoever tells no range does not pay for it, and says none. */
static void a_range_is_worked_out_only_where_it_is_asked_for(void **state)
{
    plain_firing f = glaze_6();
    plain_case c;
    plain_case_make(&f, &c);
    const ks_fire_options usual = ks_fire_default();
    assert_false(usual.range || usual.pace);
    ks_firing_result r = plain_fire(&c);
    assert_int_equal(r.n_doubts, 0);
    assert_null(strstr(r.verdict, "kWh ("));
    c.options.range = true;
    assert_non_null(strstr(plain_fire(&c).verdict, "kWh ("));
    ks_arena_finish(&c.arena);
}

static void a_kiln_too_weak_for_its_cone_says_so_by_hand_too(void **state)
{
    plain_firing f = glaze_6();
    f.kw = 3.5;
    plain_case c;
    plain_case_make(&f, &c);
    c.kiln.heat.control = KS_BY_SWITCHES;
    ks_firing_result r = plain_fire(&c);
    assert_false(r.reached);
    assert_true(r.hours < 121);
    assert_non_null(strstr(r.verdict, "not reached"));
    ks_arena_finish(&c.arena);
}

static void few_segments_keep_the_holds_and_the_slower_rates(void **state)
{
    ks_arena arena = {0};
    ks_segment segments[] = {{60, 90, 2},   {100, 260, 0}, {120, 500, 0},
                             {50, 610, 0},  {150, 850, 1}, {200, 1100, 0},
                             {60, 1200, 0}, {0, 600, 0},   {-40, 500, 0}};
    const char *reasons[] = {"a", "b", "c", "d", "e", "f", "g", "h", "i"};
    const char *holds[] = {"water", "", "", "", "carbon", "", "", "", ""};
    ks_worked_schedule w = {.schedule = {.id = "x", .n_segments = 9, .segments = segments},
                            .reasons = reasons,
                            .holds = holds};
    ks_schedule_merge(&w, 7, &arena);
    const ks_schedule *s = &w.schedule;
    assert_int_equal(s->n_segments, 7);
    check_near(s->segments[0].hold_h, 2, 0);
    /* 100 to 260 and 120 to 500 cost the least as one: 240 K at 100 in place of 120 K/h, 0.4 h */
    check_near(s->segments[1].rate_c_h, 100, 0);
    check_near(s->segments[1].target_c, 500, 0);
    check_near(s->segments[3].hold_h, 1, 0);
    assert_non_null(strstr(w.merged, "holds 7 segments, 9 would be best"));
    for (int i = 0; i + 1 < s->n_segments; i++)
        assert_true(s->segments[i].target_c != s->segments[i + 1].target_c);
    ks_schedule_merge(&w, 2, &arena);
    assert_true(s->n_segments >
                2); /* rise, hold, rise, fall: never over a hold, never over the top */
    assert_non_null(strstr(w.merged, "second programme"));
    /* from 90 to 850 C at the 50 K/h of the fourth, and its hold is still that of the fifth */
    check_near(s->segments[1].rate_c_h, 50, 0);
    assert_string_equal(w.reasons[1], "d");
    assert_string_equal(w.holds[1], "carbon");
    ks_arena_finish(&arena);
}

static void a_kilns_own_vent_and_cooling_are_what_the_options_would_be(void **state)
{
    plain_firing f = plain_198();
    f.vent_m3_h = 2.5;
    plain_case told, asked;
    plain_case_make(&f, &told);
    plain_case_make(&f, &asked);
    told.options.cooling = asked.options.cooling = true;
    told.kiln.heat.vent_off_c = 600;
    told.kiln.heat.cool_by = KS_COOLS_LID_OPEN;
    told.kiln.heat.cool_from_c = 300;
    asked.options.vent_off_c = 600;
    asked.options.cool_by = KS_COOLS_LID_OPEN;
    asked.options.cool_from_c = 300;
    ks_firing_result a = plain_fire(&told), b = plain_fire(&asked);
    check_near(a.energy.total, b.energy.total, 0);
    check_near(a.open_after_hours, b.open_after_hours, 0);
    told.options.cool_by = KS_COOLS_SHUT; /* an option goes before the file */
    assert_true(plain_fire(&told).open_after_hours > a.open_after_hours + 1);
    ks_arena_finish(&told.arena);
    ks_arena_finish(&asked.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(switches_bring_the_ware_to_its_cone),
        cmocka_unit_test(a_turn_tells_its_part_of_the_power),
        cmocka_unit_test(nobody_turns_up_past_what_the_ware_bears),
        cmocka_unit_test(thick_work_is_turned_up_as_slowly_as_a_controller_would),
        cmocka_unit_test(thick_work_is_cooled_by_hand_no_faster_than_it_bears),
        cmocka_unit_test(what_no_position_is_slow_enough_for_is_minded),
        cmocka_unit_test(a_range_is_worked_out_only_where_it_is_asked_for),
        cmocka_unit_test(a_kiln_too_weak_for_its_cone_says_so_by_hand_too),
        cmocka_unit_test(few_segments_keep_the_holds_and_the_slower_rates),
        cmocka_unit_test(a_kilns_own_vent_and_cooling_are_what_the_options_would_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
