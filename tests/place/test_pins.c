#include "check.h"

#include "place/small_order.h"
#include "studio/left_out.h"

/* Ware that the order keeps in a place of its own. */

static ks_piece *pinned(small_order *s, const char *id, ks_keep keep)
{
    ks_piece *piece = cylinder_added(s, id, 50, 60, 1);
    piece->keep = keep;
    return piece;
}

static bool stands_at(const ks_level *level, const char *id, double x, double y)
{
    for (int i = 0; i < level->n_pieces; i++)
        if (strcmp(level->pieces[i].id, id) == 0 && level->pieces[i].stand.x == x &&
            level->pieces[i].stand.y == y)
            return true;
    return false;
}

/* Two loads of the order, the first fired so that no ware suits. */
static void two_firings(small_order *s)
{
    small_begun(s, 300, 2, 0, 2);
    s->order.firings = KS_TAKE(&s->arena, 2, ks_firing);
    s->order.firings[0] = (ks_firing){"smoky", "6", 0, "reduction", ""};
    s->order.firings[1] = (ks_firing){"glaze", "6", 0, "oxidation", ""};
    s->order.n_firings = 2;
    s->order.slots[1].firing = 1;
}

static void a_load_that_is_not_fired_counts_where_a_pin_names_one(void **state)
{
    small_order s;
    two_firings(&s);
    pinned(&s, "here", (ks_keep){true, 1, 1, "whole", {33.5, -20.25, 0}})->atmosphere = "oxidation";
    cylinder_added(&s, "pot", 60, 80, 6)->atmosphere = "oxidation";
    ks_plan *plan = planned(&s, 3, 1, 1);
    assert_int_equal(plan->n_loads, 1);
    assert_int_equal(plan->n_left_out, 0);
    assert_true(stands_at(&plan->loads[0].levels[1], "here", 33.5, -20.25));
    assert_int_equal(rules_broken(&s, plan), 0);
    s.order.pieces[0].keep.load = 0;
    assert_int_equal(rules_broken(&s, plan), 1);
    ks_arena_finish(&s.arena);
}

static void loads_alike_are_told_apart_by_what_is_kept_in_them(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 2);
    pinned(&s, "first", (ks_keep){true, 0, 0, "whole", {0, 0, 0}});
    pinned(&s, "second", (ks_keep){true, 1, 0, "whole", {110, 0, 0}});
    ks_plan *plan = planned(&s, 3, 1, 1);
    assert_int_equal(plan->n_loads, 2);
    assert_true(stands_at(&plan->loads[0].levels[0], "first", 0, 0));
    assert_true(stands_at(&plan->loads[1].levels[0], "second", 110, 0));
    assert_int_equal(rules_broken(&s, plan), 0);
    s.order.pieces[1].keep.load = 0;
    assert_int_equal(rules_broken(&s, plan), 1);
    s.order.pieces[0].keep.load = s.order.pieces[1].keep.load = 1;
    plan = planned(&s, 3, 1, 1);
    assert_int_equal(plan->n_loads, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    s.order.pieces[1].keep.load = 0;
    assert_int_equal(rules_broken(&s, plan), 1);
    ks_arena_finish(&s.arena);
}

static void a_pin_without_a_bay_takes_one_that_reaches_there(void **state)
{
    for (int halves = 0; halves <= 1; halves++) {
        small_order s;
        small_begun(&s, 300, halves ? 0 : 2, halves ? 4 : 0, 1);
        pinned(&s, "here", (ks_keep){true, 0, 1, "", {120, 10, 0}});
        if (halves) {
            s.order.kilns[0].bays += 1;
            s.order.kilns[0].n_bays = 2;
            s.order.kilns[0].arrangements[0] = s.order.kilns[0].arrangements[1];
            s.order.kilns[0].arrangements[0].bays[0] = 0;
            s.order.kilns[0].arrangements[0].bays[1] = 1;
            s.order.kilns[0].n_arrangements = 1;
        }
        ks_plan *plan = planned(&s, 3, 1, 1);
        assert_int_equal(placed_of(plan, "here"), 1);
        assert_int_equal(rules_broken(&s, plan), 0);
        ks_arena_finish(&s.arena);
    }
}

/* Why the piece "kept" cannot stand where it is to. */
static void outside_the_shelf(small_order *s)
{
    pinned(s, "kept", (ks_keep){true, 0, 0, "whole", {190, 0, 0}});
}

