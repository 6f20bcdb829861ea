#include "check.h"

#include "place/small_order.h"
#include "studio/left_out.h"

/* What waits is told why in words for anyone, and does not wait where it finds room as things are.
 */

/* More of everything than one small load takes. */
static void too_much(small_order *s, int seed)
{
    small_begun(s, 300 + 20 * (seed % 4), 3, seed % 2 ? 4 : 0, 1);
    cylinder_added(s, "tea bowl", 32 + 3 * (seed % 5), 60, 30);
    cylinder_added(s, "cup", 24 + 4 * (seed % 3), 45 + 10 * (seed % 4), 30);
    cylinder_added(s, "jar", 52, 110 + 10 * (seed % 3), 6);
    for (int i = 0; i < s->order.n_pieces; i++)
        s->order.pieces[i].turn_step_deg = 90; /* which changes nothing for round ware */
}

static const ks_left_out *left_kind(const ks_plan *plan, int piece)
{
    for (int i = 0; i < plan->n_left_out; i++)
        if (plan->left_out[i].piece == piece)
            return &plan->left_out[i];
    return NULL;
}

/* The room that `list room` finds in a plan is never room for what waits. */
static void what_finds_room_does_not_wait(void **state)
{
    (void)state;
    int waiting = 0;
    for (int seed = 1; seed <= 8; seed++) {
        small_order s;
        ks_load_room *rooms;
        ks_error err = {0};
        too_much(&s, seed);
        ks_plan *plan = planned(&s, 1, 1, (uint64_t)seed);
        assert_int_equal(rules_broken(&s, plan), 0);
        plan->order = &s.order;
        assert_int_equal(ks_place_room(plan, &s.arena, &rooms, &err), KS_OK);
        for (int k = 0; k < rooms[0].n_kinds; k++)
            if (left_kind(plan, rooms[0].kinds[k].piece))
                fail_msg("seed %d: %d more \"%s\" would go in", seed, rooms[0].kinds[k].copies,
                         s.order.pieces[rooms[0].kinds[k].piece].id);
        waiting += plan->n_left_out;
        ks_arena_finish(&s.arena);
    }
    assert_true(waiting > 8);
}

static void reasons_are_words_for_anyone(void **state)
{
    (void)state;
    static const char *const never[] = {"worth", "displaced", "rounds", "turned"};
    small_order s;
    too_much(&s, 1);
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_true(plan->n_left_out > 0);
    for (int i = 0; i < plan->n_left_out; i++) {
        const ks_left_out *left = &plan->left_out[i];
        const char *why = ks_left_out_why(left, &s.order.display, &s.arena);
        const char *change = ks_left_out_nearest(left, &s.order.display, &s.arena);
        assert_string_equal(ks_left_out_kind(left), "no room left this time");
        for (size_t w = 0; w < sizeof never / sizeof *never; w++)
            assert_true(!strstr(change, never[w]) && !strstr(why, never[w]));
    }
    ks_arena_finish(&s.arena);
}

/* A set of three of which each goes in by itself, but no load has room for all. */
static void a_set_is_told_as_a_set(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 160, 1, 0, 2);
    for (int i = 0; i < 3; i++)
        cylinder_added(&s, i == 0 ? "big" : i == 1 ? "broad" : "wide", 95, 60, 2)->set = "service";
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_int_equal(plan->n_left_out, 3);
    for (int i = 0; i < 3; i++) {
        assert_int_equal(plan->left_out[i].rule.name, KS_WHY_SET);
        assert_int_equal(plan->left_out[i].change.name, KS_CHANGE_NONE);
    }
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_finds_room_does_not_wait),
        cmocka_unit_test(reasons_are_words_for_anyone),
        cmocka_unit_test(a_set_is_told_as_a_set),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
