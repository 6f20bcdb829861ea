#include "check.h"

#include "place/small_order.h"

#include <math.h>

/* Levels that are wished for in words: what is wanted on some stands there or waits, and a plan
 * that has it elsewhere is found out. One column of whole shelves, so tiers are simply counted. */

static const struct {
    const char *name;
    ks_level_wish wish;
} wishes[] = {
    {"bottom", {KS_BOTTOM, 0, NULL}},     {"low", {KS_LOW, 0, NULL}},
    {"top", {KS_TOP, 0, NULL}},           {"tier 2", {KS_ON_TIER, 2, NULL}},
    {"not 1", {KS_NOT_ON_TIER, 1, NULL}},
};
enum { N_WISHES = sizeof wishes / sizeof *wishes };

static const ks_level_wish low = {KS_LOW, 0, NULL}, none = {KS_ANY_LEVEL, 0, NULL},
                           on_second = {KS_ON_TIER, 2, NULL};

static bool as_wished(const ks_level_wish *wish, int tier, int most)
{
    return wish->word == KS_BOTTOM    ? tier == 1
           : wish->word == KS_LOW     ? tier <= (most + 1) / 2
           : wish->word == KS_TOP     ? tier == most
           : wish->word == KS_ON_TIER ? tier == wish->tier
                                      : tier != wish->tier;
}

/* How many of the piece stand as wished; -1 when one does not. */
static int standing(const ks_plan *plan, int piece, const ks_level_wish *wish)
{
    int n = 0;
    for (int i = 0; i < plan->n_loads; i++)
        for (int l = 0; l < plan->loads[i].n_levels; l++)
            for (int k = 0; k < plan->loads[i].levels[l].n_pieces; k++) {
                if (plan->loads[i].levels[l].pieces[k].piece != piece)
                    continue;
                if (!as_wished(wish, l + 1, plan->loads[i].n_levels))
                    return -1;
                n++;
            }
    return n;
}

/* More mugs than go in beside the rest. */
static void ware_order(small_order *s)
{
    small_begun(s, 460, 5, 0, 1);
    cylinder_added(s, "plate", 90, 35, 6);
    cylinder_added(s, "mug", 40, 80, 60);
    cylinder_added(s, "jug", 50, 150, 6);
}

static void wished_ware_stands_so_or_waits(void **state)
{
    (void)state;
    for (int piece = 0; piece < 3; piece += 2)
        for (int w = 0; w < N_WISHES; w++)
            for (uint64_t seed = 1; seed <= 1; seed++) {
                small_order s;
                ware_order(&s);
                s.order.pieces[piece].wish = wishes[w].wish;
                ks_plan *plan = planned(&s, 2, 1, seed);
                int n = standing(plan, piece, &wishes[w].wish);
                if (n < 0 || rules_broken(&s, plan) != 0)
                    fail_msg("%s, seed %d: %d", wishes[w].name, (int)seed, n);
                ks_arena_finish(&s.arena);
            }
}

/* Its level is built as tall as it is, wherever it is wished: four jugs and more go on one. */
static void what_must_go_finds_the_level_wished_for(void **state)
{
    (void)state;
    for (int w = 0; w < N_WISHES; w++)
        for (uint64_t seed = 1; seed <= 2; seed++) {
            small_order s;
            ware_order(&s);
            s.order.pieces[2].wish = wishes[w].wish;
            s.order.pieces[2].must_go = true;
            ks_plan *plan = planned(&s, 2, 1, seed);
            if (standing(plan, 2, &wishes[w].wish) != 6 || rules_broken(&s, plan) != 0)
                fail_msg("%s, seed %d: %d", wishes[w].name, (int)seed,
                         standing(plan, 2, &wishes[w].wish));
            ks_arena_finish(&s.arena);
        }
}

/* Levels may stand in any order, so a kind that is to be low costs next to nothing, and is in as
 * it is without the rule. */
static void a_kind_of_ware_goes_low(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 2; seed++) {
        small_order s;
        ware_order(&s);
        double free = planned(&s, 4, 1, seed)->worth;
        s.order.rules.low_tags = s.order.pieces[0].tags = 1;
        ks_plan *plan = planned(&s, 4, 1, seed);
        assert_int_equal(rules_broken(&s, plan), 0);
        assert_true(standing(plan, 0, &low) >= 4);
        assert_true(plan->worth > 0.98 * free);
        ks_arena_finish(&s.arena);
    }
}

static bool on_one_level(const ks_level *level, int piece)
{
    for (int k = 0; k < level->n_pieces; k++)
        if (level->pieces[k].piece == piece)
            return true;
    return false;
}