static void on_a_level_that_no_stack_has(small_order *s)
{
    pinned(s, "kept", (ks_keep){true, 0, 30, "whole", {0, 0, 0}});
}

static void where_another_is_kept(small_order *s)
{
    pinned(s, "other", (ks_keep){true, 0, 0, "whole", {0, 0, 0}});
    pinned(s, "kept", (ks_keep){true, 0, 0, "whole", {60, 0, 0}});
}

static void turned_as_it_may_not_be(small_order *s)
{
    pinned(s, "kept", (ks_keep){true, 0, 0, "whole", {0, 0, 10}})->turn_step_deg = 360;
}

static void beside_what_it_is_kept_apart_from(small_order *s)
{
    static ks_apart rule = {1, 2, true};
    static const char *tags[] = {"copper", "tin white"};
    s->order.rules.apart = &rule;
    s->order.rules.n_apart = 1;
    s->order.tags = tags;
    s->order.n_tags = 2;
    pinned(s, "other", (ks_keep){true, 0, 0, "whole", {0, 0, 0}})->tags = 1;
    pinned(s, "kept", (ks_keep){true, 0, 1, "whole", {0, 0, 0}})->tags = 2;
}

static void beyond_a_quota(small_order *s)
{
    static ks_member ann = {.id = "ann", .name = "Ann", .initials = "A", .quota_pieces = 1};
    s->order.members = &ann;
    s->order.n_members = 1;
    pinned(s, "other", (ks_keep){true, 0, 0, "whole", {0, 0, 0}})->owner = "ann";
    pinned(s, "kept", (ks_keep){true, 0, 1, "whole", {0, 0, 0}})->owner = "ann";
}

static void heavier_than_the_kiln_bears_with_its_shelves(small_order *s)
{
    s->order.kilns[0].mass_limit_kg = 20;
    pinned(s, "kept", (ks_keep){true, 0, 0, "whole", {0, 0, 0}})->mass_kg = 18;
}

static void in_another_load_than_its_set(small_order *s)
{
    pinned(s, "other", (ks_keep){true, 0, 0, "whole", {0, 0, 0}})->set = "pair";
    pinned(s, "kept", (ks_keep){true, 1, 0, "whole", {0, 0, 0}})->set = "pair";
}

static void what_has_no_place_where_it_is_kept_waits(void **state)
{
    static const struct {
        void (*tell)(small_order *);
        const char *why;
    } reasons[] = {{outside_the_shelf, "held back"},
                   {on_a_level_that_no_stack_has, "held back"},
                   {where_another_is_kept, "held back"},
                   {turned_as_it_may_not_be, "held back"},
                   {beside_what_it_is_kept_apart_from, "held back"},
                   {beyond_a_quota, "held back"},
                   {heavier_than_the_kiln_bears_with_its_shelves, "mass"},
                   {in_another_load_than_its_set, "held back"}};
    for (size_t i = 0; i < sizeof reasons / sizeof *reasons; i++) {
        small_order s;
        small_begun(&s, 300, 2, 0, 2);
        reasons[i].tell(&s);
        cylinder_added(&s, "pot", 60, 80, 6);
        ks_plan *plan = planned(&s, 3, 1, 1);
        assert_int_equal(placed_of(plan, "kept"), 0);
        assert_int_equal(placed_of(plan, "pot"), 6);
        assert_string_equal(ks_left_out_kind(left_of(plan, "kept")), reasons[i].why);
        assert_int_equal(rules_broken(&s, plan), 0);
        ks_arena_finish(&s.arena);
    }
}

static void of_copies_one_is_kept_and_the_rest_is_free(void **state)
{
    for (int far = 0; far <= 1; far++) {
        small_order s;
        small_begun(&s, 300, 2, 0, 1);
        pinned(&s, "cup", (ks_keep){true, 0, 0, "whole", {far ? 190 : 20, 0, 0}})->count = 5;
        ks_plan *plan = planned(&s, 3, 1, 1);
        assert_int_equal(placed_of(plan, "cup"), far ? 4 : 5);
        assert_int_equal(rules_broken(&s, plan), 0);
        ks_arena_finish(&s.arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_load_that_is_not_fired_counts_where_a_pin_names_one),
        cmocka_unit_test(loads_alike_are_told_apart_by_what_is_kept_in_them),
        cmocka_unit_test(a_pin_without_a_bay_takes_one_that_reaches_there),
        cmocka_unit_test(what_has_no_place_where_it_is_kept_waits),
        cmocka_unit_test(of_copies_one_is_kept_and_the_rest_is_free),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
