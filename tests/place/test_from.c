#include "check.h"

#include "place/small_order.h"

/* Planning again from an earlier plan. */

typedef struct {
    ks_plan *plan;
    int stayed, of;
} again;

static again planned_from(small_order *s, const ks_plan *from, int rounds, int threads)
{
    ks_place_options options = ks_place_default();
    options.rounds = rounds;
    options.threads = threads;
    options.from = from;
    again out = {0};
    out.plan = planned_with(s, &options, &out.stayed, &out.of);
    return out;
}

/* The same by the plans alone: whoever has a piece of that id in that load, level and place. */
static int stayed(const ks_plan *now, const ks_plan *before)
{
    int n = 0;
    for (int l = 0; l < now->n_loads && l < before->n_loads; l++)
        for (int a = 0; a < now->loads[l].n_levels; a++)
            for (int b = 0; b < before->loads[l].n_levels; b++) {
                const ks_level *x = &now->loads[l].levels[a], *y = &before->loads[l].levels[b];
                for (int i = 0; i < x->n_pieces && x->z_mm == y->z_mm; i++)
                    for (int k = 0; k < y->n_pieces; k++)
                        n += x->pieces[i].role != KS_CONES &&
                             strcmp(x->pieces[i].id, y->pieces[k].id) == 0 &&
                             x->pieces[i].stand.x == y->pieces[k].stand.x &&
                             x->pieces[i].stand.y == y->pieces[k].stand.y &&
                             x->pieces[i].stand.turn_deg == y->pieces[k].stand.turn_deg;
            }
    return n;
}

/* What the user has changed between two plans. */
static void nothing(small_order *s)
{
    (void)s;
}

static void two_cups_fewer(small_order *s)
{
    s->order.pieces[1].count -= 2;
}

static void a_plate_more(small_order *s)
{
    cylinder_added(s, "plate", 90, 20, 1);
}

static void a_bowl_instead_of_the_cups(small_order *s)
{
    s->order.pieces[1].id = "bowl";
}

