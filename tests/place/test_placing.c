#include "check.h"

#include "place/draft/offer.h"
#include "place/small_order.h"
#include "studio/left_out.h"
#include "studio/plate.h"
#include "studio/shelf_strength.h"

static void everything_that_fits_is_placed_and_proven(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 1);
    cylinder_added(&s, "mug", 40, 95, 8);
    cylinder_added(&s, "plate", 110, 25, 2);
    ks_plan *plan = planned(&s, 4, 1, 1);
    assert_int_equal(placed_of(plan, "mug"), 8);
    assert_int_equal(placed_of(plan, "plate"), 2);
    check_near(plan->bound, plan->worth, 1e-6);
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

static void the_same_order_gives_the_same_plan_on_any_number_of_threads(void **state)
{
    small_order s;
    small_begun(&s, 400, 3, 0, 1);
    cylinder_added(&s, "mug", 40, 95, 30);
    cylinder_added(&s, "bowl", 75, 70, 14);
    cylinder_added(&s, "vase", 55, 210, 8);
    const char *one = ks_plan_json(planned(&s, 12, 1, 7), &s.arena);
    const char *three = ks_plan_json(planned(&s, 12, 3, 7), &s.arena);
    assert_string_equal(one, three);
    ks_arena_finish(&s.arena);
}

