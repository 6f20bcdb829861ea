#include "shelf_case.h"

#include "base/random.h"

#include <stdlib.h>
#include <string.h>

/* What must hold for every layout, whatever the level and the pieces: drawn by chance, seed by
 * seed. */

typedef struct {
    ks_arena arena;
    ks_random random;
    ks_shelf_space space;
    int n;
    ks_shelf_item *items;
} chance;

static ks_outline some_region(chance *c)
{
    static const ks_point corner_room[6] = {{-200, -200}, {200, -200}, {200, 0},
                                            {0, 0},       {0, 200},    {-200, 200}};
    static const ks_point half[4] = {{-220, -20}, {220, -20}, {120, 150}, {-120, 150}};
    switch (ks_random_below(&c->random, 4)) {
    case 0:
        return (ks_outline){6, corner_room, 0};
    case 1:
        return (ks_outline){4, half, 20};
    case 2:
        return ks_outline_rectangle(420, 300, 0, &c->arena);
    default:
        return ks_outline_disc(0, 0, 200, &c->arena);
    }
}

static ks_outline some_outline(chance *c, double size)
{
    static const ks_point ell[6] = {{0, 0}, {1, 0}, {1, 0.4}, {0.4, 0.4}, {0.4, 1}, {0, 1}};
    ks_point *at = KS_TAKE(&c->arena, 6, ks_point);
    switch (ks_random_below(&c->random, 5)) {
    case 0:
        for (int i = 0; i < 6; i++)
            at[i] = (ks_point){2 * size * ell[i].x, 2 * size * ell[i].y};
        return (ks_outline){6, at, 3};
    case 1:
        at[0] = (ks_point){-size, 5};
        at[1] = (ks_point){size, 0};
        return (ks_outline){2, at, size / 3};
    case 2:
        return ks_outline_rectangle(2 * size, size, 5, &c->arena);
    default:
        return ks_outline_disc(size / 5, 0, size, &c->arena);
    }
}

static ks_shelf_item some_item(chance *c)
{
    static const double steps[] = {0, 90, 360, 45};
    int n = 1 + ks_random_below(&c->random, 3);
    ks_part *parts = KS_TAKE(&c->arena, n, ks_part);
    double from = 0;
    for (int p = 0; p < n; p++) {
        double to = from + ks_random_between(&c->random, 10, 60);
        parts[p] =
            part_of(KS_PART_BODY, from, to, some_outline(c, ks_random_between(&c->random, 12, 60)));
        from = to;
    }
    return (ks_shelf_item){.n_parts = n,
                           .parts = parts,
                           .glazed = ks_random_below(&c->random, 3) > 0,
                           .runny = ks_random_below(&c->random, 5) == 0,
                           .around_mm = ks_random_below(&c->random, 4) == 0 ? 9 : 0,
                           .turn_step_deg = steps[ks_random_below(&c->random, 4)],
                           .turn_first_deg = ks_random_below(&c->random, 2) ? 30 : 0,
                           .worth = ks_random_between(&c->random, -0.2, 3),
                           .copies = 1 + ks_random_below(&c->random, 4),
                           .must = ks_random_below(&c->random, 6) == 0,
                           .mass_kg = ks_random_between(&c->random, 0.2, 2),
                           .tags = ks_random_below(&c->random, 4) == 0 ? 1 : 0,
                           .conflicts = ks_random_below(&c->random, 6) == 0 ? 1 : 0};
}

static void drawn(chance *c, uint64_t seed)
{
    *c = (chance){.random = ks_random_of(seed, 7)};
    c->space = level_of(some_region(c), &c->arena);
    c->space.reserve_mm = ks_random_below(&c->random, 2) ? 0.02 : 0;
    if (ks_random_below(&c->random, 2))
        c->space.mass_limit_kg = 8;
    ks_shelf_obstacle *posts = KS_TAKE(&c->arena, 2, ks_shelf_obstacle);
    for (int p = 0; p < 2; p++)
        posts[p] = (ks_shelf_obstacle){.outline = ks_outline_disc(150 - 300 * p, 40, 19, &c->arena),
                                       .to_mm = 120,
                                       .clearance_mm = 3,
                                       .turns = true};
    c->space.n_obstacles = ks_random_below(&c->random, 3);
    c->space.obstacles = posts;
    c->space.posts_free = ks_random_below(&c->random, 2);
    c->n = 1 + ks_random_below(&c->random, 12);
    c->items = KS_TAKE(&c->arena, c->n, ks_shelf_item);
    for (int i = 0; i < c->n; i++)
        c->items[i] = some_item(c);
}

static bool on_grid(double value)
{
    return fabs(value * 1000 - round(value * 1000)) < 1e-4;
}