static void everything_that_can_stay_stays(void **state)
{
    static const struct {
        void (*change)(small_order *s);
        int halves, of, moved;
    } cases[] = {{nothing, 0, 20, 0},        {nothing, 6, 20, 0},
                 {two_cups_fewer, 0, 18, 0}, {two_cups_fewer, 6, 18, 0},
                 {a_plate_more, 0, 20, 0},   {a_bowl_instead_of_the_cups, 0, 8, 0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        small_order s;
        small_begun(&s, 400, 3, cases[i].halves, 1);
        cylinder_added(&s, "tall", 45, 150, 8);
        cylinder_added(&s, "cup", 40, 60, 12);
        ks_plan *before = planned(&s, 4, 1, 5);
        assert_int_equal(placed_of(before, "tall") + placed_of(before, "cup"), 20);
        cases[i].change(&s);
        again now = planned_from(&s, before, 4, 1);
        assert_int_equal(rules_broken(&s, now.plan), 0);
        assert_int_equal(now.plan->n_left_out, 0);
        assert_int_equal(now.of, cases[i].of);
        assert_int_equal(now.stayed, cases[i].of - cases[i].moved);
        assert_int_equal(stayed(now.plan, before), now.stayed);
        ks_arena_finish(&s.arena);
    }
}

/* A wide plate, and no shelf left for a level more: a few cups make room for it. */
static void what_is_new_moves_only_a_few(void **state)
{
    small_order s;
    small_begun(&s, 400, 2, 0, 1);
    cylinder_added(&s, "tall", 45, 150, 8);
    cylinder_added(&s, "cup", 40, 60, 11);
    ks_plan *before = planned(&s, 4, 1, 5);
    assert_int_equal(before->n_left_out, 0);
    cylinder_added(&s, "platter", 100, 40, 1);
    again now = planned_from(&s, before, 4, 1);
    assert_int_equal(rules_broken(&s, now.plan), 0);
    assert_int_equal(now.plan->n_left_out, 0);
    assert_int_equal(now.of, 19);
    assert_true(now.stayed >= 8);
    ks_arena_finish(&s.arena);
}

static bool same_shelves(const ks_load *a, const ks_load *b)
{
    bool same = a->n_levels == b->n_levels && a->n_posts == b->n_posts;
    for (int l = 0; l < a->n_levels && same; l++)
        same = a->levels[l].z_mm == b->levels[l].z_mm &&
               a->levels[l].n_shelves == b->levels[l].n_shelves;
    return same;
}

/* Quite other ware on the shelves of the week before: for what is taller than their heights they
 * cost some of it. */
static void shelves_are_kept_for_other_ware(void **state)
{
    static const double tall[] = {45, 110};
    for (int t = 0; t < 2; t++) {
        small_order s;
        small_begun(&s, 400, 4, 0, 1);
        cylinder_added(&s, "tile", 60, 40, 60);
        ks_plan *before = planned(&s, 2, 1, 1);
        assert_true(before->loads[0].n_levels > 2);
        s.order.pieces[0].count = 0;
        s.order.n_pieces = 0;
        cylinder_added(&s, "pot", 50, tall[t], 60);
        ks_place_options options = ks_place_default();
        options.rounds = 2;
        options.threads = 1;
        options.from = before;
        options.keep_shelves = true;
        again now = {0};
        now.plan = planned_with(&s, &options, &now.stayed, &now.of);
        assert_int_equal(rules_broken(&s, now.plan), 0);
        if (now.plan->n_loads > 0)
            assert_true(same_shelves(&now.plan->loads[0], &before->loads[0]));
        assert_int_equal(now.of, 0);
        assert_true(t == 1 || placed_of(now.plan, "pot") > 20);
        ks_arena_finish(&s.arena);
    }
}

static void worth_comes_before_staying(void **state)
{
    small_order s;
    small_begun(&s, 140, 1, 0, 1);
    cylinder_added(&s, "cup", 60, 90, 3);
    ks_plan *before = planned(&s, 4, 1, 1);
    cylinder_added(&s, "platter", 175, 90, 1);
    again now = planned_from(&s, before, 6, 1);
    assert_int_equal(placed_of(now.plan, "platter"), 1);
    assert_int_equal(now.of, 3);
    assert_true(now.stayed < 3);
    assert_int_equal(rules_broken(&s, now.plan), 0);
    ks_arena_finish(&s.arena);
}

static void ware_that_has_changed_gives_way(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 1);
    cones_wanted(&s);
    cylinder_added(&s, "mug", 40, 95, 12);
    cylinder_added(&s, "bowl", 60, 70, 4);
    ks_plan *before = planned(&s, 4, 1, 1);
    assert_int_equal(before->n_left_out, 0);
    ks_piece *bowl = &s.order.pieces[1];
    bowl->parts[0].outline = ks_outline_disc(0, 0, 75, &s.arena);
    again now = planned_from(&s, before, 4, 1);
    assert_int_equal(rules_broken(&s, now.plan), 0);
    assert_int_equal(now.plan->n_left_out, 0);
    assert_int_equal(now.of, 16);
    assert_true(now.stayed >= 8 && now.stayed <= 16);
    ks_arena_finish(&s.arena);
}

static int cone_packs_on(const ks_level *level)
{
    int n = 0;
    for (int i = 0; i < level->n_pieces; i++)
        n += level->pieces[i].role == KS_CONES;
    return n;
}

/* The pack stood on the bottom, and today one is enough wherever it stands: a new one would be
 * asked for in the middle, which is full. */
