#include "check.h"

#include "place/small_order.h"

/* Bays of half shelves beside whole ones: staggered heights, forks, shared posts. */

static int levels_in(const ks_plan *plan, const char *bay)
{
    int n = 0;
    for (int k = 0; k < plan->loads[0].n_levels; k++)
        n += strcmp(plan->loads[0].levels[k].bay, bay) == 0;
    return n;
}

static void bays_of_half_shelves_go_up_at_heights_of_their_own(void **state)
{
    small_order s;
    small_begun(&s, 400, 0, 6, 1);
    cylinder_added(&s, "tall", 60, 340, 3);
    cylinder_added(&s, "cup", 40, 60, 24);
    ks_plan *plan = planned(&s, 8, 1, 1);
    assert_int_equal(placed_of(plan, "tall"), 3);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_true(levels_in(plan, "left") != levels_in(plan, "right"));
    ks_arena_finish(&s.arena);
}

static void a_bay_with_nothing_for_it_stays_empty(void **state)
{
    small_order s;
    small_begun(&s, 400, 0, 1, 1);
    cylinder_added(&s, "tall", 60, 340, 3);
    ks_plan *plan = planned(&s, 4, 1, 1);
    assert_int_equal(placed_of(plan, "tall"), 3);
    assert_int_equal(plan->loads[0].n_levels, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

/* One whole shelf in stock, for platters no half can carry; posts for the whole stand where those
 * of the halves do. */
static void a_load_forks_from_a_whole_shelf_into_halves(void **state)
{
    small_order s;
    small_begun(&s, 400, 1, 6, 1);
    ks_kiln *kiln = &s.order.kilns[0];
    ks_support *whole = KS_TAKE(&s.arena, 2, ks_support);
    whole[0] = kiln->bays[0].supports[0];
    whole[1] = whole[0];
    whole[1].n_posts = 6;
    whole[1].posts = KS_TAKE(&s.arena, 6, ks_point);
    for (int i = 0; i < 3; i++) {
        whole[1].posts[i] = kiln->bays[1].supports[0].posts[i];
        whole[1].posts[3 + i] = kiln->bays[2].supports[0].posts[i];
    }
    kiln->bays[0].supports = whole;
    kiln->bays[0].n_supports = 2;
    cylinder_added(&s, "platter", 150, 40, 1)->must_go = true;
    cylinder_added(&s, "tall", 60, 200, 3);
    cylinder_added(&s, "cup", 40, 60, 20);
    ks_plan *plan = planned(&s, 10, 1, 1);
    assert_int_equal(placed_of(plan, "platter"), 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_true(levels_in(plan, "whole") == 1);
    assert_true(levels_in(plan, "left") + levels_in(plan, "right") > 0);
    ks_arena_finish(&s.arena);
}

static void a_post_shared_at_a_seam_keeps_both_bays_at_one_height(void **state)
{
    small_order s;
    small_begun(&s, 400, 0, 6, 1);
    ks_kiln *kiln = &s.order.kilns[0];
    kiln->bays[1].supports[0].posts[1] = (ks_point){0, 150};
    kiln->bays[2].supports[0].posts[0] = (ks_point){0, 150};
    cylinder_added(&s, "tall", 60, 200, 3);
    cylinder_added(&s, "cup", 40, 60, 30);
    ks_plan *plan = planned(&s, 8, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(plan->loads[0].n_levels, 2 * levels_in(plan, "left"));
    for (int k = 0; k + 1 < plan->loads[0].n_levels; k += 2)
        check_near(plan->loads[0].levels[k].z_mm, plan->loads[0].levels[k + 1].z_mm, 0);
    ks_arena_finish(&s.arena);
}

static void shelves_and_ware_keep_out_of_a_sensors_way(void **state)
{
    for (double from = 60; from <= 300; from += 40) {
        small_order s;
        small_begun(&s, 400, 4, 0, 1);
        ks_keep_out sensor = {"sensor", ks_outline_rectangle(12, 60, 0, &s.arena), from, from + 12,
                              15};
        sensor.outline = ks_outline_place(&sensor.outline, (ks_stand){0, 185, 0}, &s.arena);
        s.order.kilns[0].keep_outs = &sensor;
        s.order.kilns[0].n_keep_outs = 1;
        cylinder_added(&s, "cup", 45, 60, 50);
        cylinder_added(&s, "vase", 45, 130, 20);
        ks_plan *plan = planned(&s, 4, 1, 1);
        assert_int_equal(plan->n_loads, 1);
        assert_int_equal(rules_broken(&s, plan), 0);
        ks_arena_finish(&s.arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bays_of_half_shelves_go_up_at_heights_of_their_own),
        cmocka_unit_test(a_bay_with_nothing_for_it_stays_empty),
        cmocka_unit_test(a_load_forks_from_a_whole_shelf_into_halves),
        cmocka_unit_test(a_post_shared_at_a_seam_keeps_both_bays_at_one_height),
        cmocka_unit_test(shelves_and_ware_keep_out_of_a_sensors_way),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