static void turn_is_allowed(const ks_shelf_item *item, double turn_deg)
{
    assert_true(turn_deg >= 0 && turn_deg < 360 && on_grid(turn_deg));
    if (item->turn_step_deg == 0)
        return;
    double steps = (turn_deg - item->turn_first_deg) / item->turn_step_deg;
    check_near(steps, round(steps), 1e-9);
}

static void layout_holds(const chance *c, const ks_shelf_layout *layout)
{
    int *count = calloc((size_t)c->n, sizeof *count);
    double mass = 0, worth = 0;
    uint32_t tags = 0, conflicts = 0;
    assert_non_null(count);
    for (int s = 0; s < layout->n_spots; s++) {
        const ks_shelf_spot *spot = &layout->spots[s];
        const ks_shelf_item *item = &c->items[spot->item];
        turn_is_allowed(item, spot->stand.turn_deg);
        assert_true(on_grid(spot->stand.x) && on_grid(spot->stand.y));
        assert_false((tags & item->conflicts) || (conflicts & item->tags));
        tags |= item->tags;
        conflicts |= item->conflicts;
        mass += item->mass_kg;
        worth += item->worth;
        assert_true(++count[spot->item] <= (item->worth > 0 ? item->copies : item->must));
    }
    assert_true(mass <= c->space.mass_limit_kg);
    check_near(layout->worth, worth, 1e-9);
    assert_true(ks_shelf_slack(&c->space, c->items, layout->n_spots, layout->spots,
                               layout->post_turn_deg) >= -1e-9);
    if (!c->space.posts_free)
        check_near(layout->post_turn_deg, c->space.post_turn_deg, 0);
    free(count);
}

static void every_layout_keeps_every_rule(void **state)
{
    int pieces = 0;
    for (uint64_t seed = 1; seed <= 400; seed++) {
        chance c;
        drawn(&c, seed);
        ks_shelf_layout layout = packed(&c.space, c.n, c.items, 25, &c.arena);
        layout_holds(&c, &layout);
        pieces += layout.n_spots;
        ks_arena_finish(&c.arena);
    }
    assert_true(pieces > 2000); /* else the sweep has judged little */
}

static bool same_layout(const ks_shelf_layout *a, const ks_shelf_layout *b)
{
    return a->n_spots == b->n_spots && a->worth == b->worth &&
           a->post_turn_deg == b->post_turn_deg &&
           memcmp(a->spots, b->spots, (size_t)a->n_spots * sizeof *a->spots) == 0;
}

static void the_same_seed_and_work_give_the_same_bytes(void **state)
{
    for (uint64_t seed = 1; seed <= 20; seed++) {
        chance c;
        drawn(&c, seed);
        ks_shelf_layout a = packed(&c.space, c.n, c.items, 40, &c.arena);
        ks_shelf_layout b = packed(&c.space, c.n, c.items, 40, &c.arena);
        assert_true(same_layout(&a, &b));
        ks_arena_finish(&c.arena);
    }
}

static void new_prices_and_warm_starts_keep_every_rule(void **state)
{
    for (uint64_t seed = 200; seed < 230; seed++) {
        chance c;
        drawn(&c, seed);
        ks_shelf_search *search = ks_shelf_search_create(&c.space, c.n, c.items, seed);
        ks_shelf_search_run(search, 15, NULL);
        ks_shelf_layout first = ks_shelf_search_best(search, &c.arena);
        for (int i = 0; i < c.n; i++)
            c.items[i].worth = ks_random_between(&c.random, -0.5, 2);
        ks_shelf_search_reprice(search, c.items);
        ks_shelf_layout kept = ks_shelf_search_best(search, &c.arena);
        layout_holds(&c, &kept);
        ks_shelf_search_run(search, 15, NULL);
        ks_shelf_search_warm(search, &first);
        ks_shelf_search_run(search, 5, NULL);
        ks_shelf_layout last = ks_shelf_search_best(search, &c.arena);
        layout_holds(&c, &last);
        ks_shelf_search_destroy(search);
        ks_arena_finish(&c.arena);
    }
}

static void a_layout_that_was_found_once_is_kept_when_it_is_warmed(void **state)
{
    chance c;
    drawn(&c, 3);
    ks_shelf_layout found = packed(&c.space, c.n, c.items, 100, &c.arena);
    ks_shelf_search *search = ks_shelf_search_create(&c.space, c.n, c.items, 99);
    ks_shelf_search_warm(search, &found);
    ks_shelf_layout warmed = ks_shelf_search_best(search, &c.arena);
    assert_true(found.n_spots > 0);
    assert_int_equal(warmed.n_spots, found.n_spots);
    check_near(warmed.worth, found.worth, 1e-12);
    ks_shelf_search_destroy(search);
    ks_arena_finish(&c.arena);
}