static void a_cone_pack_stays_where_it_may_stand(void **state)
{
    for (int keeps = 0; keeps < 2; keeps++) {
        small_order s;
        small_begun(&s, 400, 3, 0, 1);
        cones_wanted(&s);
        s.order.rules.cones.top = false;
        cylinder_added(&s, "cup", 40, 100, 60);
        ks_plan *before = planned(&s, 4, 1, 5);
        assert_int_equal(before->loads[0].n_levels, 3);
        assert_int_equal(cone_packs_on(&before->loads[0].levels[0]), 1);
        s.order.rules.cones.bottom = false;
        s.order.rules.cones.one = true;
        ks_place_options options = ks_place_default();
        options.rounds = 1;
        options.threads = 1;
        options.from = before;
        options.keep_shelves = keeps;
        again now = {0};
        now.plan = planned_with(&s, &options, &now.stayed, &now.of);
        assert_int_equal(rules_broken(&s, now.plan), 0);
        assert_int_equal(now.of, placed_of(before, "cup"));
        assert_int_equal(now.stayed, now.of);
        ks_arena_finish(&s.arena);
    }
}

/* Packs wanted now on levels that are full: only those levels may change, not the whole load. */
static void a_new_cone_pack_leaves_other_levels_alone(void **state)
{
    small_order s;
    small_begun(&s, 400, 3, 0, 1);
    cylinder_added(&s, "cup", 40, 100, 60);
    ks_plan *before = planned(&s, 4, 1, 5);
    cones_wanted(&s);
    ks_place_options options = ks_place_default();
    options.rounds = 1;
    options.threads = 1;
    options.from = before;
    options.keep_shelves = true;
    again now = {0};
    now.plan = planned_with(&s, &options, &now.stayed, &now.of);
    assert_int_equal(rules_broken(&s, now.plan), 0);
    assert_int_equal(now.of, placed_of(before, "cup"));
    assert_true(now.stayed >= before->loads[0].levels[1].n_pieces);
    ks_arena_finish(&s.arena);
}

static void a_pinned_piece_goes_where_it_is_wanted_now(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 1);
    cylinder_added(&s, "pinned", 50, 60, 1);
    cylinder_added(&s, "pot", 60, 80, 10);
    ks_plan *before = planned(&s, 4, 1, 1);
    s.order.pieces[0].keep = (ks_keep){true, 0, 1, "whole", {33.5, -20.25, 0}};
    again now = planned_from(&s, before, 4, 1);
    assert_int_equal(placed_of(now.plan, "pinned"), 1);
    assert_int_equal(rules_broken(&s, now.plan), 0);
    assert_true(now.stayed >= 7);
    ks_arena_finish(&s.arena);
}

static void loads_keep_their_slots_and_threads_do_not_matter(void **state)
{
    small_order s;
    small_begun(&s, 140, 1, 0, 3);
    s.order.slots[2].day = 20500;
    cylinder_added(&s, "pot", 90, 95, 10);
    ks_plan *before = planned(&s, 3, 1, 1);
    assert_int_equal(before->n_loads, 3);
    s.order.pieces[0].count = 11;
    again one = planned_from(&s, before, 3, 1), three = planned_from(&s, before, 3, 3);
    assert_int_equal(one.of, 10);
    assert_int_equal(placed_of(one.plan, "pot"), 11);
    assert_true(one.stayed >= 8); /* the two of the last load may make room for the eleventh */
    assert_int_equal(stayed(one.plan, before), one.stayed);
    assert_string_equal(ks_plan_json(one.plan, &s.arena), ks_plan_json(three.plan, &s.arena));
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(everything_that_can_stay_stays),
        cmocka_unit_test(what_is_new_moves_only_a_few),
        cmocka_unit_test(shelves_are_kept_for_other_ware),
        cmocka_unit_test(worth_comes_before_staying),
        cmocka_unit_test(ware_that_has_changed_gives_way),
        cmocka_unit_test(a_cone_pack_stays_where_it_may_stand),
        cmocka_unit_test(a_new_cone_pack_leaves_other_levels_alone),
        cmocka_unit_test(a_pinned_piece_goes_where_it_is_wanted_now),
        cmocka_unit_test(loads_keep_their_slots_and_threads_do_not_matter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
