#include "check.h"

#include "place/small_order.h"

/* No level is built for nothing: all shelves and posts of a plan carry ware, or a wish by number.
 */

static int bare_levels(const ks_plan *plan)
{
    int bare = 0;
    for (int l = 0; l < plan->n_loads; l++)
        for (int v = 0; v < plan->loads[l].n_levels; v++) {
            int ware = 0;
            for (int i = 0; i < plan->loads[l].levels[v].n_pieces; i++)
                ware += plan->loads[l].levels[v].pieces[i].role != KS_CONES;
            bare += ware == 0;
        }
    return bare;
}

static void a_bowl_alone_gets_one_shelf(void **state)
{
    small_order s;
    small_begun(&s, 460, 4, 0, 1);
    cones_wanted(&s);
    cylinder_added(&s, "bowl", 90, 80, 1);
    ks_plan *plan = planned(&s, 4, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "bowl"), 1);
    assert_int_equal(plan->loads[0].n_levels, 1);
    assert_int_equal(plan->loads[0].n_posts, 3); /* those that keep the shelf off the floor */
    ks_arena_finish(&s.arena);
}

static void two_cups_and_some_tiles_leave_no_level_bare(void **state)
{
    for (uint64_t seed = 1; seed <= 6; seed++) {
        small_order s;
        small_begun(&s, 460, 4, seed < 4 ? 0 : 4, 1);
        if (seed % 2 == 0)
            cones_wanted(&s);
        cylinder_added(&s, "cup", 40, 95, 2);
        cylinder_added(&s, "tile", 60, 10, 7);
        ks_plan *plan = planned(&s, 3, 1, seed);
        assert_int_equal(rules_broken(&s, plan), 0);
        assert_int_equal(pieces_in(plan), 9);
        assert_int_equal(bare_levels(plan), 0);
        assert_true(seed >= 4 || plan->loads[0].n_levels <= 2);
        ks_arena_finish(&s.arena);
    }
}

/* Two levels half full each, of ware that has room on one. */
static void half_full_levels_become_one(void **state)
{
    small_order s;
    small_begun(&s, 460, 4, 0, 1);
    cylinder_added(&s, "jar", 45, 140, 5);
    cylinder_added(&s, "cup", 40, 60, 5);
    ks_plan *plan = planned(&s, 3, 1, 2);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(pieces_in(plan), 10);
    assert_int_equal(plan->loads[0].n_levels, 1);
    ks_arena_finish(&s.arena);
}

static void a_wish_by_number_keeps_the_levels_below_it(void **state)
{
    small_order s;
    small_begun(&s, 460, 4, 0, 1);
    ks_piece *jar = cylinder_added(&s, "jar", 50, 100, 1);
    jar->keep = (ks_keep){.kept = true, .load = 0, .level = 1, .bay = "", .stand = {0, 0, 0}};
    ks_plan *plan = planned(&s, 2, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "jar"), 1);
    assert_int_equal(plan->loads[0].n_levels, 2);
    assert_int_equal(bare_levels(plan), 1);
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_bowl_alone_gets_one_shelf),
        cmocka_unit_test(two_cups_and_some_tiles_leave_no_level_bare),
        cmocka_unit_test(half_full_levels_become_one),
        cmocka_unit_test(a_wish_by_number_keeps_the_levels_below_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
