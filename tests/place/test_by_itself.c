#include "check.h"

#include "place/small_order.h"
#include "studio/left_out.h"

#include <string.h>

/* A piece that no load of the order can take, though it is neither too wide nor too tall, is told
 * the one rule that keeps it out, and the least change with which it goes in. */

/* A front loader 420 mm wide and deep, hands wanted beside pieces from 250 mm on. */
static void front_loader_begun(small_order *s)
{
    small_begun(s, 330, 2, 0, 1);
    ks_kiln *kiln = s->order.kilns;
    kiln->loading = KS_FRONT_LOADER;
    kiln->opening_width_mm = 420;
    kiln->opening_height_mm = 330;
}

static const ks_left_out *waiting(const ks_plan *plan, const char *id)
{
    for (int i = 0; i < plan->n_left_out; i++)
        if (strcmp(plan->left_out[i].id, id) == 0)
            return &plan->left_out[i];
    fail_msg("%s does not wait", id);
    return NULL;
}

static void told(small_order *s, const char *why, const char *detail, const char *nearest)
{
    ks_plan *plan = planned(s, 1, 1, 1);
    assert_int_equal(rules_broken(s, plan), 0);
    const ks_left_out *left = waiting(plan, "piece");
    const char *reason = ks_left_out_why(left, &s->order.display, &s->arena);
    const char *change = ks_left_out_nearest(left, &s->order.display, &s->arena);
    assert_string_equal(ks_left_out_kind(left), why);
    if (!strstr(reason, detail) || !strstr(change, nearest))
        fail_msg("%s; %s", reason, change);
}

/* 390 mm across on a shelf of 400 in a chamber of 420 mm: 20 mm at one side at the most, since the
 * foot may reach the edge of the shelf. 5 mm of edge are kept, so 15 + 5 = 20 on the other side. */
static void where_hands_find_no_room_the_hand_room_is_named(void **state)
{
    (void)state;
    small_order s;
    front_loader_begun(&s);
    s.order.rules.large_mm = 250;
    s.order.kilns->clearance.shelf_edge = 0;
    cylinder_added(&s, "piece", 195, 40, 1);
    told(&s, "too wide", "hands find 25.0 mm", "\"hand_room\": \"19.0 mm\"");
    s.order.rules.hand_room_mm = 19;
    assert_int_equal(placed_of(planned(&s, 1, 1, 1), "piece"), 1);
    s.order.rules.hand_room_mm = 21;
    assert_int_equal(placed_of(planned(&s, 1, 1, 1), "piece"), 0);
    ks_arena_finish(&s.arena);
}

static void what_the_kiln_may_carry_is_told_with_its_shelves(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 330, 1, 0, 1);
    ks_piece *piece = cylinder_added(&s, "piece", 100, 40, 1);
    ks_kiln *kiln = s.order.kilns;
    piece->mass_kg = 4;
    kiln->mass_limit_kg = 3.5 + 3 * 0.2 + kiln->shelves[0].mass_kg;
    told(&s, "mass", "with the shelves and posts under it", "mass_limit");
    kiln->mass_limit_kg += 0.51;
    assert_int_equal(placed_of(planned(&s, 1, 1, 1), "piece"), 1);
    ks_arena_finish(&s.arena);
}

static void a_doorway_too_narrow_or_low_is_told(void **state)
{
    (void)state;
    small_order s;
    front_loader_begun(&s);
    cylinder_added(&s, "piece", 100, 90, 1);
    s.order.kilns->opening_width_mm = 180;
    told(&s, "too wide", "by 20.0 mm for the doorway of small", "20.0 mm wider");
    s.order.kilns->opening_width_mm = 420;
    s.order.kilns->opening_height_mm = 80;
    told(&s, "too tall", "by 10.0 mm for the doorway of small", "10.0 mm higher");
    ks_arena_finish(&s.arena);
}

/* A plan handed up while the search goes on has to be there at once; the answer says why. */
static void why_it_never_goes_in_is_worked_out_at_the_end(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 330, 2, 0, 1);
    cylinder_added(&s, "piece", 230, 40, 1);
    cylinder_added(&s, "cup", 40, 90, 3);
    ks_place_options options = ks_place_default();
    ks_placing *placing = NULL;
    ks_progress progress;
    ks_error err = {0};
    bool more;
    assert_int_equal(ks_placing_create(&s.order, &options, &placing, &err), KS_OK);
    assert_int_equal(ks_placing_step(placing, &more, &progress, &err), KS_OK);
    const ks_plan *sketch = ks_placing_sketch(placing, "interrupt", &s.arena);
    assert_int_equal(waiting(sketch, "piece")->rule.name, KS_WHY_ENDED_EARLY);
    ks_placing_destroy(placing);
    told(&s, "too wide", "standing by itself", "");
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(where_hands_find_no_room_the_hand_room_is_named),
        cmocka_unit_test(what_the_kiln_may_carry_is_told_with_its_shelves),
        cmocka_unit_test(a_doorway_too_narrow_or_low_is_told),
        cmocka_unit_test(why_it_never_goes_in_is_worked_out_at_the_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
