#include "check.h"

#include "place/small_order.h"
#include "studio/owner_count.h"

#include <stdio.h>

/* A class: each child has made three pieces, more than go in; those of one half are low, and so
 * worth less for their room. */

enum { CHILDREN = 20 };

static void class_made(small_order *s, bool fair)
{
    static const double radius[] = {52, 46, 49};
    small_begun(s, 240, 3, 0, 1);
    s->order.rules.fair = fair;
    for (int c = 0; c < CHILDREN; c++)
        for (int k = 0; k < 3; k++) {
            const char *id = ks_arena_print(&s->arena, "child %d, %d", c, k);
            double height = c < CHILDREN / 2 ? 80 : 35;
            ks_piece *piece = cylinder_added(s, id, radius[k] + c % 4, height + c % 5, 1);
            piece->owner = ks_arena_print(&s->arena, "child %d", c);
        }
}

static int with_nothing(const ks_plan *plan, ks_arena *arena)
{
    ks_owner_count *counts;
    int n = ks_owner_counts(plan, arena, &counts), none = 0;
    assert_int_equal(n, CHILDREN);
    for (int i = 0; i < n; i++) {
        assert_int_equal(counts[i].wanted, 3);
        none += counts[i].placed == 0;
    }
    return none;
}

static void no_child_goes_home_with_nothing(void **state)
{
    for (uint64_t seed = 1; seed <= 2; seed++) {
        small_order s;
        class_made(&s, true);
        ks_plan *plan = planned(&s, 3, 2, seed);
        assert_int_equal(with_nothing(plan, &s.arena), 0);
        assert_int_equal(rules_broken(&s, plan), 0);
        ks_arena_finish(&s.arena);
    }
}

/* So that the class is one in which fairness decides something. */
static void without_the_rule_some_child_would(void **state)
{
    small_order s;
    class_made(&s, false);
    assert_true(with_nothing(planned(&s, 3, 2, 1), &s.arena) > 0);
    ks_arena_finish(&s.arena);
}

static void threads_do_not_change_a_fair_plan(void **state)
{
    small_order s;
    class_made(&s, true);
    const char *one = ks_plan_json(planned(&s, 2, 1, 7), &s.arena),
               *three = ks_plan_json(planned(&s, 2, 3, 7), &s.arena);
    assert_string_equal(one, three);
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_child_goes_home_with_nothing),
        cmocka_unit_test(without_the_rule_some_child_would),
        cmocka_unit_test(threads_do_not_change_a_fair_plan),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
