#include "check.h"

#include "pack/shelf/shelf_order.h"
#include "pack/shelf/shelf_rule.h"
#include "place/small_order.h"
#include "shelf_case.h"

#include <math.h>

/* Loading through a door: what is behind goes in before what stands in its way, and hands want room
 * on one side of a large piece. 25 mm for pieces from 250 mm: common practice, no source. */

enum { A, B, C, D };

/* A chamber 800 mm wide and 400 deep that is all shelf. */
static ks_shelf_space front_level(ks_arena *arena)
{
    ks_shelf_space space = level_of(ks_outline_rectangle(800, 400, 0, arena), arena);
    ((ks_shelf_region *)space.regions)->is_wall = true;
    space.entry = (ks_shelf_entry){true, 250, 25, 1};
    return space;
}

typedef struct {
    ks_shelf_item items[4];
    ks_shelf_spot spots[4];
    int n;
} standing;

static void stand(standing *all, ks_outline outline, double x, double y, ks_arena *arena)
{
    all->items[all->n] = item_of(outline, 50, 1, 1, arena);
    all->spots[all->n] = (ks_shelf_spot){all->n, {x, y, 0}};
    all->n++;
}

static bool loadable(const ks_shelf_space *space, const standing *all)
{
    return ks_shelf_loadable(space, all->items, all->n, all->spots);
}

/* Of three in a row that touch neither one another nor the walls by less than a hand but for one
 * gap, the one in the middle goes in second. */
static void of_a_row_the_last_has_its_hand_at_the_wall(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = front_level(&arena);
    for (int lacking = 0; lacking <= 1; lacking++) {
        standing row = {.n = 0};
        double right = 400 - 25.01 + 0.02 * lacking; /* the end of the row */
        for (int i = 0; i < 3; i++)
            stand(&row, ks_outline_rectangle(250, 250, 0, &arena), right - 125 - 256 * i, 0,
                  &arena);
        assert_int_equal(loadable(&space, &row), !lacking);
    }
    ks_arena_finish(&arena);
}

/* A cup in the corner behind a plate has to go in before it; with one on each side the plate has no
 * hand free, whatever is done. */
static void a_plate_with_cups_in_both_corners_behind_it_cannot_go_in(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = front_level(&arena);
    standing both = {.n = 0};
    stand(&both, ks_outline_disc(0, 0, 130, &arena), 0, 0, &arena);
    stand(&both, ks_outline_disc(0, 0, 40, &arena), -125, 125, &arena);
    assert_true(loadable(&space, &both));
    stand(&both, ks_outline_disc(0, 0, 40, &arena), 125, 125, &arena);
    assert_false(loadable(&space, &both));
    space.entry.large_mm = 0;
    assert_true(loadable(&space, &both));
    space.entry = (ks_shelf_entry){true, 250, 25, 1};
    for (int i = 1; i <= 2; i++)
        both.spots[i].stand.y = -125; /* in front of it: they go in later */
    assert_true(loadable(&space, &both));
    ks_arena_finish(&arena);
}

/* The cup on the right may go in at any time but before the plate, whose left is walled: an order
 * that takes what is farther back first would put it in too soon. */
static void a_plate_goes_in_before_what_would_take_its_only_hand(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = front_level(&arena);
    standing beside = {.n = 0};
    stand(&beside, ks_outline_disc(0, 0, 130, &arena), -265, 0, &arena);
    stand(&beside, ks_outline_disc(0, 0, 40, &arena), -85, 40, &arena);
    ks_shelf_order order =
        ks_shelf_order_find(&space, beside.items, beside.n, beside.spots, &arena);
    assert_int_equal(order.n_in, 0);
    assert_true(order.after[B * 2 + A]);
    assert_false(order.after[A * 2 + B]);
    ks_arena_finish(&arena);
}

/* The same corners, but the plate stands there already, as kept ware does. */
static void what_stands_there_already_wants_its_hand_too(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = front_level(&arena);
    standing cups = {.n = 0};
    stand(&cups, ks_outline_disc(0, 0, 40, &arena), -125, 125, &arena);
    stand(&cups, ks_outline_disc(0, 0, 40, &arena), 125, 125, &arena);
    ks_shelf_item plate = round_item(130, 1, 1, &arena);
    ks_shelf_standing there = {&plate, {0, 0, 0}};
    assert_true(loadable(&space, &cups));
    space.n_standing = 1;
    space.standing = &there;
    assert_false(loadable(&space, &cups));
    ks_arena_finish(&arena);
}

