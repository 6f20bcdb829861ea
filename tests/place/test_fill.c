#include "check.h"

#include "place/small_order.h"

/* Ware counted as "fill": as many as fit, after all counted ware. */

static ks_piece *fill_added(small_order *s, const char *id, double radius, double height)
{
    ks_piece *piece = cylinder_added(s, id, radius, height, 0);
    piece->fill = true;
    piece->mass_kg = 0.1; /* light: the shelves bear all that finds room */
    return piece;
}

static void mixed_order(small_order *s, int seed)
{
    small_begun(s, 300, 3, 2, 1 + seed % 2);
    fill_added(s, "cup", 26, 55);
    for (int i = 0; i < 5; i++)
        cylinder_added(s, ks_arena_print(&s->arena, "p%d", i), 30 + 9 * ((seed + 3 * i) % 7),
                       40 + 17 * ((2 * seed + i) % 6), 1 + (seed + i) % 5 * (seed % 3));
    fill_added(s, "test tile", 15, 70);
}

static void it_takes_nothing_from_what_is_counted(void **state)
{
    int filled = 0;
    for (int seed = 1; seed <= 6; seed++) {
        small_order s;
        mixed_order(&s, seed);
        const ks_plan *with = planned(&s, 3, 1, (uint64_t)seed);
        assert_int_equal(rules_broken(&s, with), 0);
        assert_null(left_of(with, "cup"));
        assert_true(with->worth <= with->bound * (1 + 1e-9));
        assert_int_equal(ks_plan_placed(with) + ks_plan_filled(with), pieces_in(with));
        filled += ks_plan_filled(with);
        for (int i = 0; i < s.order.n_pieces; i++)
            s.order.pieces[i].locked_out = s.order.pieces[i].fill;
        const ks_plan *without = planned(&s, 3, 1, (uint64_t)seed);
        assert_int_equal(ks_plan_filled(without), 0);
        assert_true(with->worth >= without->worth - 1e-9);
        assert_true(with->n_loads <= without->n_loads);
        assert_true(ks_plan_placed(with) >= 1);
        ks_arena_finish(&s.arena);
    }
    assert_true(filled > 60);
}

static void the_first_plan_has_it_beside_what_is_counted(void **state)
{
    small_order s;
    small_begun(&s, 120, 1, 0, 1);
    cylinder_added(&s, "pot", 100, 80, 1);
    fill_added(&s, "cup", 25, 60);
    const ks_plan *plan = planned(&s, 0, 1, 1);
    assert_int_equal(ks_plan_placed(plan), 1);
    assert_in_range(ks_plan_filled_of(plan, 1), 15, 49 - 4); /* 49 in rows, had they it alone */
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

static void levels_that_counted_ware_leaves_empty_are_built_for_it(void **state)
{
    small_order s;
    small_begun(&s, 300, 3, 0, 1);
    cylinder_added(&s, "bowl", 90, 60, 2);
    fill_added(&s, "cup", 25, 60);
    const ks_plan *plan = planned(&s, 4, 1, 1);
    assert_int_equal(ks_plan_placed(plan), 2);
    assert_true(plan->loads[0].n_levels >= 3);
    assert_true(ks_plan_filled(plan) > 80);
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

static void it_makes_no_firing_of_its_own_unless_nothing_is_counted(void **state)
{
    small_order s;
    small_begun(&s, 120, 1, 0, 3);
    fill_added(&s, "cup", 25, 60);
    const ks_plan *alone = planned(&s, 2, 1, 1);
    assert_int_equal(alone->n_loads, 3);
    assert_int_equal(rules_broken(&s, alone), 0);
    check_near(alone->worth, 0, 0);
    check_near(alone->bound, 0, 0);
    cylinder_added(&s, "pot", 60, 80, 1);
    const ks_plan *plan = planned(&s, 2, 1, 1);
    assert_int_equal(plan->n_loads, 1);
    assert_true(ks_plan_filled(plan) > 20);
    ks_arena_finish(&s.arena);
}

static void quotas_and_keeping_apart_hold_for_it_too(void **state)
{
    small_order s;
    ks_apart apart = {1, 2, true};
    ks_member member = {.id = "ada", .name = "Ada", .initials = "A", .quota_pieces = 5};
    small_begun(&s, 120, 1, 0, 1);
    s.order.rules.apart = &apart;
    s.order.members = &member;
    s.order.n_members = s.order.rules.n_apart = 1;
    cylinder_added(&s, "white", 30, 60, 3)->tags = 1;
    fill_added(&s, "fuming", 25, 60)->tags = 2;
    fill_added(&s, "ada's", 25, 60)->owner = "ada";
    s.order.pieces[0].owner = "ada";
    const ks_plan *plan = planned(&s, 2, 1, 1);
    assert_int_equal(ks_plan_placed(plan), 3);
    assert_int_equal(ks_plan_filled_of(plan, 1), 0);
    assert_int_equal(ks_plan_filled_of(plan, 2), 2);
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

static void any_number_of_it_is_right_but_none_waits(void **state)
{
    small_order s;
    small_begun(&s, 120, 1, 0, 1);
    cylinder_added(&s, "pot", 60, 80, 1);
    fill_added(&s, "cup", 25, 60);
    ks_plan *plan = planned(&s, 0, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_left_out waits = {
        .piece = 1, .id = "cup", .count = 1, .why = "no room left this time", .nearest = ""};
    plan->left_out = &waits;
    plan->n_left_out = 1;
    assert_int_equal(rules_broken(&s, plan), 1);
    plan->n_left_out = 0;
    ks_level *level = &plan->loads[0].levels[0];
    for (int i = 0; i < level->n_pieces; i++)
        if (level->pieces[i].piece == 1 && level->pieces[i].copy == 2)
            level->pieces[i].copy = 1;
    assert_int_equal(rules_broken(&s, plan), 1);
    ks_arena_finish(&s.arena);
}

static void threads_change_nothing(void **state)
{
    small_order s;
    mixed_order(&s, 3);
    const char *one = ks_plan_json(planned(&s, 2, 1, 7), &s.arena);
    assert_string_equal(one, ks_plan_json(planned(&s, 2, 3, 7), &s.arena));
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_takes_nothing_from_what_is_counted),
        cmocka_unit_test(the_first_plan_has_it_beside_what_is_counted),
        cmocka_unit_test(levels_that_counted_ware_leaves_empty_are_built_for_it),
        cmocka_unit_test(it_makes_no_firing_of_its_own_unless_nothing_is_counted),
        cmocka_unit_test(quotas_and_keeping_apart_hold_for_it_too),
        cmocka_unit_test(any_number_of_it_is_right_but_none_waits),
        cmocka_unit_test(threads_change_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
