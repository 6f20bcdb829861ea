#include "check.h"

#include "base/random.h"
#include "studio/lifting.h"
#include "fit/fit_piece.h"
#include "pack/shelf/roomiest.h"

static ks_shelf_item item_of(const ks_part *part, double step_deg)
{
    return (ks_shelf_item){.n_parts = 1, .parts = part, .turn_step_deg = step_deg, .copies = 1};
}

static ks_part part_of(ks_outline outline)
{
    return (ks_part){KS_PART_BODY, 0, 100, outline, {0}};
}

static double slack_in(ks_outline container, ks_outline inner, double step_deg)
{
    ks_shelf_region region = {.outline = container, .to_mm = 1000};
    ks_shelf_space space = {.n_regions = 1, .regions = &region, .height_mm = 1000};
    ks_part part = part_of(inner);
    ks_shelf_item item = item_of(&part, step_deg);
    ks_roomiest best = ks_roomiest_find(&space, &item, 0.1);
    assert_true(best.bound_mm >= best.slack_mm && best.bound_mm <= best.slack_mm + 0.1 + 1e-9);
    check_near(ks_shelf_slack(&space, &item, 1, &(ks_shelf_spot){0, best.stand}, 0), best.slack_mm,
               0.2);
    return best.slack_mm;
}

static void a_rectangle_in_a_disc_has_the_radius_less_half_its_diagonal(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline disc = ks_outline_disc(30, -20, 280, &arena);
    for (int w = 100; w <= 400; w += 60) {
        ks_outline rectangle = ks_outline_rectangle(w, 220, 0, &arena);
        check_near(slack_in(disc, rectangle, 0), 280 - sqrt(w * w + 220.0 * 220) / 2, 0.1);
    }
    ks_arena_finish(&arena);
}

/* Largest square in an equilateral triangle of side 1: 2 sqrt(3) - 3 = 0.4641; largest equilateral
 * triangle in a unit square: sqrt(6) - sqrt(2) = 1.0353 (classic results, as in H. T. Croft, K. J.
 * Falconer, R. K. Guy, Unsolved Problems in Geometry, 1991, and standard tables; from memory). */
static void the_largest_regular_polygons_in_one_another_just_fit(void **state)
{
    (void)state;
    ks_arena arena = {0};
    double a = 500;
    ks_point corners[] = {{-a / 2, 0}, {a / 2, 0}, {0, a * sqrt(3) / 2}};
    ks_outline triangle = {3, corners, 0};
    double side = (2 * sqrt(3) - 3) * a;
    check_near(slack_in(triangle, ks_outline_rectangle(side, side, 0, &arena), 0), 0, 0.11);
    double across = (sqrt(6) - sqrt(2)) * a;
    ks_point inner[] = {{-across / 2, 0}, {across / 2, 0}, {0, across * sqrt(3) / 2}};
    check_near(slack_in(ks_outline_rectangle(a, a, 0, &arena), (ks_outline){3, inner, 0}, 0), 0,
               0.11);
    ks_arena_finish(&arena);
}

static void a_square_that_may_turn_by_quarters_only_stays_as_it_is(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline field = ks_outline_rectangle(300, 300, 0, &arena);
    check_near(slack_in(field, ks_outline_rectangle(200, 100, 0, &arena), 90), 50, 0.1);
    check_near(slack_in(field, ks_outline_disc(70, 10, 100, &arena), 0), 50, 0.1);
    ks_arena_finish(&arena);
}

/* A plate with a handle, far wider than an oval: it sticks out as far on both sides wherever along
 * the oval it stands and however its handle points, so that nothing but both sides together tells
 * that no place is better. By symmetry on the short axis it sticks out by its radius less that. */
static void what_is_wider_than_an_oval_is_soon_known_to_be(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline oval = ks_outline_ellipse(0, 0, 340, 450, false, &arena);
    ks_outline parts[2] = {ks_outline_disc(0, 0, 400, &arena),
                           ks_outline_rectangle(40, 30, 0, &arena)};
    parts[1] = ks_outline_place(&parts[1], (ks_stand){400, 0, 0}, &arena);
    check_near(slack_in(oval, ks_outline_hull(parts, 2, &arena), 0), 340 - 400, 0.2);
    ks_arena_finish(&arena);
}

/* By symmetry the middle is best; there the corners are 50 sqrt(2) from the centres of the round
 * ones, which have 100. */
static void a_rounded_field_is_nearest_at_its_corners(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline field = ks_outline_rectangle(400, 300, 100, &arena);
    ks_outline block = ks_outline_rectangle(300, 200, 0, &arena);
    check_near(slack_in(field, block, 360), 100 - 50 * sqrt(2), 0.1);
    ks_arena_finish(&arena);
}