static void a_piece_that_must_go_goes_before_ware_worth_more(void **state)
{
    small_order s;
    small_begun(&s, 140, 1, 0, 1);
    cylinder_added(&s, "wide", 110, 95, 4);
    cylinder_added(&s, "small", 100, 60, 1)->must_go = true;
    ks_plan *plan = planned(&s, 6, 1, 1);
    assert_int_equal(placed_of(plan, "small"), 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

static void a_set_goes_whole_or_not_at_all(void **state)
{
    for (int count = 3; count <= 6; count += 3) {
        small_order s;
        small_begun(&s, 140, 1, 0, 1);
        cylinder_added(&s, "jar", 90, 90, count)->set = "jars";
        cylinder_added(&s, "cup", 40, 60, 10);
        ks_plan *plan = planned(&s, 6, 1, 1);
        int jars = placed_of(plan, "jar");
        assert_true(jars == 0 || jars == count);
        if (jars == 0)
            assert_string_equal(left_of(plan, "jar")->id, "jar");
        assert_int_equal(rules_broken(&s, plan), 0);
        ks_arena_finish(&s.arena);
    }
}

static void a_members_quota_is_kept(void **state)
{
    small_order s;
    small_begun(&s, 140, 1, 0, 1);
    ks_member member = {.id = "ann", .name = "Ann", .initials = "A", .quota_pieces = 2};
    s.order.members = &member;
    s.order.n_members = 1;
    cylinder_added(&s, "pot", 60, 90, 5)->owner = "ann";
    ks_plan *plan = planned(&s, 4, 1, 1);
    assert_int_equal(placed_of(plan, "pot"), 2);
    assert_string_equal(ks_left_out_kind(left_of(plan, "pot")), "held back");
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

static void tags_are_kept_apart_by_load_and_by_level(void **state)
{
    for (int whole = 0; whole <= 1; whole++) {
        small_order s;
        small_begun(&s, 300, 2, 0, 1);
        ks_apart rule = {1, 2, whole};
        const char *tags[] = {"copper", "tin white"};
        s.order.rules.apart = &rule;
        s.order.rules.n_apart = 1;
        s.order.tags = tags;
        s.order.n_tags = 2;
        cylinder_added(&s, "red", 60, 90, 5)->tags = 1;
        cylinder_added(&s, "white", 60, 90, 5)->tags = 2;
        ks_plan *plan = planned(&s, 6, 1, 1);
        assert_int_equal(rules_broken(&s, plan), 0);
        if (whole)
            assert_true(placed_of(plan, "red") == 0 || placed_of(plan, "white") == 0);
        else
            assert_int_equal(placed_of(plan, "red") + placed_of(plan, "white"), 10);
        if (whole)
            assert_string_equal(
                ks_left_out_kind(left_of(plan, placed_of(plan, "red") ? "white" : "red")), "apart");
        ks_arena_finish(&s.arena);
    }
}

static void ware_due_sooner_goes_first(void **state)
{
    small_order s;
    small_begun(&s, 140, 1, 0, 1);
    cylinder_added(&s, "later", 90, 95, 4)->due_day = 20100;
    cylinder_added(&s, "sooner", 90, 60, 4)->due_day = 20050;
    ks_plan *plan = planned(&s, 6, 1, 1);
    assert_int_equal(placed_of(plan, "sooner"), 4);
    assert_true(placed_of(plan, "later") < 4);
    assert_string_equal(ks_left_out_kind(left_of(plan, "later")), "due later");
    ks_arena_finish(&s.arena);
}

static void a_pinned_piece_stays_and_the_rest_is_planned_round_it(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 1);
    ks_piece *pinned = cylinder_added(&s, "pinned", 50, 60, 1);
    pinned->keep = (ks_keep){true, 0, 1, "whole", {33.5, -20.25, 0}};
    cylinder_added(&s, "pot", 60, 80, 16);
    ks_plan *plan = planned(&s, 6, 1, 1);
    assert_int_equal(placed_of(plan, "pinned"), 1);
    const ks_level *level = &plan->loads[0].levels[1];
    bool there = false;
    for (int i = 0; i < level->n_pieces; i++)
        there = there || (strcmp(level->pieces[i].id, "pinned") == 0 &&
                          level->pieces[i].stand.x == 33.5 && level->pieces[i].stand.y == -20.25);
    assert_true(there);
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

static void ware_too_tall_for_any_level_is_told_by_how_much(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 1);
    cylinder_added(&s, "tower", 50, 280, 1);
    cylinder_added(&s, "pot", 60, 80, 2);
    ks_plan *plan = planned(&s, 4, 1, 1);
    const ks_left_out *left = left_of(plan, "tower");
    assert_non_null(left);
    assert_int_equal(left->rule.name, KS_WHY_TOO_TALL);
    /* 300 less 20 of floor posts, 10 of shelf and 10 under the lid leaves 260. */
    check_near(left->rule.by_mm, 20, 1e-3);
    ks_arena_finish(&s.arena);
}

/* 275 mm are lower than the chamber, but not than what a shelf on its posts leaves of it. */
static void ware_that_no_shelf_can_take_asks_for_no_load(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 3);
    cylinder_added(&s, "column", 40, 275, 9);
    cylinder_added(&s, "pot", 60, 80, 5);
    ks_plan *plan = planned(&s, 2, 1, 1);
    assert_string_equal(ks_left_out_kind(left_of(plan, "column")), "too tall");
    assert_int_equal(plan->loads_at_least, 1);
    ks_arena_finish(&s.arena);
}

static void posts_and_shelves_are_used_no_more_than_there_are(void **state)
{
    for (int count = 0; count <= 9; count += 3) {
        small_order s;
        small_begun(&s, 500, 4, 0, 1);
        for (int k = 0; k < s.order.kilns[0].n_posts; k++)
            s.order.kilns[0].posts[k].count = k == 0 ? 3 : count;
        cylinder_added(&s, "cup", 45, 60, 60);
        ks_plan *plan = planned(&s, 4, 1, 1);
        assert_int_equal(rules_broken(&s, plan), 0);
        assert_int_equal(plan->n_loads, 1);
        assert_true(count > 0 ? plan->loads[0].n_levels > 1 : plan->loads[0].n_levels == 1);
        ks_arena_finish(&s.arena);
    }
}

static void the_gaps_that_a_kiln_asks_for_are_left(void **state)
{
    for (int halves = 0; halves <= 6; halves += 6) {
        small_order s;
        small_begun(&s, 400, halves > 0 ? 0 : 4, halves, 1);
        cylinder_added(&s, "cup", 40, 60, 40);
        ks_plan *plan = planned(&s, 4, 1, 1);
        assert_true(plan->loads[0].levels[0].gap_mm < 110);
        int before = placed_of(plan, "cup");
        s.order.kilns[0].first_gap_mm = 110;
        s.order.kilns[0].top_gap_mm = 90;
        plan = planned(&s, 4, 1, 1);
        assert_int_equal(rules_broken(&s, plan), 0);
        assert_true(placed_of(plan, "cup") * 2 > before);
        ks_arena_finish(&s.arena);
    }
}

static void a_safe_load_and_a_kilns_limit_are_kept(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 1);
    s.order.kilns[0].shelves[0].safe_load_kg = 4;
    s.order.kilns[0].mass_limit_kg = 14;
    cylinder_added(&s, "brick", 30, 60, 40)->mass_kg = 1.5;
    ks_plan *plan = planned(&s, 4, 1, 1);
    assert_true(placed_of(plan, "brick") >= 2 && placed_of(plan, "brick") <= 4);
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

/* Two bricks of 0.4 of what it bears go on each of two shelves; what is too heavy for any, or for
 * who is at hand, waits and says so. */
static void what_a_shelf_bears_is_kept_untold(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 1);
    ks_shelf_kind *shelf = &s.order.kilns[0].shelves[0];
    shelf->material = "cordierite";
    const ks_support *support = &s.order.kilns[0].bays[0].supports[0];
    double bends =
        ks_plate_bending(&shelf->outline, NULL, support->n_posts, support->posts, &s.arena);
    double bears = ks_shelf_limit_kg(shelf, &s.order.firings[0], bends);
    cylinder_added(&s, "brick", 30, 60, 40)->mass_kg = 0.4 * bears;
    cylinder_added(&s, "anvil", 30, 60, 1)->mass_kg = 1.01 * bears;
    ks_plan *plan = planned(&s, 4, 1, 1);
    assert_true(placed_of(plan, "brick") >= 2 && placed_of(plan, "brick") <= 4);
    assert_int_equal(placed_of(plan, "anvil"), 0);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(left_of(plan, "anvil")->rule.name, KS_WHY_MASS);
    s.order.rules.hoist_kg = 0.1 * bears;
    plan = planned(&s, 4, 1, 1);
    assert_int_equal(placed_of(plan, "brick"), 0);
    assert_int_equal(left_of(plan, "brick")->rule.name, KS_WHY_TOO_HEAVY_TO_LIFT);
    ks_arena_finish(&s.arena);
}

