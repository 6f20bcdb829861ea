#include "check.h"

#include "kilnstow/kiln.h"
#include "place/small_order.h"

#include <stdio.h>

/* Witness packs at the bottom, in the middle and at the top, whatever the load: a plan of ours
 * keeps the checker's rule. */

static const char *const kilns[] = {"round-330", "round-560", "round-580", "round-690"};

/* A few low plates: the shelves over them stay out, and what is under the lid then is another
 * level than it was when packs were asked for. */
static void half_full_kilns_keep_their_packs(void **state)
{
    (void)state;
    static const double across[] = {236, 168, 110}, tall[] = {40, 20, 64};
    for (int k = 0; k < (int)(sizeof kilns / sizeof *kilns); k++)
        for (int i = 0; i < 3; i++) {
            small_order s;
            small_begun(&s, 330, 1, 0, 1);
            cones_wanted(&s);
            s.order.rules.cones.middle = true;
            char path[80];
            snprintf(path, sizeof path, "kilns/%s.json", kilns[k]);
            assert_int_equal(ks_kiln_read(path, &s.arena, s.order.kilns, NULL), KS_OK);
            cylinder_added(&s, "plate", across[i] / 2, tall[i], 5);
            ks_plan *plan = planned(&s, 0, 1, 1);
            assert_int_equal(rules_broken(&s, plan), 0);
            ks_arena_finish(&s.arena);
        }
}

/* The lid is too near for a pack over the upper shelf, and so low a level of ware cannot hold one
 * either; without the upper shelf it could, but is full. */
static void bare_shelves_stay_where_packs_need_them(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 170, 2, 0, 1);
    cones_wanted(&s);
    s.order.rules.cones.width_mm = s.order.rules.cones.depth_mm = 150;
    cylinder_added(&s, "low", 195, 10, 1);
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

/* As wide as the shelf, it has no place on any: nothing is fired, and the packs are named. */
static void packs_without_a_place_are_the_reason_told(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 330, 2, 0, 1);
    cones_wanted(&s);
    s.order.rules.cones.width_mm = s.order.rules.cones.depth_mm = 405;
    cylinder_added(&s, "cup", 40, 90, 3);
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(plan->n_loads, 0);
    assert_int_equal(plan->n_left_out, 1);
    assert_int_equal(plan->left_out[0].rule.name, KS_WHY_CONE_PACKS);
    assert_int_equal(plan->left_out[0].change.name, KS_CHANGE_FEWER_PACKS);
    ks_arena_finish(&s.arena);
}

static int sights_remarked(small_order *s, ks_plan *plan)
{
    ks_check_report report;
    plan->order = &s->order;
    ks_check(plan, &s->arena, &report);
    assert_true(report.ok);
    int n = 0;
    for (int i = 0; i < report.n_remarks; i++)
        n += strcmp(report.remarks[i].rule, "sight") == 0;
    return n;
}

/* Tall ware everywhere: a pack put in where there is room would stand behind it. */
static void the_peephole_shows_the_packs(void **state)
{
    (void)state;
    for (int k = 0; k < (int)(sizeof kilns / sizeof *kilns); k++)
        for (int alike = 0; alike < 2; alike++) {
            small_order s;
            small_begun(&s, 330, 1, 0, 1);
            cones_wanted(&s);
            s.order.rules.cones.middle = s.order.rules.cones.at_peephole = true;
            s.order.rules.cones.by_size = alike;
            char path[80];
            snprintf(path, sizeof path, "kilns/%s.json", kilns[k]);
            assert_int_equal(ks_kiln_read(path, &s.arena, s.order.kilns, NULL), KS_OK);
            cylinder_added(&s, "tall", 22, 95, 60);
            cylinder_added(&s, "mug", 40, 80 + 15 * alike, 40);
            assert_int_equal(sights_remarked(&s, planned(&s, 0, 1, 2)), 0);
            ks_arena_finish(&s.arena);
        }
}

/* Halves left and right, level upon level, have more area than one whole shelf, and a disc as wide
 * as this stands on none; the checker says that it and its pack are well where they are. */
static void a_form_too_wide_for_half_shelves_goes_on_a_whole_one(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 690, 1, 0, 1);
    cones_wanted(&s);
    s.order.rules.cones.one = true;
    s.order.rules.cones.bottom = s.order.rules.cones.top = false;
    assert_int_equal(ks_kiln_read("kilns/round-580.json", &s.arena, s.order.kilns, NULL), KS_OK);
    cylinder_added(&s, "form", 150, 284, 1);
    ks_plan *plan = planned(&s, 0, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(plan->n_left_out, 0);
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(half_full_kilns_keep_their_packs),
        cmocka_unit_test(bare_shelves_stay_where_packs_need_them),
        cmocka_unit_test(the_peephole_shows_the_packs),
        cmocka_unit_test(a_form_too_wide_for_half_shelves_goes_on_a_whole_one),
        cmocka_unit_test(packs_without_a_place_are_the_reason_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