static ks_outline random_polygon(ks_random *random, double size, ks_arena *arena)
{
    int n = 3 + ks_random_below(random, 5);
    ks_point *at = KS_TAKE(arena, n, ks_point);
    for (int i = 0; i < n; i++) {
        ks_rotation r = ks_rotation_of(360.0 * i / n);
        double reach = size * ks_random_between(random, 0.4, 1);
        at[i] = (ks_point){r.c * reach, r.s * reach};
    }
    return (ks_outline){n, at, ks_random_between(random, 0, 10)};
}

/* No stand of a grid over the whole chamber may have more room than is said to be the most. */
static void no_stand_of_a_grid_has_more_room(void **state)
{
    (void)state;
    ks_random random = ks_random_of(5, 0);
    for (int round = 0; round < 12; round++) {
        ks_arena arena = {0};
        ks_shelf_region region = {
            .outline = ks_outline_regular(9, 400, &arena), .to_mm = 500, .margin_mm = 20};
        ks_shelf_obstacle posts[3];
        for (int i = 0; i < 3; i++)
            posts[i] = (ks_shelf_obstacle){
                .outline = ks_outline_disc(ks_random_between(&random, -150, 150),
                                           ks_random_between(&random, -150, 150), 19, &arena),
                .to_mm = 500,
                .clearance_mm = 3};
        ks_shelf_space space = {.n_regions = 1,
                                .regions = &region,
                                .n_obstacles = 3,
                                .obstacles = posts,
                                .height_mm = 500};
        ks_part part = part_of(random_polygon(&random, 110, &arena));
        ks_shelf_item item = item_of(&part, 0);
        ks_roomiest best = ks_roomiest_find(&space, &item, 0.2);
        for (int t = 0; t < 360; t += 15)
            for (int x = -180; x <= 180; x += 15)
                for (int y = -180; y <= 180; y += 15) {
                    ks_shelf_spot spot = {0, {x, y, t}};
                    assert_true(ks_shelf_slack(&space, &item, 1, &spot, 0) <= best.bound_mm);
                }
        assert_true(!ks_roomiest_reaches(&space, &item, best.bound_mm + 0.01, 0.1));
        assert_true(ks_roomiest_reaches(&space, &item, best.slack_mm - 0.5, 0.1));
        ks_arena_finish(&arena);
    }
}

/* Multipliers of the revised lifting equation: Waters, Putz-Anderson, Garg, Applications Manual for
 * the Revised NIOSH Lifting Equation (1994), tables 1 to 3 (from memory). */
static void the_lifting_limit_follows_the_published_multipliers(void **state)
{
    (void)state;
    static const double reach[][2] = {{25, 1}, {30, .83}, {40, .63}, {50, .50}, {63, .40}, {64, 0}};
    static const double height[][2] = {{0, .78},   {30, .87},  {75, 1},
                                       {100, .93}, {150, .78}, {175, .70}};
    static const double lift[][2] = {{25, 1}, {40, .93}, {70, .88}, {100, .87}, {175, .85}};
    for (int i = 0; i < 6; i++)
        check_near(ks_lifting_limit_kg(reach[i][0] * 10, 750, 250) / 23, reach[i][1], 0.006);
    for (int i = 0; i < 6; i++)
        check_near(ks_lifting_limit_kg(250, height[i][0] * 10, 250) / 23, height[i][1], 0.006);
    for (int i = 0; i < 5; i++)
        check_near(ks_lifting_limit_kg(250, 750, lift[i][0] * 10) / 23, lift[i][1], 0.006);
}

static void breadth_is_the_least_width(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_part parts[] = {part_of(ks_outline_rectangle(300, 120, 0, &arena)),
                       part_of(ks_outline_disc(0, 0, 50, &arena))};
    ks_piece piece = {.n_parts = 1, .parts = parts};
    check_near(ks_piece_breadth_mm(&piece, &arena), 120, 1e-9);
    piece.parts = parts + 1;
    check_near(ks_piece_breadth_mm(&piece, &arena), 100, 1e-9);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_rectangle_in_a_disc_has_the_radius_less_half_its_diagonal),
        cmocka_unit_test(the_largest_regular_polygons_in_one_another_just_fit),
        cmocka_unit_test(a_square_that_may_turn_by_quarters_only_stays_as_it_is),
        cmocka_unit_test(a_rounded_field_is_nearest_at_its_corners),
        cmocka_unit_test(what_is_wider_than_an_oval_is_soon_known_to_be),
        cmocka_unit_test(no_stand_of_a_grid_has_more_room),
        cmocka_unit_test(the_lifting_limit_follows_the_published_multipliers),
        cmocka_unit_test(breadth_is_the_least_width),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
