#include "check.h"

#include "base/random.h"
#include "draw/facts/facts.h"
#include "pack/tower/tower_choice.h"
#include "place/small_order.h"

#include <math.h>

/* Unglazed ware that stands on other ware: towers are put together by the rules, each piece tells
 * what carries it, and no plan exceeds the bound. */

static small_order order_read(const char *path)
{
    ks_arena arena = {0};
    ks_order *order = NULL;
    ks_error err = {0};
    if (ks_order_read(path, "kilns", &arena, &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    return (small_order){arena, *order};
}

/* A dry pot, straight-walled, with a floor. */
static ks_piece *pot_added(small_order *s, const char *id, double radius, double height, int count)
{
    const double wall = 5, floor_mm = 6;
    ks_piece *p = cylinder_added(s, id, radius, height, count);
    p->n_parts = 2;
    p->parts = KS_TAKE(&s->arena, 2, ks_part);
    ks_outline round = ks_outline_disc(0, 0, radius, &s->arena);
    p->parts[0] = (ks_part){KS_PART_FOOT, 0, floor_mm, round, {0}};
    p->parts[1] = (ks_part){KS_PART_BODY, floor_mm, height, round,
                            ks_outline_disc(0, 0, radius - wall, &s->arena)};
    p->stage = KS_DRY;
    p->glazed = false;
    p->wall_mm = wall;
    p->ways = KS_WAY_BIT(KS_RIM);
    return p;
}

static ks_piece *tile_added(small_order *s, const char *id, double side, double thick, int count)
{
    ks_piece *p = cylinder_added(s, id, side / 2, thick, count);
    p->parts[0].outline = ks_outline_rectangle(side, side, 0, &s->arena);
    p->area_mm2 = side * side;
    p->volume_mm3 = p->area_mm2 * thick;
    p->worth = p->volume_mm3 / 1e6;
    p->stage = KS_DRY;
    p->glazed = false;
    p->wall_mm = thick;
    p->ways = KS_WAY_BIT(KS_PILE);
    return p;
}

static void stacking_begun(small_order *s, double height, int shelves)
{
    small_begun(s, height, shelves, 0, 1);
    s->order.rules.stacking = ks_usual_stacking;
}

static int highest(const small_order *s)
{
    ks_arena scratch = {0};
    const ks_tower *towers;
    int n = ks_towers_find(&s->order, 2000, 2000, &scratch, &towers), most = 1;
    for (int t = 0; t < n; t++)
        most = towers[t].n > most ? towers[t].n : most;
    ks_arena_finish(&scratch);
    return most;
}

/* Three pieces high on rims: reported by potters (three high unless rim to rim). */
static void rims_carry_three_pieces_unless_the_order_says_otherwise(void **state)
{
    small_order s;
    stacking_begun(&s, 460, 4);
    pot_added(&s, "pot", 40, 50, 20);
    assert_int_equal(highest(&s), 3);
    s.order.rules.stacking.rims = 2;
    assert_int_equal(highest(&s), 2);
    s.order.rules.stacking.rims = 1;
    assert_int_equal(highest(&s), 1);
    ks_arena_finish(&s.arena);
}

static void nothing_stands_on_a_rim_too_thin_or_on_ware_that_says_no(void **state)
{
    small_order s;
    stacking_begun(&s, 460, 4);
    ks_piece *pot = pot_added(&s, "pot", 40, 50, 20);
    pot->wall_mm = 2.5;
    assert_int_equal(highest(&s), 1);
    pot->wall_mm = 5;
    pot->ways = 0;
    assert_int_equal(highest(&s), 1);
    pot->ways = KS_WAY_BIT(KS_RIM);
    pot->glazed = true;
    assert_int_equal(highest(&s), 1);
    ks_arena_finish(&s.arena);
}

/* Narrow and tall: the third would fall at 5 degrees. By hand: of n pots of height h their middle
 * lies nearly n h / 2 above the shelf, and tan 5 degrees = 0.0875: two of 120 mm want a foot of
 * 10.5 mm radius, three 15.7 mm. */
static void a_tower_stands_at_five_degrees(void **state)
{
    small_order s;
    stacking_begun(&s, 460, 4);
    ks_piece *pot = pot_added(&s, "pot", 13, 120, 20);
    pot->wall_mm = 3;
    assert_int_equal(highest(&s), 2);
    s.order.n_pieces = 0;
    pot_added(&s, "pot", 17, 120, 20);
    assert_int_equal(highest(&s), 3);
    ks_arena_finish(&s.arena);
}

/* What a piece carries is at most three times its own mass. */
static void a_pile_of_tiles_is_no_heavier_than_the_lowest_bears(void **state)
{
    small_order s;
    stacking_begun(&s, 460, 4);
    tile_added(&s, "tile", 100, 8, 40);
    assert_int_equal(highest(&s), 4);
    s.order.rules.stacking.carried = 100;
    assert_int_equal(highest(&s), 10);
    ks_arena_finish(&s.arena);
}

/* The dry mugs of a studio: 95 x 108 mm, three high at the most and the chamber 690 mm deep. */
static void towers_take_a_quarter_more_mugs_than_single_layers(void **state)
{
    small_order s = order_read("tests/bisque/mugs.json");
    ks_plan *towers = planned(&s, 1, 2, 1);
    assert_int_equal(rules_broken(&s, towers), 0);
    s.order.pieces[0].ways = 0;
    ks_plan *layers = planned(&s, 1, 2, 1);
    assert_int_equal(rules_broken(&s, layers), 0);
    assert_true(pieces_in(towers) >= 1.25 * pieces_in(layers));
    ks_arena_finish(&s.arena);
}

/* 150 x 150 x 9 mm: nine lie side by side on a shelf of this kiln, by hand. */
static void a_level_holds_twelve_times_as_many_tiles_on_edge_as_flat(void **state)
{
    small_order s = order_read("tests/bisque/tiles.json");
    ks_plan *plan = planned(&s, 1, 2, 1);
    int most = 0;
    assert_int_equal(rules_broken(&s, plan), 0);
    for (int l = 0; l < plan->loads[0].n_levels; l++)
        most = plan->loads[0].levels[l].n_pieces > most ? plan->loads[0].levels[l].n_pieces : most;
    assert_true(most >= 12 * 9);
    ks_arena_finish(&s.arena);
}

/* All 110 pieces go in by hand; the order's note tells how. */
static void a_mixed_load_holds_what_it_holds_by_hand(void **state)
{
    small_order s = order_read("tests/bisque/hand.json");
    ks_plan *plan = planned(&s, 20, 2, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(pieces_in(plan), 110);
    ks_arena_finish(&s.arena);
}

/* Half as many again of each kind, and that stacked as somebody might choose to by hand. */
static int pieces_stacked_so(const ks_stacking *stacking)
{
    small_order s = order_read("tests/bisque/hand.json");
    for (int i = 0; i < s.order.n_pieces; i++)
        s.order.pieces[i].count = s.order.pieces[i].count * 3 / 2;
    s.order.rules.stacking = *stacking;
    ks_plan *plan = planned(&s, 4, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    int n = pieces_in(plan);
    ks_arena_finish(&s.arena);
    return n;
}

/* By hand: nothing on a rim, two or three of them, and nests and piles of these heights. Rims alone
 * are worth more for their area, and come to less. */
static void towers_chosen_come_to_no_less_than_twenty_choices_by_hand(void **state)
{
    static const struct {
        int nest, plates, tiles;
    } by_hand[] = {{6, 5, 10}, {6, 4, 10}, {4, 4, 4}, {3, 3, 3}, {2, 2, 2}, {4, 5, 10}, {6, 1, 10}};
    enum { CHOICES = 20 };
    int chosen = pieces_stacked_so(&ks_usual_stacking);
    for (int c = 0; c < trials_of(CHOICES); c++) {
        ks_stacking stacking = ks_usual_stacking;
        stacking.rims = 1 + c % 3;
        stacking.nest = by_hand[c / 3 % 7].nest;
        stacking.plates = by_hand[c / 3 % 7].plates;
        stacking.tiles = by_hand[c / 3 % 7].tiles;
        assert_true(pieces_stacked_so(&stacking) <= chosen);
    }
}

static const ks_placed *carrier_of(const ks_level *level, const ks_placed *placed)
{
    for (int i = 0; i < level->n_pieces; i++)
        if (strcmp(level->pieces[i].id, placed->on_id) == 0 &&
            level->pieces[i].copy == placed->on_copy)
            return &level->pieces[i];
    return NULL;
}

static int step_of(const ks_load *load, int level, int piece)
{
    for (int s = 0; s < load->n_steps; s++)
        if (load->steps[s].put == KS_PUT_PIECE && load->steps[s].level == level &&
            load->steps[s].item == piece)
            return s;
    return -1;
}

static void each_piece_names_what_carries_it_and_goes_in_after_it(void **state)
{
    small_order s;
    stacking_begun(&s, 460, 4);
    pot_added(&s, "pot", 40, 100, 60);
    tile_added(&s, "tile", 90, 8, 60);
    ks_plan *plan = planned(&s, 2, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    int stacked = 0;
    for (int l = 0; l < plan->loads[0].n_levels; l++) {
        const ks_level *level = &plan->loads[0].levels[l];
        for (int i = 0; i < level->n_pieces; i++) {
            const ks_placed *placed = &level->pieces[i];
            if (!placed->on_id)
                continue;
            const ks_placed *below = carrier_of(level, placed);
            assert_non_null(below);
            check_near(placed->parts[0].from_mm, below->top_mm, 1e-9);
            assert_true(step_of(&plan->loads[0], l, (int)(below - level->pieces)) <
                        step_of(&plan->loads[0], l, i));
            stacked++;
        }
    }
    assert_true(stacked > 10);
    ks_arena_finish(&s.arena);
}

/* How many lines of the lists have it in what they warn of. */
static int care_with(const ks_facts *facts, const char *words, ks_arena *arena)
{
    int found = 0;
    for (int t = 0; t < facts->n_tiers; t++) {
        int n;
        const ks_level_line *lines = ks_level_lines(facts, &facts->tiers[t], &n, arena);
        for (int i = 0; i < n; i++)
            found += strstr(lines[i].care, words) != NULL;
    }
    return found;
}

/* A stack by its numbers, "1–3", not each of its pots; and what is dry may touch. */
static void a_list_tells_stacks_by_their_numbers(void **state)
{
    small_order s;
    stacking_begun(&s, 460, 1);
    pot_added(&s, "pot", 40, 100, 60);
    ks_plan *plan = planned(&s, 2, 1, 1);
    ks_facts *facts = ks_facts_of(plan, 0, "", false, &s.arena);
    assert_true(care_with(facts, "–", &s.arena) > 0);
    assert_true(care_with(facts, ": each on the one before", &s.arena) > 0);
    assert_int_equal(care_with(facts, ": on the one before", &s.arena), 0);
    assert_string_equal(ks_touch_words(&facts->levels[0]), "unglazed ware may touch");
    ks_arena_finish(&s.arena);
}

/* A plan made from itself keeps its towers where they stood. */
static void an_earlier_plan_keeps_its_towers(void **state)
{
    small_order s;
    stacking_begun(&s, 460, 4);
    pot_added(&s, "pot", 40, 100, 24);
    ks_plan *plan = planned(&s, 1, 1, 1);
    ks_place_options options = ks_place_default();
    int stayed, of;
    options.rounds = 1;
    options.from = plan;
    ks_plan *again = planned_with(&s, &options, &stayed, &of);
    assert_int_equal(rules_broken(&s, again), 0);
    assert_int_equal(of, pieces_in(plan));
    assert_int_equal(stayed, of);
    ks_arena_finish(&s.arena);
}

/* Random pots and tiles: `planned` holds the worth against the bound in every round. */
static void random_bisque_orders_keep_the_rules_and_the_bound(void **state)
{
    for (int trial = 0; trial < trials_of(20); trial++) {
        ks_random random = ks_random_of(41, (uint64_t)trial);
        small_order s;
        stacking_begun(&s, 300 + 10 * ks_random_below(&random, 20), 4);
        int kinds = 1 + ks_random_below(&random, 4);
        for (int i = 0; i < kinds; i++) {
            const char *id = ks_arena_print(&s.arena, "ware %d", i);
            int count = 1 + ks_random_below(&random, 25);
            if (ks_random_below(&random, 3) == 0)
                tile_added(&s, id, floor(ks_random_between(&random, 40, 160)),
                           floor(ks_random_between(&random, 5, 20)), count);
            else
                pot_added(&s, id, floor(ks_random_between(&random, 20, 80)),
                          floor(ks_random_between(&random, 30, 150)), count);
        }
        ks_plan *plan = planned(&s, 1, 1, (uint64_t)trial + 1);
        assert_int_equal(rules_broken(&s, plan), 0);
        ks_arena_finish(&s.arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rims_carry_three_pieces_unless_the_order_says_otherwise),
        cmocka_unit_test(nothing_stands_on_a_rim_too_thin_or_on_ware_that_says_no),
        cmocka_unit_test(a_tower_stands_at_five_degrees),
        cmocka_unit_test(a_pile_of_tiles_is_no_heavier_than_the_lowest_bears),
        cmocka_unit_test(towers_take_a_quarter_more_mugs_than_single_layers),
        cmocka_unit_test(a_level_holds_twelve_times_as_many_tiles_on_edge_as_flat),
        cmocka_unit_test(a_mixed_load_holds_what_it_holds_by_hand),
        cmocka_unit_test(towers_chosen_come_to_no_less_than_twenty_choices_by_hand),
        cmocka_unit_test(each_piece_names_what_carries_it_and_goes_in_after_it),
        cmocka_unit_test(a_list_tells_stacks_by_their_numbers),
        cmocka_unit_test(an_earlier_plan_keeps_its_towers),
        cmocka_unit_test(random_bisque_orders_keep_the_rules_and_the_bound),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
