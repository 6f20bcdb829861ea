#include "check.h"

#include "place/small_order.h"

/* A plan is there after the first step, before any round, and keeps every rule. */
static void the_first_step_is_no_round_and_hands_out_a_plan(void **state)
{
    small_order s;
    small_begun(&s, 420, 4, 0, 2);
    for (int i = 0; i < 6; i++)
        cylinder_added(&s, ks_arena_print(&s.arena, "p%d", i), 40 + 8 * i, 60 + 20 * i, 12);
    ks_place_options options = ks_place_default();
    ks_placing *placing;
    ks_progress progress;
    ks_plan *plan;
    ks_error err;
    bool more;
    assert_int_equal(ks_placing_create(&s.order, &options, &placing, &err), KS_OK);
    assert_int_equal(ks_placing_step(placing, &more, &progress, &err), KS_OK);
    assert_int_equal(progress.round, 0);
    assert_true(more && progress.placed > 0);
    assert_int_equal(ks_placing_best(placing, "rounds", &s.arena, &plan, &err), KS_OK);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_true(plan->n_loads > 0 && plan->loads_at_least <= plan->n_loads);
    ks_placing_destroy(placing);
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_step_is_no_round_and_hands_out_a_plan),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
