#include "shelf_case.h"

#include "pack/shelf/shelf_rule.h"

/* The judge of levels: every distance here is plain arithmetic. */

static double slack_of_two(const ks_shelf_space *space, const ks_shelf_item *items, double apart)
{
    ks_shelf_spot spots[2] = {{0, {-apart / 2, 0, 0}}, {1, {apart / 2, 0, 0}}};
    return ks_shelf_slack(space, items, 2, spots, 0);
}

static void two_rounds_keep_the_ware_clearance(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 250, &arena), &arena);
    ks_shelf_item items[2] = {round_item(40, 1, 1, &arena), round_item(30, 1, 1, &arena)};
    check_near(slack_of_two(&space, items, 76), 0, 1e-9);
    check_near(slack_of_two(&space, items, 75), -1, 1e-9);
    space.reserve_mm = 0.5;
    check_near(slack_of_two(&space, items, 77), 0.5, 1e-9);
    ks_arena_finish(&arena);
}

static void the_larger_wish_for_room_counts(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 250, &arena), &arena);
    ks_shelf_item items[2] = {round_item(40, 1, 1, &arena), round_item(30, 1, 1, &arena)};
    items[1].around_mm = 20;
    check_near(slack_of_two(&space, items, 90), 0, 1e-9);
    ks_arena_finish(&arena);
}

static void unglazed_pieces_may_touch_but_not_a_glazed_one(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 250, &arena), &arena);
    ks_shelf_item items[2] = {round_item(40, 1, 1, &arena), round_item(30, 1, 1, &arena)};
    items[0].glazed = items[1].glazed = false;
    check_near(slack_of_two(&space, items, 70), 0, 1e-9);
    items[1].glazed = true;
    check_near(slack_of_two(&space, items, 70), -6, 1e-9);
    ks_arena_finish(&arena);
}

static void slabs_keep_the_setter_clearance(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 250, &arena), &arena);
    space.setter_mm = 9;
    ks_part slabs[2] = {part_of(KS_PART_SLAB, 0, 8, ks_outline_disc(0, 0, 40, &arena)),
                        part_of(KS_PART_SLAB, 0, 8, ks_outline_disc(0, 0, 30, &arena))};
    ks_shelf_item items[2] = {{.n_parts = 1, .parts = &slabs[0]},
                              {.n_parts = 1, .parts = &slabs[1]}};
    check_near(slack_of_two(&space, items, 79), 0, 1e-9);
    ks_arena_finish(&arena);
}

/* A bowl that flares from 60 mm up, and a cup of the given height beside its foot. */
static double slack_under_a_rim(double cup_height, bool runny)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 250, &arena), &arena);
    ks_part bowl[2] = {part_of(KS_PART_FOOT, 0, 60, ks_outline_disc(0, 0, 20, &arena)),
                       part_of(KS_PART_BODY, 60, 100, ks_outline_disc(0, 0, 100, &arena))};
    ks_part cup = part_of(KS_PART_BODY, 0, cup_height, ks_outline_disc(0, 0, 30, &arena));
    ks_shelf_item items[2] = {{.n_parts = 2, .parts = bowl, .glazed = true, .runny = runny},
                              {.n_parts = 1, .parts = &cup, .glazed = true}};
    double slack = slack_of_two(&space, items, 70);
    ks_arena_finish(&arena);
    return slack;
}

static void a_cup_stands_under_a_rim_when_it_is_low_enough(void **state)
{
    check_near(slack_under_a_rim(48, false), 14, 1e-9); /* only the foot counts: 70 - 20 - 30 - 6 */
    check_near(slack_under_a_rim(48.5, false), -66, 1e-9); /* less than 12 mm under the rim */
    check_near(slack_under_a_rim(48, true), -66, 1e-9);    /* runny ware overhangs nothing */
}

/* A cup 40 mm from a post that asks for 6, with 15 mm of its own: only runny ware keeps them. */
static void runny_ware_keeps_its_own_room_from_posts(void **state)
{
    for (int runny = 0; runny < 2; runny++) {
        ks_arena arena = {0};
        ks_shelf_space space = level_of(ks_outline_disc(0, 0, 250, &arena), &arena);
        ks_shelf_obstacle post = {.outline = ks_outline_disc(100, 0, 20, &arena),
                                  .to_mm = 200,
                                  .clearance_mm = 6,
                                  .is_post = true};
        space.n_obstacles = 1;
        space.obstacles = &post;
        ks_part cup = part_of(KS_PART_BODY, 0, 50, ks_outline_disc(0, 0, 40, &arena));
        ks_shelf_item item = {.n_parts = 1, .parts = &cup, .runny = runny, .around_mm = 15};
        ks_shelf_spot spot = {0, {0, 0, 0}};
        check_near(ks_shelf_slack(&space, &item, 1, &spot, 0), runny ? 25 : 34, 1e-9);
        ks_arena_finish(&arena);
    }
}