/* The whole shelf is two halves side by side. */
static void halves_laid(small_order *s, double safe_load_kg)
{
    ks_kiln *kiln = &s->order.kilns[0];
    ks_support *support = &kiln->bays[0].supports[0];
    ks_point *posts = KS_TAKE(&s->arena, 6, ks_point);
    support->n_shelves = 2;
    support->shelves = KS_TAKE(&s->arena, 2, struct ks_laid_shelf);
    for (int i = 0; i < 2; i++) {
        support->shelves[i] = (struct ks_laid_shelf){1, {i ? 100 : -100, 0, 0}};
        memcpy(posts + 3 * i, kiln->bays[1 + i].supports[0].posts, 3 * sizeof *posts);
    }
    support->posts = posts;
    support->n_posts = 6;
    kiln->n_arrangements = 1;
    kiln->shelves[1].safe_load_kg = safe_load_kg;
}

static void shelves_side_by_side_carry_each_by_itself(void **state)
{
    for (int heavy = 0; heavy <= 1; heavy++) {
        small_order s;
        small_begun(&s, 120, 0, 2, 1);
        halves_laid(&s, 4);
        cylinder_added(&s, "brick", 40, 60, 12)->mass_kg = 1.5;
        cylinder_added(&s, "slab", 110, 40, heavy)->mass_kg = 3;
        ks_plan *plan = planned(&s, 4, 1, 1);
        assert_int_equal(rules_broken(&s, plan), 0);
        /* Two bricks on each half; the slab is over the seam and leaves each 1 kg. */
        assert_int_equal(placed_of(plan, "slab"), heavy);
        assert_int_equal(placed_of(plan, "brick"), heavy ? 0 : 4);
        s.order.kilns[0].shelves[1].safe_load_kg = 2.9;
        ks_check_report report;
        ks_check(plan, &s.arena, &report);
        assert_int_equal(report.n_broken, 2);
        check_near(report.broken[0].by_mm, 0.1, 1e-9);
        check_near(report.broken[1].by_mm, 0.1, 1e-9);
        ks_arena_finish(&s.arena);
    }
}