/* Where there is room for all, both are in, on one level; else what would be alone waits. */
static void a_piece_stands_beside_another_or_waits(void **state)
{
    (void)state;
    for (int mugs = 20; mugs <= 60; mugs += 40) {
        small_order s;
        small_begun(&s, 460, 5, 0, 1);
        cylinder_added(&s, "lid", 40, 30, 3)->wish.beside = "jug";
        cylinder_added(&s, "jug", 50, 150, 2);
        cylinder_added(&s, "mug", 40, 80, mugs);
        cylinder_added(&s, "tile", 60, 20, 8);
        ks_plan *plan = planned(&s, 2, 1, 1);
        assert_int_equal(rules_broken(&s, plan), 0);
        for (int l = 0; l < plan->loads[0].n_levels; l++)
            assert_true(!on_one_level(&plan->loads[0].levels[l], 0) ||
                        on_one_level(&plan->loads[0].levels[l], 1));
        if (mugs == 20)
            assert_int_equal(plan->n_left_out, 0);
        s.order.pieces[0].wish.beside = "nothing";
        if (mugs == 20)
            assert_true(rules_broken(&s, plan) > 0);
        ks_arena_finish(&s.arena);
    }
}

/* The only level that a load of one shelf has. */
static void what_can_not_stand_as_wished_waits(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 200, 1, 0, 1);
    cylinder_added(&s, "plate", 90, 35, 1)->wish = on_second;
    cylinder_added(&s, "mug", 40, 80, 4);
    ks_plan *plan = planned(&s, 2, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(plan->n_left_out, 1);
    assert_string_equal(plan->left_out[0].id, "plate");
    assert_int_equal(plan->left_out[0].rule.name, KS_WHY_WISHED_LEVEL);
    assert_string_equal(plan->left_out[0].rule.level, "2");
    ks_arena_finish(&s.arena);
}

static void a_plan_against_the_wish_breaks_kept(void **state)
{
    (void)state;
    small_order s;
    ware_order(&s);
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_true(plan->loads[0].n_levels > 2);
    for (int l = 0; l < plan->loads[0].n_levels; l++) {
        int piece = -1;
        for (int k = 0; k < plan->loads[0].levels[l].n_pieces; k++)
            piece = plan->loads[0].levels[l].pieces[k].piece;
        s.order.pieces[piece].wish = (ks_level_wish){KS_NOT_ON_TIER, l + 1, NULL};
        assert_true(rules_broken(&s, plan) > 0);
        for (int w = 0; w < N_WISHES; w++) {
            s.order.pieces[piece].wish = wishes[w].wish;
            bool broken = standing(plan, piece, &wishes[w].wish) < 0;
            assert_int_equal(rules_broken(&s, plan) > 0, broken);
        }
        s.order.pieces[piece].wish = none;
    }
    ks_arena_finish(&s.arena);
}

/* Of the levels that take no ware the bottom one is as low as its shortest ware would need. */
static void a_level_without_ware_is_low_and_bare(void **state)
{
    (void)state;
    static ks_no_ware bottom = {{KS_BOTTOM, 0, NULL}, 0, 0};
    for (uint64_t seed = 1; seed <= 2; seed++) {
        small_order s;
        ware_order(&s);
        s.order.rules.no_ware = &bottom;
        s.order.rules.n_no_ware = 1;
        ks_plan *plan = planned(&s, 2, 1, seed);
        const ks_load *load = &plan->loads[0];
        assert_int_equal(rules_broken(&s, plan), 0);
        assert_true(load->n_levels > 1);
        assert_int_equal(load->levels[0].n_pieces, 0);
        assert_true(load->levels[0].gap_mm <= 50);
        s.order.rules.no_ware = &(ks_no_ware){on_second, 0, 0};
        assert_true(rules_broken(&s, plan) > 0);
        ks_arena_finish(&s.arena);
    }
}

/* How far ware reaches into these heights, mm. */
static double reached(const ks_load *load, double from, double to)
{
    double most = 0;
    for (int l = 0; l < load->n_levels; l++)
        for (int k = 0; k < load->levels[l].n_pieces; k++) {
            double z = load->levels[l].z_mm, top = z + load->levels[l].pieces[k].top_mm;
            if (z < to && top > from)
                most = top - from > most ? top - from : most;
        }
    return most;
}

