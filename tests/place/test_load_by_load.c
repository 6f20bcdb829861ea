#include "check.h"

#include "base/random.h"
#include "place/small_order.h"

#include <math.h>

/* Several loads planned one after another, and what is told of one load fewer. */

static void ware_drawn(small_order *s, int loads)
{
    ks_random random = ks_random_of(9, 60);
    small_begun(s, 420, 4, 0, loads);
    for (int i = 0; i < 16; i++) {
        double radius = floor(ks_random_between(&random, 28, 85));
        double height = floor(ks_random_between(&random, 30, 190));
        cylinder_added(s, ks_arena_print(&s->arena, "p%d", i), radius, height, 6);
    }
}

/* The best plan, and the one with a load fewer. */
static ks_plan *planned_both(small_order *s, int loads, ks_plan **fewer)
{
    ks_place_options options = ks_place_default();
    ks_placing *placing = NULL;
    ks_progress progress;
    ks_error err = {0};
    ks_plan *plan = NULL;
    options.rounds = 8;
    options.loads = loads;
    assert_int_equal(ks_placing_create(&s->order, &options, &placing, &err), KS_OK);
    for (bool more = true; more;)
        assert_int_equal(ks_placing_step(placing, &more, &progress, &err), KS_OK);
    assert_int_equal(ks_placing_best(placing, "rounds", &s->arena, &plan, &err), KS_OK);
    *fewer = ks_placing_one_load_fewer(placing, &s->arena);
    ks_placing_destroy(placing);
    return plan;
}

static void one_load_fewer_is_told_and_written_when_asked_for(void **state)
{
    small_order s;
    ware_drawn(&s, 6);
    ks_plan *fewer, *even_fewer, *best = planned_both(&s, 0, &fewer);
    assert_int_equal(best->n_left_out, 0);
    assert_non_null(fewer);
    assert_int_equal(fewer->n_loads, best->n_loads - 1);
    assert_true(ks_plan_waiting(fewer) > 0);
    assert_int_equal(ks_plan_placed(fewer) + ks_plan_waiting(fewer), ks_plan_placed(best));
    assert_int_equal(rules_broken(&s, fewer), 0);
    ks_plan *asked = planned_both(&s, fewer->n_loads, &even_fewer);
    assert_int_equal(asked->n_loads, fewer->n_loads);
    assert_true(asked->worth >= fewer->worth - 1e-9);
    assert_int_equal(rules_broken(&s, asked), 0);
    ks_arena_finish(&s.arena);
}

static void no_plan_has_more_loads_than_asked_for(void **state)
{
    for (int rounds = 0; rounds < 3; rounds++) {
        small_order s;
        ware_drawn(&s, 4);
        ks_place_options options = ks_place_default();
        int stayed, of;
        options.rounds = rounds;
        options.loads = 2;
        ks_plan *plan = planned_with(&s, &options, &stayed, &of);
        assert_int_equal(plan->n_loads, 2);
        assert_int_equal(rules_broken(&s, plan), 0);
        ks_arena_finish(&s.arena);
    }
}

static void one_load_has_none_fewer(void **state)
{
    small_order s;
    ware_drawn(&s, 1);
    ks_plan *fewer;
    assert_int_equal(planned_both(&s, 0, &fewer)->n_loads, 1);
    assert_null(fewer);
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_load_fewer_is_told_and_written_when_asked_for),
        cmocka_unit_test(no_plan_has_more_loads_than_asked_for),
        cmocka_unit_test(one_load_has_none_fewer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