static void a_piece_too_heavy_for_any_one_shelf_waits_for_its_mass(void **state)
{
    small_order s;
    small_begun(&s, 120, 0, 2, 1);
    halves_laid(&s, 4);
    cylinder_added(&s, "anvil", 40, 60, 1)->mass_kg = 5;
    cylinder_added(&s, "brick", 40, 60, 1);
    ks_plan *plan = planned(&s, 4, 1, 1);
    assert_int_equal(left_of(plan, "anvil")->rule.name, KS_WHY_MASS);
    ks_arena_finish(&s.arena);
}

static void copies_are_numbered_as_they_go_in(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 2);
    cylinder_added(&s, "mug", 40, 95, 60)->must_go = true;
    cylinder_added(&s, "plate", 110, 25, 3);
    ks_plan *plan = planned(&s, 2, 1, 1);
    assert_int_equal(plan->n_loads, 2);
    int last[2] = {0, 0};
    for (int l = 0; l < plan->n_loads; l++)
        for (int k = 0; k < plan->loads[l].n_steps; k++) {
            const ks_step *step = &plan->loads[l].steps[k];
            if (step->put != KS_PUT_PIECE)
                continue;
            const ks_placed *placed = &plan->loads[l].levels[step->level].pieces[step->item];
            assert_int_equal(placed->copy, ++last[placed->piece]);
        }
    assert_int_equal(last[0], placed_of(plan, "mug"));
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

static void no_more_loads_are_fired_than_are_needed(void **state)
{
    small_order s;
    small_begun(&s, 140, 1, 0, 4);
    cylinder_added(&s, "pot", 90, 95, 6);
    ks_plan *plan = planned(&s, 6, 1, 1);
    assert_int_equal(placed_of(plan, "pot"), 6);
    assert_int_equal(plan->n_loads, 2);
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

static void a_hurried_placing_still_hands_out_a_plan(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 1);
    cylinder_added(&s, "mug", 40, 95, 30);
    ks_place_options options = ks_place_default();
    ks_placing *placing = NULL;
    ks_error err = {0};
    ks_progress progress;
    bool more;
    assert_int_equal(ks_placing_create(&s.order, &options, &placing, &err), KS_OK);
    ks_plan *plan = NULL;
    assert_int_equal(ks_placing_best(placing, "interrupt", &s.arena, &plan, &err), KS_OK);
    assert_int_equal(plan->n_loads, 0);
    assert_int_equal(left_of(plan, "mug")->count, 30);
    ks_placing_stop(placing);
    assert_int_equal(ks_placing_step(placing, &more, &progress, &err), KS_OK);
    assert_int_equal(ks_placing_best(placing, "interrupt", &s.arena, &plan, &err), KS_OK);
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_placing_destroy(placing);
    ks_arena_finish(&s.arena);
}

/* A plan is handed out before the others of its round are made, without looking for changes that
 * would let in what waits; and it is told whether a better one has been found since. */
static void a_first_plan_comes_before_its_round_is_over(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 1);
    cylinder_added(&s, "mug", 40, 95, 60);
    ks_place_options options = ks_place_default();
    ks_placing *placing = NULL;
    ks_error err = {0};
    ks_progress progress;
    bool more;
    assert_int_equal(ks_placing_create(&s.order, &options, &placing, &err), KS_OK);
    assert_false(ks_placing_is_better(placing));
    assert_int_equal(ks_placing_step(placing, &more, &progress, &err), KS_OK);
    assert_true(more);
    assert_int_equal(progress.round, 0);
    assert_true(progress.placed > 0);
    assert_true(ks_placing_is_better(placing));
    ks_plan *plan = ks_placing_sketch(placing, "unfinished", &s.arena);
    assert_false(ks_placing_is_better(placing));
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(plan->rounds, 0);
    assert_int_equal(left_of(plan, "mug")->rule.name, KS_WHY_NO_ROOM);
    assert_int_equal(left_of(plan, "mug")->change.name, KS_CHANGE_NOT_LOOKED_FOR);
    assert_int_equal(ks_placing_step(placing, &more, &progress, &err), KS_OK);
    assert_int_equal(progress.round, 1);
    assert_int_equal(ks_placing_best(placing, "rounds", &s.arena, &plan, &err), KS_OK);
    assert_int_not_equal(left_of(plan, "mug")->change.name, KS_CHANGE_NOT_LOOKED_FOR);
    ks_placing_destroy(placing);
    ks_arena_finish(&s.arena);
}