static void feet_keep_to_the_shelf_and_bodies_to_the_chamber(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 250, &arena), &arena);
    ks_shelf_region regions[2] = {space.regions[0], space.regions[0]};
    regions[1].outline = ks_outline_disc(0, 0, 200, &arena);
    regions[1].feet_only = true;
    regions[1].margin_mm = 10;
    space.n_regions = 2;
    space.regions = regions;
    ks_part parts[2] = {part_of(KS_PART_FOOT, 0, 20, ks_outline_disc(0, 0, 20, &arena)),
                        part_of(KS_PART_BODY, 20, 50, ks_outline_disc(0, 0, 60, &arena))};
    ks_shelf_item item = {.n_parts = 2, .parts = parts};
    ks_shelf_spot spot = {0, {160, 0, 0}};
    check_near(ks_shelf_slack(&space, &item, 1, &spot, 0), 10, 1e-9); /* foot: 200 - 180 - 10 */
    spot.stand.x = 185;
    check_near(ks_shelf_slack(&space, &item, 1, &spot, 0), -15, 1e-9);
    regions[1].feet_only = false;
    spot.stand.x = 160;
    check_near(ks_shelf_slack(&space, &item, 1, &spot, 0), -30, 1e-9); /* body: 200 - 220 - 10 */
    ks_arena_finish(&arena);
}

static void posts_turn_about_the_middle_and_end_below_a_tall_piece(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 250, &arena), &arena);
    ks_shelf_obstacle post = {.outline = ks_outline_disc(200, 0, 19, &arena),
                              .to_mm = 150,
                              .clearance_mm = 3,
                              .turns = true};
    space.n_obstacles = 1;
    space.obstacles = &post;
    ks_shelf_item item = round_item(40, 1, 1, &arena);
    ks_shelf_spot spot = {0, {0, 130, 0}};
    check_near(ks_shelf_slack(&space, &item, 1, &spot, 90), 200 - 130 - 19 - 40 - 3, 1e-9);
    check_near(ks_shelf_slack(&space, &item, 1, &spot, 0), 80, 1e-9); /* the wall is nearer */
    post.from_mm = 120;
    spot.stand.y = 200;
    check_near(ks_shelf_slack(&space, &item, 1, &spot, 90), 10, 1e-9);
    ks_arena_finish(&arena);
}

static void a_piece_above_the_gap_is_told(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 250, &arena), &arena);
    ks_shelf_item item = item_of(ks_outline_disc(0, 0, 40, &arena), 203, 1, 1, &arena);
    ks_shelf_spot spot = {0, {0, 0, 0}};
    check_near(ks_shelf_slack(&space, &item, 1, &spot, 0), -3, 1e-9);
    ks_arena_finish(&arena);
}

/* Each has an arm at its own height that reaches over the next one's foot: none can go in first. */
static void a_ring_of_pieces_that_overhang_one_another_cannot_be_loaded(void **state)
{
    ks_arena arena = {0};
    ks_part low_arm[2] = {part_of(KS_PART_BODY, 0, 40, ks_outline_disc(0, 0, 10, &arena)),
                          part_of(KS_PART_BODY, 60, 70, ks_outline_disc(40, 0, 20, &arena))};
    ks_part high_arm[2] = {part_of(KS_PART_BODY, 0, 40, ks_outline_disc(0, 0, 10, &arena)),
                           part_of(KS_PART_BODY, 90, 99, ks_outline_disc(-40, 0, 20, &arena))};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 250, &arena), &arena);
    ks_shelf_item items[2] = {{.n_parts = 2, .parts = low_arm}, {.n_parts = 2, .parts = high_arm}};
    ks_shelf_spot ring[2] = {{0, {0, 0, 0}}, {1, {45, 0, 0}}};
    assert_false(ks_shelf_loadable(&space, items, 2, ring));
    ring[1].stand.x = 200;
    assert_true(ks_shelf_loadable(&space, items, 2, ring));
    high_arm[1].outline = ks_outline_disc(40, 0, 20, &arena);
    ring[1].stand.x = 45;
    assert_true(ks_shelf_loadable(&space, items, 2, ring));
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_rounds_keep_the_ware_clearance),
        cmocka_unit_test(the_larger_wish_for_room_counts),
        cmocka_unit_test(unglazed_pieces_may_touch_but_not_a_glazed_one),
        cmocka_unit_test(slabs_keep_the_setter_clearance),
        cmocka_unit_test(a_cup_stands_under_a_rim_when_it_is_low_enough),
        cmocka_unit_test(runny_ware_keeps_its_own_room_from_posts),
        cmocka_unit_test(feet_keep_to_the_shelf_and_bodies_to_the_chamber),
        cmocka_unit_test(posts_turn_about_the_middle_and_end_below_a_tall_piece),
        cmocka_unit_test(a_piece_above_the_gap_is_told),
        cmocka_unit_test(a_ring_of_pieces_that_overhang_one_another_cannot_be_loaded),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
