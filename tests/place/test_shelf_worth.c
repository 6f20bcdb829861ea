#include "shelf_case.h"

#include "base/random.h"

/* How much the packer gets in. Shelves of our own, with the exact worth that their seed and work
 * gave: a change that lies less, or otherwise, is seen here. And published optima. */

enum { PIECES = 40, TILES = 12 };

/* Invented ware: plates, bowls, mugs, boxes and six-sided trays. */
static void ware_drawn(uint64_t seed, ks_shelf_item items[PIECES], ks_arena *arena)
{
    ks_random random = ks_random_of(seed, 40);
    for (int i = 0; i < PIECES; i++) {
        double size = floor(ks_random_between(&random, 32, 110));
        ks_outline outline = ks_outline_disc(0, 0, size, arena);
        int kind = ks_random_below(&random, 10);
        if (kind >= 7)
            outline = ks_outline_rectangle(2 * size, floor(1.4 * size), 0, arena);
        if (kind == 9)
            outline = ks_outline_regular(6, 2 * size, arena);
        items[i] = item_of(outline, 60, ks_outline_area(&outline), 1, arena);
    }
}

static ks_shelf_space kiln_shelf(bool posts, ks_arena *arena)
{
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 260, arena), arena);
    ks_shelf_region *region = KS_TAKE(arena, 1, ks_shelf_region);
    *region = space.regions[0];
    region->margin_mm = 6;
    space.regions = region;
    space.reserve_mm = 0.02;
    if (!posts)
        return space;
    ks_shelf_obstacle *three = KS_TAKE(arena, 3, ks_shelf_obstacle);
    static const double at[3][2] = {{0, 235}, {-203.5, -117.5}, {203.5, -117.5}};
    for (int p = 0; p < 3; p++)
        three[p] = (ks_shelf_obstacle){.outline = ks_outline_disc(at[p][0], at[p][1], 19, arena),
                                       .to_mm = 200,
                                       .clearance_mm = 6,
                                       .turns = true};
    space.n_obstacles = 3;
    space.obstacles = three;
    space.posts_free = true;
    return space;
}

static void our_shelves_hold_what_they_held(void **state)
{
    static const struct {
        uint64_t seed;
        bool posts;
        double covered; /* fraction of the shelf */
    } known[] = {
        {1, false, 0.731440447379}, {2, false, 0.727554185741}, {3, false, 0.738312654823},
        {1, true, 0.699263847998},  {2, true, 0.705596425980},  {3, true, 0.713488769990},
    };
    for (size_t k = 0; k < sizeof known / sizeof known[0]; k++) {
        ks_arena arena = {0};
        ks_shelf_item items[PIECES];
        ware_drawn(known[k].seed, items, &arena);
        ks_shelf_space space = kiln_shelf(known[k].posts, &arena);
        ks_shelf_layout layout = packed(&space, PIECES, items, 2000, &arena);
        check_near(layout.worth / ks_outline_area(&space.regions[0].outline), known[k].covered,
                   1e-9);
        ks_arena_finish(&arena);
    }
}

/* Least radii of a circle around n unit circles: Graham 1968, "Sets of points with given minimum
 * separation"; Pirl 1969, "Der Mindestabstand von n in der Einheitskreisscheibe gelegenen Punkten"
 * (n <= 10); Melissen 1994, "Densest packings of eleven congruent circles in a circle"; Fodor 2000,
 * 2003 and 1999 for 12, 13 and 19. Proven; three to seven by arithmetic. */
static void equal_rounds_go_into_the_least_circle_proven(void **state)
{
    static const struct {
        int n;
        double radius;
    } known[] = {
        {3, 2.1547005384},  {5, 2.7013016167},  {7, 3},
        {8, 3.3047648709},  {10, 3.8130256313}, {11, 3.9238044002},
        {12, 4.0296019301}, {13, 4.2360679775}, {19, 4.8637033052},
    };
    for (size_t k = 0; k < sizeof known / sizeof known[0]; k++) {
        ks_arena arena = {0};
        double scale = 1e4;
        ks_shelf_item item = round_item(scale, 1, known[k].n, &arena);
        ks_outline room = ks_outline_disc(0, 0, scale * known[k].radius * (1 + 3e-6), &arena);
        ks_shelf_space space = level_of(room, &arena);
        space.ware_mm = 0;
        ks_shelf_layout layout = packed(&space, 1, &item, 20000, &arena);
        assert_int_equal(layout.n_spots, known[k].n);
        ks_arena_finish(&arena);
    }
}

/* cgcut1 of Christofides and Whitlock 1977, "An algorithm for two-dimensional cutting problems":
 * seven kinds of rectangles for one of 15 x 10, optimum 244. */