static double scatter(const ks_shelf_layout *layout, int item)
{
    double sum = 0;
    for (int a = 0; a < layout->n_spots; a++)
        for (int b = 0; b < a; b++)
            if (layout->spots[a].item == item && layout->spots[b].item == item)
                sum += hypot(layout->spots[a].stand.x - layout->spots[b].stand.x,
                             layout->spots[a].stand.y - layout->spots[b].stand.y);
    return sum;
}

/* Two members' mugs that are the same: were they dealt out like cards, each would lie as far
 * scattered as all of them. */
static void each_owner_finds_like_pieces_side_by_side(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_rectangle(600, 200, 0, &arena), &arena);
    ks_shelf_item items[2] = {round_item(35, 1, 7, &arena), round_item(35, 1, 7, &arena)};
    items[1].owner = 1;
    ks_shelf_layout layout = packed(&space, 2, items, 200, &arena);
    assert_int_equal(layout.n_spots, 14);
    double near = scatter(&layout, 0) + scatter(&layout, 1);
    for (int s = 0; s < layout.n_spots; s++)
        layout.spots[s].item = 0;
    assert_true(near < 0.75 * scatter(&layout, 0) * 42 / 91);
    ks_arena_finish(&arena);
}

static void a_piece_that_must_be_in_goes_before_worth(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 100, &arena), &arena);
    ks_shelf_item items[2] = {round_item(90, 100, 1, &arena), round_item(60, 0, 1, &arena)};
    items[1].must = 1;
    ks_shelf_layout layout = packed(&space, 2, items, 50, &arena);
    assert_int_equal(layout.n_spots, 1);
    assert_int_equal(layout.spots[0].item, 1);
    ks_arena_finish(&arena);
}

static void nothing_is_done_without_pieces_room_or_height(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 50, &arena), &arena);
    ks_shelf_item big = round_item(80, 1, 3, &arena);
    ks_shelf_item tall = item_of(ks_outline_disc(0, 0, 20, &arena), 900, 1, 3, &arena);
    assert_int_equal(packed(&space, 0, NULL, 20, &arena).n_spots, 0);
    assert_int_equal(packed(&space, 1, &big, 20, &arena).n_spots, 0);
    assert_int_equal(packed(&space, 1, &tall, 20, &arena).n_spots, 0);
    ks_arena_finish(&arena);
}

static void a_search_that_is_hurried_ends_with_what_it_has(void **state)
{
    ks_arena arena = {0};
    ks_stop stop = {.asked = true};
    ks_shelf_space space = level_of(ks_outline_disc(0, 0, 250, &arena), &arena);
    ks_shelf_item item = round_item(20, 1, 200, &arena);
    ks_shelf_search *search = ks_shelf_search_create(&space, 1, &item, 1);
    ks_shelf_search_run(search, INT64_C(1000000000), &stop);
    assert_int_equal(ks_shelf_search_best(search, &arena).n_spots, 0);
    ks_shelf_search_destroy(search);
    ks_arena_finish(&arena);
}

/* One platter is worth five of the vases, but eight vases go in where one platter does: an end to
 * the search with the platter standing would miss half of the worth. */
static void many_small_pieces_are_seen_beside_one_large(void **state)
{
    ks_arena arena = {0};
    ks_shelf_space space = level_of(ks_outline_rectangle(400, 400, 0, &arena), &arena);
    ks_shelf_item items[] = {round_item(168, 16.9, 20, &arena), round_item(139, 8.8, 20, &arena),
                             round_item(65, 3.2, 20, &arena)};
    ks_shelf_layout best = packed(&space, 3, items, 150, &arena);
    assert_int_equal(best.n_spots, 8);
    check_near(best.worth, 8 * 3.2, 1e-9);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(many_small_pieces_are_seen_beside_one_large),
        cmocka_unit_test(every_layout_keeps_every_rule),
        cmocka_unit_test(the_same_seed_and_work_give_the_same_bytes),
        cmocka_unit_test(new_prices_and_warm_starts_keep_every_rule),
        cmocka_unit_test(a_layout_that_was_found_once_is_kept_when_it_is_warmed),
        cmocka_unit_test(each_owner_finds_like_pieces_side_by_side),
        cmocka_unit_test(a_piece_that_must_be_in_goes_before_worth),
        cmocka_unit_test(nothing_is_done_without_pieces_room_or_height),
        cmocka_unit_test(a_search_that_is_hurried_ends_with_what_it_has),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