/* Two levels with one piece each, filled apart from one another. */
static void levels_joined_are_held_to_the_rules_of_their_load(void **state)
{
    small_order s;
    small_begun(&s, 420, 4, 0, 1);
    ks_member ann = {.id = "ann", .name = "Ann", .initials = "A", .quota_pieces = 2};
    s.order.members = &ann;
    s.order.n_members = 1;
    cylinder_added(&s, "cup", 40, 80, 5)->owner = "ann";
    ks_place_options options = ks_place_default();
    ks_error err = {0};
    ks_job job;
    assert_int_equal(ks_job_init(&job, &s.order, &options, &s.arena, &err), KS_OK);
    ks_shelf_spot spots[2] = {{0, {-100, 0, 0}}, {0, {100, 0, 0}}};
    ks_draft_level levels[2] = {{.layout = {1, spots, 1, 0}}, {.layout = {1, spots + 1, 1, 0}}};
    ks_draft draft = ks_draft_empty(&job, &s.arena);
    draft.loads[0].levels = levels;
    draft.loads[0].n_levels = 2;
    assert_true(ks_offer_kept(&job, &draft, 0));
    ann.quota_pieces = 1;
    assert_false(ks_offer_kept(&job, &draft, 0));
    ann = (ks_member){.id = "ann", .name = "Ann", .initials = "A", .quota_litres = 0.5};
    assert_false(ks_offer_kept(&job, &draft, 0));
    s.order.n_members = 0;
    s.order.kilns[0].mass_limit_kg = 1;
    assert_false(ks_offer_kept(&job, &draft, 0));
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(everything_that_fits_is_placed_and_proven),
        cmocka_unit_test(the_same_order_gives_the_same_plan_on_any_number_of_threads),
        cmocka_unit_test(a_piece_that_must_go_goes_before_ware_worth_more),
        cmocka_unit_test(a_set_goes_whole_or_not_at_all),
        cmocka_unit_test(a_members_quota_is_kept),
        cmocka_unit_test(levels_joined_are_held_to_the_rules_of_their_load),
        cmocka_unit_test(tags_are_kept_apart_by_load_and_by_level),
        cmocka_unit_test(ware_due_sooner_goes_first),
        cmocka_unit_test(a_pinned_piece_stays_and_the_rest_is_planned_round_it),
        cmocka_unit_test(ware_too_tall_for_any_level_is_told_by_how_much),
        cmocka_unit_test(ware_that_no_shelf_can_take_asks_for_no_load),
        cmocka_unit_test(posts_and_shelves_are_used_no_more_than_there_are),
        cmocka_unit_test(the_gaps_that_a_kiln_asks_for_are_left),
        cmocka_unit_test(a_safe_load_and_a_kilns_limit_are_kept),
        cmocka_unit_test(what_a_shelf_bears_is_kept_untold),
        cmocka_unit_test(shelves_side_by_side_carry_each_by_itself),
        cmocka_unit_test(a_piece_too_heavy_for_any_one_shelf_waits_for_its_mass),
        cmocka_unit_test(copies_are_numbered_as_they_go_in),
        cmocka_unit_test(no_more_loads_are_fired_than_are_needed),
        cmocka_unit_test(a_hurried_placing_still_hands_out_a_plan),
        cmocka_unit_test(a_first_plan_comes_before_its_round_is_over),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
