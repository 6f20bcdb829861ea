#include "check.h"

#include "place/small_order.h"

/* What costs nothing and people like: heavy ware low, one owner's ware together. */

static double mass_on(const small_order *s, const ks_level *level)
{
    double sum = 0;
    for (int i = 0; i < level->n_pieces; i++)
        if (level->pieces[i].piece >= 0)
            sum += s->order.pieces[level->pieces[i].piece].mass_kg;
    return sum;
}

static void heavy_levels_are_low(void **state)
{
    for (uint64_t seed = 1; seed <= 4; seed++) {
        small_order s;
        small_begun(&s, 460, 4, 0, 1);
        cylinder_added(&s, "light", 60, 95, 9)->mass_kg = 0.2;
        cylinder_added(&s, "middling", 60, 95, 9)->mass_kg = 1.1;
        cylinder_added(&s, "heavy", 60, 45, 9)->mass_kg = 3;
        cylinder_added(&s, "heaviest", 60, 95, 9)->mass_kg = 5;
        ks_plan *plan = planned(&s, 4, 1, seed);
        const ks_load *load = &plan->loads[0];
        assert_int_equal(rules_broken(&s, plan), 0);
        assert_int_equal(load->n_levels, 4);
        for (int l = 1; l < load->n_levels; l++)
            assert_true(mass_on(&s, &load->levels[l - 1]) >= mass_on(&s, &load->levels[l]) - 1e-9);
        ks_arena_finish(&s.arena);
    }
}

/* A tall piece goes up to the lid as long as nothing tells it not to. */
static void the_heavy_top_level_comes_down_with_posts_of_its_own(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 1);
    s.order.rules.cones = (ks_cone_packs){.wanted = true,
                                          .bottom = true,
                                          .top = true,
                                          .width_mm = 60,
                                          .depth_mm = 25,
                                          .height_mm = 65};
    cylinder_added(&s, "anvil", 50, 140, 8)->mass_kg = 4;
    cylinder_added(&s, "cup", 50, 55, 8)->mass_kg = 0.3;
    ks_plan *plan = planned(&s, 4, 1, 1);
    const ks_load *load = &plan->loads[0];
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "anvil") + placed_of(plan, "cup"), 16);
    assert_int_equal(load->n_levels, 2);
    assert_true(mass_on(&s, &load->levels[0]) > 10 * mass_on(&s, &load->levels[1]));
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(heavy_levels_are_low),
        cmocka_unit_test(the_heavy_top_level_comes_down_with_posts_of_its_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