/* Staggered rows of plates lie closer, but leave no hand; straight ones do. Cups fill what is left,
 * and are worth so little that none of them is paid for with a plate. */
static void the_packer_makes_room_for_hands(void **state)
{
    static const double known[] = {6.07, 6.18}; /* with the rule, and without */
    for (int without = 0; without <= 1; without++) {
        ks_arena arena = {0};
        ks_shelf_space space = front_level(&arena);
        ((ks_shelf_region *)space.regions)->outline = ks_outline_rectangle(800, 560, 0, &arena);
        space.reserve_mm = 0.02;
        space.entry.large_mm = without ? 0 : 250;
        ks_shelf_item items[2] = {round_item(126, 1, 8, &arena), round_item(30, 0.01, 60, &arena)};
        ks_shelf_layout layout = packed(&space, 2, items, 400, &arena);
        assert_true(ks_shelf_loadable(&space, items, layout.n_spots, layout.spots));
        check_near(layout.worth, known[without], 1e-9);
        ks_arena_finish(&arena);
    }
}

/* The small kiln with a door, where all from 130 mm on wants hands: plates and cups. */
static void front_begun(small_order *s, int plates, int cups, double large)
{
    small_begun(s, 420, 4, 0, 1);
    s->order.kilns[0].loading = KS_FRONT_LOADER;
    s->order.rules.large_mm = large;
    cylinder_added(s, "plate", 68, 60, plates);
    cylinder_added(s, "cup", 28, 70, cups);
}

/* More than goes in: six plates lie on a shelf, of which hands bring in five or so. */
static void a_front_loader_holds_what_it_held(void **state)
{
    for (uint64_t seed = 1; seed <= 3; seed++) {
        small_order s;
        front_begun(&s, 24, 40, 130);
        ks_plan *plan = planned(&s, 4, 2, seed);
        assert_int_equal(rules_broken(&s, plan), 0);
        assert_true(plan->worth >= 25.2287483);
        ks_arena_finish(&s.arena);
    }
}

static void what_all_goes_in_without_hands_goes_in_with_them(void **state)
{
    for (uint64_t seed = 1; seed <= 3; seed++)
        for (int without = 0; without <= 1; without++) {
            small_order s;
            front_begun(&s, 18, 30, without ? 5000 : 130);
            ks_plan *plan = planned(&s, 8, 2, seed);
            assert_int_equal(rules_broken(&s, plan), 0);
            assert_int_equal(pieces_in(plan), 48);
            ks_arena_finish(&s.arena);
        }
}

/* 249 mm across, but as wide as 251 in the firing. */
static void what_grows_large_in_the_firing_is_large(void **state)
{
    small_order s;
    small_begun(&s, 420, 1, 0, 1);
    s.order.kilns[0].loading = KS_FRONT_LOADER;
    cylinder_added(&s, "platter", 124.5, 150, 1)->outward_mm = 1;
    cylinder_added(&s, "cup", 25, 60, 20);
    ks_plan *plan = planned(&s, 2, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "platter"), 1);
    ks_arena_finish(&s.arena);
}

static void kept_ware_goes_in_among_what_comes_to_it(void **state)
{
    small_order s;
    small_begun(&s, 420, 1, 0, 1);
    s.order.kilns[0].loading = KS_FRONT_LOADER;
    ks_piece *kept = cylinder_added(&s, "platter", 130, 30, 1);
    kept->keep = (ks_keep){.kept = true, .stand = {0, 20, 0}};
    cylinder_added(&s, "cup", 30, 60, 40);
    ks_plan *plan = planned(&s, 3, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "platter"), 1);
    assert_true(placed_of(plan, "cup") >= 10);
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(of_a_row_the_last_has_its_hand_at_the_wall),
        cmocka_unit_test(a_plate_with_cups_in_both_corners_behind_it_cannot_go_in),
        cmocka_unit_test(a_plate_goes_in_before_what_would_take_its_only_hand),
        cmocka_unit_test(what_stands_there_already_wants_its_hand_too),
        cmocka_unit_test(the_packer_makes_room_for_hands),
        cmocka_unit_test(a_front_loader_holds_what_it_held),
        cmocka_unit_test(what_all_goes_in_without_hands_goes_in_with_them),
        cmocka_unit_test(what_grows_large_in_the_firing_is_large),
        cmocka_unit_test(kept_ware_goes_in_among_what_comes_to_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