static void heights_without_ware_are_kept(void **state)
{
    (void)state;
    static const double bands[][2] = {{0, 90}, {180, 240}, {400, 460}};
    for (int b = 0; b < 3; b++) {
        small_order s;
        ware_order(&s);
        ks_no_ware no = {none, bands[b][0], bands[b][1]};
        s.order.rules.no_ware = &no;
        s.order.rules.n_no_ware = 1;
        ks_plan *plan = planned(&s, 2, 1, 1);
        assert_int_equal(rules_broken(&s, plan), 0);
        assert_true(pieces_in(plan) > 20);
        check_near(reached(&plan->loads[0], no.from_mm, no.to_mm), 0, 1e-9);
        no = (ks_no_ware){none, 0, 460};
        assert_true(rules_broken(&s, plan) > 0);
        ks_arena_finish(&s.arena);
    }
}

/* How deep below the rim the piece is held, at the most. */
static double deepest(const ks_plan *plan, int piece, double height)
{
    double most = 0;
    for (int l = 0; l < plan->loads[0].n_levels; l++)
        if (on_one_level(&plan->loads[0].levels[l], piece)) {
            double deep = plan->loads[0].height_mm - plan->loads[0].levels[l].z_mm - height / 2;
            most = deep > most ? deep : most;
        }
    return most;
}

static void what_is_heavy_is_set_down_within_reach(void **state)
{
    (void)state;
    small_order s;
    ware_order(&s);
    s.order.pieces[2].bare_mass_kg = 9; /* its mass stays: shelves shall bear it */
    s.order.pieces[2].must_go = true;
    s.order.rules.arm_mm = 230;
    s.order.rules.heavy_kg = 8;
    ks_plan *plan = planned(&s, 2, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(standing(plan, 2, &none), 6);
    assert_true(deepest(plan, 2, 150) <= 230);
    s.order.rules.arm_mm = deepest(plan, 2, 150) - 1;
    assert_true(rules_broken(&s, plan) > 0);
    s.order.rules.hoist_kg = 10;
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

/* The one level of this kiln takes ware of 160 mm. */
static ks_ruler ruler_with(double height, double tape)
{
    small_order s;
    small_begun(&s, 200, 1, 0, 1);
    cylinder_added(&s, "cup", 40, 80, 4);
    cylinder_added(&s, "vase", 40, height, 1)->tape_mm = tape;
    ks_plan *plan = planned(&s, 1, 1, 1);
    ks_check_report report;
    ks_check(plan, &s.arena, &report);
    assert_true(report.ok && plan->loads[0].n_levels == 1);
    ks_ruler ruler = report.ruler;
    assert_true(ruler.n == 0 || strcmp(ruler.of[0].id, "vase") == 0);
    ks_arena_finish(&s.arena);
    return ruler;
}

static void heights_that_decide_are_told(void **state)
{
    (void)state;
    ks_ruler near = ruler_with(158.5, NAN), over = ruler_with(161.2, NAN);
    assert_true(near.n == 1 && !near.of[0].waits && over.n == 1 && over.of[0].waits);
    check_near(near.of[0].decides_mm, 1.5, 1e-6);
    check_near(over.of[0].decides_mm, 1.2, 1e-6);
    check_near(near.above_mm, 200 - 30 - 158.5 - 2,
               1e-6); /* the lid's clearance is left, but 0.5 */
    assert_int_equal(ruler_with(157, NAN).n, 0);
    assert_int_equal(ruler_with(163, NAN).n, 0);
    assert_int_equal(ruler_with(157, 4).n, 1);
    assert_int_equal(ruler_with(159, 0.5).n, 0);
}

/* Whole shelves and halves, cone packs: the checker counts tiers by itself. */
static void wishes_are_kept_where_bays_part(void **state)
{
    (void)state;
    for (int w = 0; w < N_WISHES; w++) {
        small_order s;
        small_begun(&s, 460, 3, 6, 1);
        cylinder_added(&s, "plate", 90, 35, 6)->wish = wishes[w].wish;
        cylinder_added(&s, "mug", 40, 80, 40);
        cylinder_added(&s, "jug", 50, 150, 6);
        cones_wanted(&s);
        ks_plan *plan = planned(&s, 2, 1, 1);
        assert_int_equal(rules_broken(&s, plan), 0);
        ks_arena_finish(&s.arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wished_ware_stands_so_or_waits),
        cmocka_unit_test(what_must_go_finds_the_level_wished_for),
        cmocka_unit_test(a_kind_of_ware_goes_low),
        cmocka_unit_test(a_piece_stands_beside_another_or_waits),
        cmocka_unit_test(what_can_not_stand_as_wished_waits),
        cmocka_unit_test(a_plan_against_the_wish_breaks_kept),
        cmocka_unit_test(a_level_without_ware_is_low_and_bare),
        cmocka_unit_test(heights_without_ware_are_kept),
        cmocka_unit_test(wishes_are_kept_where_bays_part),
        cmocka_unit_test(what_is_heavy_is_set_down_within_reach),
        cmocka_unit_test(heights_that_decide_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
