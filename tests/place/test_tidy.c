#include "check.h"

#include "place/small_order.h"
#include "place/finish/tidy.h"

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
    cones_wanted(&s);
    cylinder_added(&s, "anvil", 50, 140, 8)->mass_kg = 1; /* a 10 mm shelf bears them all */
    cylinder_added(&s, "cup", 50, 55, 8)->mass_kg = 0.05;
    ks_plan *plan = planned(&s, 4, 1, 1);
    const ks_load *load = &plan->loads[0];
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "anvil") + placed_of(plan, "cup"), 16);
    assert_int_equal(load->n_levels, 2);
    assert_true(mass_on(&s, &load->levels[0]) > 10 * mass_on(&s, &load->levels[1]));
    ks_arena_finish(&s.arena);
}

/* Three levels of a load with such pieces on them, each digit a piece of the order. */
static ks_draft drafted(const ks_job *job, const char *const on[3], ks_arena *arena)
{
    ks_draft draft = ks_draft_empty(job, arena);
    ks_draft_load *load = &draft.loads[0];
    load->n_levels = 3;
    load->levels = KS_TAKE(arena, 3, ks_draft_level);
    for (int l = 0; l < 3; l++) {
        ks_shelf_layout *layout = &load->levels[l].layout;
        layout->n_spots = (int)strlen(on[l]);
        layout->spots = KS_TAKE(arena, layout->n_spots, ks_shelf_spot);
        for (int i = 0; i < layout->n_spots; i++)
            layout->spots[i] = (ks_shelf_spot){on[l][i] - '0', {100.0 * i, 0, 0}};
    }
    return draft;
}

static void is_on(const ks_draft *draft, int level, const char *wanted)
{
    const ks_shelf_layout *layout = &draft->loads[0].levels[level].layout;
    char found[16] = "";
    for (int i = 0; i < layout->n_spots; i++)
        found[i] = (char)('0' + layout->spots[i].item);
    assert_string_equal(found, wanted);
}

/* Pieces 0 to 2 are alike but for their owner; 3 is another's as well, and heavier; 4 has a tag. */
static void an_owners_alike_pieces_stand_on_one_level(void **state)
{
    static const char *const before[3] = {"012", "0124", "0123"}, *const owners = "ann\0ben\0cyd";
    small_order s;
    small_begun(&s, 400, 3, 0, 1);
    for (int i = 0; i < 5; i++)
        cylinder_added(&s, "mug", 40, 95, 4)->owner = owners + 4 * (i % 3);
    s.order.pieces[3].mass_kg = 0.7;
    s.order.pieces[4].tags = 1;
    ks_place_options options = ks_place_default();
    ks_job job;
    ks_error err = {0};
    assert_int_equal(ks_job_init(&job, &s.order, &options, &s.arena, &err), KS_OK);
    ks_draft draft = drafted(&job, before, &s.arena);
    assert_true(ks_tidy_owners(&job, &draft, 0));
    is_on(&draft, 0, "222");
    is_on(&draft, 1, "1114"); /* ben's own tagged piece has drawn the others */
    is_on(&draft, 2, "0003"); /* and ann's heavier one hers */
    assert_false(ks_tidy_owners(&job, &draft, 0));
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(heavy_levels_are_low),
        cmocka_unit_test(the_heavy_top_level_comes_down_with_posts_of_its_own),
        cmocka_unit_test(an_owners_alike_pieces_stand_on_one_level),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