static void a_published_knapsack_of_rectangles_is_solved(void **state)
{
    static const struct {
        double w, d;
        int copies;
        double worth;
    } pieces[] = {{8, 4, 2, 66}, {3, 7, 1, 35}, {8, 2, 3, 24}, {3, 4, 5, 17},
                  {3, 3, 2, 11}, {3, 2, 2, 8},  {2, 1, 1, 2}};
    ks_arena arena = {0};
    ks_shelf_item items[7];
    for (int i = 0; i < 7; i++)
        items[i] = tile_item(pieces[i].w, pieces[i].d, pieces[i].worth, pieces[i].copies, &arena);
    ks_shelf_space space = level_of(ks_outline_rectangle(15, 10, 0, &arena), &arena);
    space.ware_mm = 0;
    check_near(packed(&space, 7, items, 2000, &arena).worth, 244, 0);
    ks_arena_finish(&arena);
}

static void tiles_with_a_gap_fill_a_square_shelf(void **state)
{
    ks_arena arena = {0};
    ks_shelf_item item = tile_item(100, 100, 1, 30, &arena);
    ks_shelf_space space = level_of(ks_outline_rectangle(524, 524, 0, &arena), &arena);
    assert_int_equal(packed(&space, 1, &item, 500, &arena).n_spots, 25); /* 5 x 100 + 4 x 6 = 524 */
    ks_arena_finish(&arena);
}

/* Of the rows a potter would set: a lattice of equal pitch, every other row shifted by half. */
static void forty_mugs_stand_in_tidy_rows(void **state)
{
    ks_arena arena = {0};
    ks_shelf_item mug = round_item(35, 1, 40, &arena);
    ks_shelf_space space = level_of(ks_outline_rectangle(600, 500, 0, &arena), &arena);
    ks_shelf_layout layout = packed(&space, 1, &mug, 300, &arena);
    int rows = 0;
    for (int s = 0; s < layout.n_spots; s++) {
        bool seen = false;
        for (int t = 0; t < s; t++)
            seen = seen || fabs(layout.spots[s].stand.y - layout.spots[t].stand.y) < 0.0015;
        rows += !seen;
    }
    assert_int_equal(layout.n_spots, 40);
    assert_true(rows <= 7);
    ks_arena_finish(&arena);
}

/* Flared bowls and small cups; `rims` gives each bowl its rim from the shelf up instead. */
static double bowls_and_cups(bool rims)
{
    ks_arena arena = {0};
    ks_part bowl[3] = {part_of(KS_PART_FOOT, 0, 70, ks_outline_disc(0, 0, 35, &arena)),
                       part_of(KS_PART_BODY, 70, 110, ks_outline_disc(0, 0, 75, &arena)),
                       part_of(KS_PART_BODY, 110, 140, ks_outline_disc(0, 0, 100, &arena))};
    if (rims)
        bowl[0] = part_of(KS_PART_BODY, 0, 140, bowl[2].outline);
    ks_shelf_item items[2] = {{.n_parts = rims ? 1 : 3, .parts = bowl, .glazed = true, .copies = 5},
                              item_of(ks_outline_disc(0, 0, 22, &arena), 55, 0, 60, &arena)};
    items[0].worth = ks_outline_area(&bowl[rims ? 0 : 2].outline);
    items[1].worth = ks_outline_area(&items[1].parts[0].outline);
    ks_shelf_space space = kiln_shelf(false, &arena);
    double worth = packed(&space, 2, items, 3000, &arena).worth;
    double shelf = ks_outline_area(&space.regions[0].outline);
    ks_arena_finish(&arena);
    return worth / shelf;
}

static void cups_under_rims_place_more_than_rim_outlines_do(void **state)
{
    double by_height = bowls_and_cups(false), by_rim = bowls_and_cups(true);
    print_message("covered by height %.4f, by rim %.4f\n", by_height, by_rim);
    assert_true(by_height > 1.05 * by_rim);
}

/* Forty cups, or a platter that takes nearly all of the shelf. */
static double platter_or_cups(double worth_of_platter, int cups)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 200, &arena), &arena);
    ks_shelf_item items[] = {round_item(28, 1, cups, &arena),
                             round_item(190, worth_of_platter, 1, &arena)};
    ks_shelf_layout layout = packed(&space, 2, items, 200, &arena);
    double worth = layout.worth;
    ks_arena_finish(&arena);
    return worth;
}

static void a_platter_worth_more_than_all_the_cups_is_in(void **state)
{
    (void)state;
    check_near(platter_or_cups(40.5, 40), 40.5, 1e-9);
    check_near(platter_or_cups(35, 40), 35, 1e-9); /* fewer than 35 go in */
    check_near(platter_or_cups(4.5, 4), 4.5, 1e-9);
    assert_true(platter_or_cups(3.5, 4) >= 4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(our_shelves_hold_what_they_held),
        cmocka_unit_test(equal_rounds_go_into_the_least_circle_proven),
        cmocka_unit_test(a_published_knapsack_of_rectangles_is_solved),
        cmocka_unit_test(tiles_with_a_gap_fill_a_square_shelf),
        cmocka_unit_test(forty_mugs_stand_in_tidy_rows),
        cmocka_unit_test(a_platter_worth_more_than_all_the_cups_is_in),
        cmocka_unit_test(cups_under_rims_place_more_than_rim_outlines_do),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
