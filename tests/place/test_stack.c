#include "check.h"

#include "place/small_order.h"
#include "place/stack/stack.h"

/* Three shelves, and posts of one height over short ones on the floor. */
static void posts_of(small_order *s, double height_mm)
{
    ks_kiln *kiln = s->order.kilns;
    kiln->n_posts = 2;
    kiln->posts[0].height_mm = 20;
    kiln->posts[1].height_mm = height_mm;
    kiln->clearance.above = 6;
}

/* A level is worth 1 where the ware goes in. */
static double holds_ware(void *job, const ks_stack_level *level)
{
    const ks_job *j = job;
    return ks_height_index(j, ks_level_clear_mm(&j->kinds[0], level)) >= 0;
}

/* On how many of three levels ware so much lower than the gap of a post goes in. */
static int levels_good_for(double post_mm, double lower_mm)
{
    small_order s;
    small_begun(&s, 20 + 2 * post_mm + 30 + post_mm + 10, 3, 0, 1);
    posts_of(&s, post_mm);
    double tall = round((post_mm - 6 - lower_mm) * 1000) / 1000; /* as a user writes it */
    cylinder_added(&s, "jar", 150, tall, 3);
    ks_place_options options = ks_place_default();
    ks_job job;
    assert_int_equal(ks_job_init(&job, &s.order, &options, &s.arena, NULL), KS_OK);
    ks_stack_wish wish = {.job = &job, .kind = &job.kinds[0], .value = holds_ware, .context = &job};
    ks_stack stack = ks_stack_best(&wish, &s.arena);
    int n = 0;
    for (int l = 0; l < stack.n_levels; l++)
        n += holds_ware(&job, &stack.levels[l]) > 0;
    ks_arena_finish(&s.arena);
    return n;
}

static void ware_as_tall_as_its_gap_goes_in_under_any_inch_post(void **state)
{
    (void)state;
    for (int quarters = 6; quarters <= 96; quarters++) /* 1 in = 25.4 mm exactly */
        if (levels_good_for(quarters * 6.35, 0) != 3)
            fail_msg("a post of %g in", quarters / 4.0);
}

static void ware_as_tall_as_its_gap_goes_in_under_any_metric_post(void **state)
{
    (void)state;
    for (int mm = 50; mm <= 300; mm += 5)
        if (levels_good_for(mm, 0) != 3 || levels_good_for(mm, 0.01) != 3)
            fail_msg("a post of %d mm", mm);
}

static void ware_a_grid_step_taller_than_its_gap_waits_for_the_top(void **state)
{
    (void)state;
    for (int halves = 4; halves <= 24; halves++)
        assert_true(levels_good_for(halves * 12.7, -0.01) < 3);
}

static void like_pieces_as_tall_as_their_gap_fill_every_level(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 20 + 3 * 101.6 + 30 + 10, 3, 0, 1);
    posts_of(&s, 101.6);
    cylinder_added(&s, "mug", 45, 95.6, 36);
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "mug"), 36);
    ks_arena_finish(&s.arena);
}

/* What a level takes: low ware, middling, tall; the last one under the lid. */
enum { KINDS_OF_WARE = 3, LISTED_MOST = 500 };
static const double ware_mm[KINDS_OF_WARE] = {40, 90, 140},
                    ware_worth[KINDS_OF_WARE] = {1, 1.7, 2.6};

typedef struct {
    int under[KINDS_OF_WARE]; /* levels under a shelf that take just this ware */
    int top;                  /* ware of the top level */
} levels_for;

static double worth_for_ware(void *job, const ks_stack_level *level)
{
    const ks_job *j = job;
    int h = ks_height_index(j, ks_level_clear_mm(&j->kinds[0], level));
    return h < 0 ? 0 : ware_worth[h];
}

static double worth_of_levels(levels_for of)
{
    double sum = ware_worth[of.top];
    for (int k = 0; k < KINDS_OF_WARE; k++)
        sum += of.under[k] * ware_worth[k];
    return sum;
}

static levels_for levels_of(const ks_job *job, const ks_stack *stack)
{
    levels_for of = {{0}, 0};
    for (int l = 0; l < stack->n_levels; l++) {
        int h = ks_height_index(job, ks_level_clear_mm(&job->kinds[0], &stack->levels[l]));
        assert_true(h >= 0);
        if (stack->levels[l].posts < 0)
            of.top = h;
        else
            of.under[h]++;
    }
    return of;
}

static int times_listed(const ks_job *job, const ks_stack *listed, int n, levels_for of)
{
    int times = 0;
    for (int i = 0; i < n; i++) {
        levels_for other = levels_of(job, &listed[i]);
        times += memcmp(&other, &of, sizeof of) == 0;
    }
    return times;
}

/* Lowest shelf on a post of 20, 2 x 20 or 50 mm; each shelf 10 mm thick; gaps of 50, 100 and 150;
 * 10 mm free under the lid. False when that is too high. */
static bool is_buildable(double height_mm, double floor_mm, levels_for *of)
{
    double z = floor_mm + 10;
    for (int k = 0; k < KINDS_OF_WARE; k++)
        z += of->under[k] * (ware_mm[k] + 10 + 10);
    of->top = -1;
    for (int k = 0; k < KINDS_OF_WARE; k++)
        of->top = z + ware_mm[k] + 10 <= height_mm ? k : of->top;
    return of->top >= 0;
}

/* Every choice of levels worth nine tenths of the best is listed, none twice, the best first. */
static void good_stacks_are_listed_each_once(void **state)
{
    (void)state;
    static const double floors[] = {20, 40, 50};
    small_order s;
    small_begun(&s, 480, 4, 0, 1);
    for (int k = 0; k < KINDS_OF_WARE; k++)
        cylinder_added(&s, "jar", 60, ware_mm[k], 4);
    ks_place_options options = ks_place_default();
    ks_job job;
    assert_int_equal(ks_job_init(&job, &s.order, &options, &s.arena, NULL), KS_OK);
    ks_stack_wish wish = {
        .job = &job, .kind = &job.kinds[0], .value = worth_for_ware, .context = &job};
    ks_stack listed[LISTED_MOST];
    int n = ks_stacks_good(&wish, LISTED_MOST, listed, &s.arena), wanted = 0;
    double best = ks_stack_best(&wish, &s.arena).value;
    check_near(listed[0].value, best, 1e-9);
    for (int i = 0; i < n; i++) {
        check_near(listed[i].value, worth_of_levels(levels_of(&job, &listed[i])), 1e-9);
        assert_true(i == 0 || listed[i].value <= listed[i - 1].value);
        assert_int_equal(times_listed(&job, listed, n, levels_of(&job, &listed[i])), 1);
    }
    for (int f = 0; f < 3; f++)
        for (int i = 0; i < 64; i++) {
            levels_for of = {{i % 4, i / 4 % 4, i / 16}, 0};
            if (of.under[0] + of.under[1] + of.under[2] > 3 || !is_buildable(480, floors[f], &of) ||
                worth_of_levels(of) < 0.9 * best + 1e-6)
                continue;
            assert_int_equal(times_listed(&job, listed, n, of), 1);
            wanted++;
        }
    assert_true(wanted > 3);
    ks_arena_finish(&s.arena);
}

static int jars_placed(small_order *s)
{
    cylinder_added(s, "jar", 150, 90, 3);
    ks_plan *plan = planned(s, 1, 1, 1);
    assert_int_equal(rules_broken(s, plan), 0);
    return placed_of(plan, "jar");
}

static void a_shelf_may_lie_on_the_floor_and_carry_posts(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 330, 3, 0, 1);
    s.order.kilns->floor_post_least_mm = 0;
    s.order.kilns->posts[0].count = 0;
    assert_int_equal(jars_placed(&s), 3);
    ks_arena_finish(&s.arena);
}

static void a_post_on_the_floor_shelf_but_beside_it_is_found(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 330, 3, 0, 1);
    s.order.kilns->floor_post_least_mm = 0;
    s.order.kilns->posts[0].count = 0;
    cylinder_added(&s, "jar", 150, 90, 3);
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_true(plan->loads[0].levels[0].z_mm <= 10);
    ks_stand over_the_edge = {0, 220, 0};
    plan->loads[0].posts[0].outline =
        ks_outline_place(&s.order.kilns->posts[0].outline, over_the_edge, &s.arena);
    ks_check_report report;
    ks_check(plan, &s.arena, &report);
    assert_false(report.ok);
    ks_arena_finish(&s.arena);
}

/* A gap of 100 mm could only be made of a round post and a square one. */
static void posts_of_unlike_cross_section_are_not_stacked(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 400, 3, 0, 1);
    ks_kiln *kiln = s.order.kilns;
    kiln->posts[1].height_mm = 40;
    kiln->posts[1].count = 3;
    kiln->posts[2].height_mm = 60;
    kiln->posts[2].outline = ks_outline_rectangle(24, 24, 0, &s.arena);
    kiln->posts[2].count = 12;
    kiln->n_posts = 3;
    cylinder_added(&s, "jar", 150, 93, 3);
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "jar"), 3); /* on two posts of 60, not on 40 and 60 */
    ks_arena_finish(&s.arena);
}

static void the_last_of_two_hundred_kinds_of_post_is_used(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 20 + 3 * 110 + 20, 3, 0, 1);
    ks_kiln *kiln = s.order.kilns;
    ks_post_kind usual = kiln->posts[0];
    kiln->n_posts = 200;
    kiln->posts = KS_TAKE(&s.arena, kiln->n_posts, ks_post_kind);
    for (int i = 0; i < kiln->n_posts; i++) {
        kiln->posts[i] = usual;
        kiln->posts[i].height_mm = i < 198 ? 400 + i : i == 198 ? 20 : 100;
    }
    assert_int_equal(jars_placed(&s), 3);
    ks_arena_finish(&s.arena);
}

static void the_last_of_two_hundred_kinds_of_shelf_is_used(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 20 + 3 * 110 + 20, 3, 0, 1);
    ks_kiln *kiln = s.order.kilns;
    ks_shelf_kind usual = kiln->shelves[0];
    kiln->n_shelves = 200;
    kiln->shelves = KS_TAKE(&s.arena, kiln->n_shelves, ks_shelf_kind);
    for (int i = 0; i < kiln->n_shelves; i++)
        kiln->shelves[i] = usual;
    for (int i = 0; i < 199; i++)
        kiln->shelves[i].count = 0;
    kiln->bays[0].supports[0].shelves[0].kind = 199;
    assert_int_equal(jars_placed(&s), 3);
    ks_arena_finish(&s.arena);
}

/* Low tiles on more levels than sixteen. */
static void a_tall_kiln_gets_all_the_levels_its_shelves_make(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 20 + 20 * 30 + 40, 20, 0, 1);
    s.order.kilns->n_posts = 1;
    s.order.kilns->posts[0].count = 60;
    cylinder_added(&s, "tile", 160, 12, 20);
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "tile"), 20);
    ks_arena_finish(&s.arena);
}

/* Posts of each height of two cross-sections, the wide ones first; where they stand is asked. */
static ks_kiln *wide_and_slim_begun(small_order *s, double wide, double deep, double slim)
{
    small_begun(s, 330, 3, 0, 1);
    cylinder_added(s, "mug", 40, 90, 40);
    ks_kiln *kiln = s->order.kilns;
    ks_post_kind *posts = KS_TAKE(&s->arena, 2 * kiln->n_posts, ks_post_kind);
    for (int i = 0; i < kiln->n_posts; i++) {
        posts[2 * i] = posts[2 * i + 1] = kiln->posts[i];
        posts[2 * i].outline = ks_outline_rectangle(wide, deep, 0, &s->arena);
        posts[2 * i + 1].outline = ks_outline_disc(0, 0, slim, &s->arena);
    }
    kiln->posts = posts;
    kiln->n_posts *= 2;
    return kiln;
}

static void places_told(small_order *s, ks_point a, ks_point b, ks_point c, ks_point d)
{
    ks_support *support = &s->order.kilns->bays[0].supports[0];
    support->n_posts = 4;
    support->posts = KS_TAKE(&s->arena, 4, ks_point);
    support->posts[0] = a;
    support->posts[1] = b;
    support->posts[2] = c;
    support->posts[3] = d;
}

/* All levels stand on posts of the other cross-section, and the plan breaks no rule. */
static void only_corners_are(small_order *s, int corners)
{
    ks_plan *plan = planned(s, 1, 1, 1);
    assert_int_equal(rules_broken(s, plan), 0);
    assert_int_equal(plan->n_loads, 1);
    assert_true(plan->loads[0].n_levels >= 2);
    for (int i = 0; i < plan->loads[0].n_posts; i++)
        assert_int_equal(plan->loads[0].posts[i].outline.n, corners);
    ks_arena_finish(&s->arena);
}

static void posts_that_would_meet_each_other_are_not_stood(void **state)
{
    (void)state;
    small_order s;
    wide_and_slim_begun(&s, 60, 25, 12);
    places_told(&s, (ks_point){-22, -180}, (ks_point){22, -180}, (ks_point){-165, 180},
                (ks_point){165, 180});
    only_corners_are(&s, 1);
}

static void posts_that_reach_too_little_under_the_shelf_are_not_stood(void **state)
{
    (void)state;
    small_order s; /* the shelf ends at 200 */
    wide_and_slim_begun(&s, 4, 4, 9);
    places_told(&s, (ks_point){-198, -180}, (ks_point){198, -180}, (ks_point){-198, 180},
                (ks_point){198, 180});
    only_corners_are(&s, 1);
}

static void posts_that_would_meet_a_sensor_are_not_stood(void **state)
{
    (void)state;
    small_order s;
    ks_kiln *kiln = wide_and_slim_begun(&s, 20, 60, 12);
    places_told(&s, (ks_point){-180, -160}, (ks_point){180, -160}, (ks_point){-160, 160},
                (ks_point){160, 160});
    kiln->n_keep_outs = 1;
    kiln->keep_outs = KS_TAKE(&s.arena, 1, ks_keep_out);
    kiln->keep_outs[0] = (ks_keep_out){.kind = "sensor",
                                       .outline = ks_outline_rectangle(20, 10, 0, &s.arena),
                                       .from_mm = 15,
                                       .to_mm = 20};
    ks_outline *at = &kiln->keep_outs[0].outline;
    *at = ks_outline_place(at, (ks_stand){160, 205, 0}, &s.arena);
    kiln->keep_outs[0].outline = ks_outline_place(at, (ks_stand){0, -18, 0}, &s.arena);
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_true(pieces_in(plan) > 0);
    for (int i = 0; i < plan->loads[0].n_posts; i++)
        if (plan->loads[0].posts[i].from_mm < 20)
            assert_int_equal(plan->loads[0].posts[i].outline.n, 1);
    ks_arena_finish(&s.arena);
}

static void a_peephole_that_looks_between_halves_keeps_nothing_out(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 330, 0, 6, 1);
    cones_wanted(&s);
    s.order.rules.cones.at_peephole = true;
    cylinder_added(&s, "mug", 40, 90, 12);
    ks_kiln *kiln = s.order.kilns;
    ks_outline hole = ks_outline_rectangle(20, 10, 0, &s.arena);
    kiln->n_keep_outs = 1;
    kiln->keep_outs = KS_TAKE(&s.arena, 1, ks_keep_out);
    kiln->keep_outs[0] =
        (ks_keep_out){.kind = "peephole",
                      .outline = ks_outline_place(&hole, (ks_stand){0, -205, 0}, &s.arena),
                      .from_mm = 10,
                      .to_mm = 300};
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "mug"), 12);
    ks_arena_finish(&s.arena);
}

/* The lintel is 90 mm over the only level's shelf, the lid far above it. */
static void ware_that_would_reach_over_the_lintel_stays_out(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 330, 1, 0, 1);
    cylinder_added(&s, "low", 40, 90, 4);
    cylinder_added(&s, "tall", 40, 91, 4);
    ks_kiln *kiln = s.order.kilns;
    kiln->loading = KS_FRONT_LOADER;
    kiln->n_posts = 1; /* 20 mm */
    kiln->opening_width_mm = 420;
    kiln->opening_height_mm = 320;
    kiln->opening_sill_mm = 30 + 90 - 320;
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "low"), 4);
    assert_int_equal(placed_of(plan, "tall"), 0);
    ks_arena_finish(&s.arena);
}

/* Under the lid there is room for it higher up, where it would not come in. */
static void a_top_level_is_as_low_as_the_lintel_asks(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 330, 1, 0, 1);
    cylinder_added(&s, "tall", 40, 180, 1);
    ks_kiln *kiln = s.order.kilns;
    kiln->loading = KS_FRONT_LOADER;
    kiln->opening_width_mm = 420;
    kiln->opening_height_mm = 220;
    ks_plan *plan = planned(&s, 1, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "tall"), 1);
    assert_true(plan->bound >= plan->worth);
    ks_arena_finish(&s.arena);
}

/* The higher the better, but for what is asked. */
static double high_up(void *context, const ks_stack_level *level)
{
    (void)context;
    return 1 + ks_mm_of(level->z) / 1000;
}

/* From 40 mm up the lintel leaves less than what is asked, the lid far more. */
static void a_level_asked_for_is_no_higher_than_the_lintel_lets_its_ware_in(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 330, 1, 0, 1);
    cylinder_added(&s, "low", 40, 60, 1);
    cylinder_added(&s, "tall", 40, 180, 1);
    ks_kiln *kiln = s.order.kilns;
    kiln->loading = KS_FRONT_LOADER;
    kiln->opening_width_mm = 420;
    kiln->opening_height_mm = 220;
    ks_place_options options = ks_place_default();
    ks_job job;
    assert_int_equal(ks_job_init(&job, &s.order, &options, &s.arena, NULL), KS_OK);
    ks_level_need need = {.clear_mm = 180, .support = -1};
    ks_stack_wish wish = {
        .job = &job, .kind = &job.kinds[0], .value = high_up, .n_needs = 1, .needs = &need};
    ks_stack stack = ks_stack_best(&wish, &s.arena);
    assert_int_equal(stack.n_levels, 1);
    assert_true(ks_level_clear_mm(&job.kinds[0], &stack.levels[0]) >= 180);
    ks_arena_finish(&s.arena);
}

/* Two halves side by side may go up in step, each on posts of its own. */
static void a_half_asked_for_alone_is_built_alone(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 330, 0, 2, 1);
    cylinder_added(&s, "low", 30, 60, 1);
    ks_place_options options = ks_place_default();
    ks_job job;
    assert_int_equal(ks_job_init(&job, &s.order, &options, &s.arena, NULL), KS_OK);
    const ks_furniture *f = job.kinds[0].furniture;
    ks_level_need need = {.bay = s.order.kilns[0].n_bays - 1, .clear_mm = 60, .support = -1};
    int found = 0;
    for (int p = 0; p < f->n_places; p++) {
        ks_stack_wish wish = {.job = &job,
                              .kind = &job.kinds[0],
                              .value = high_up,
                              .n_needs = 1,
                              .needs = &need,
                              .only_on = &p};
        ks_stack stack = ks_stack_best(&wish, &s.arena);
        found += stack.n_levels > 0;
        assert_true(stack.n_levels <= 1);
    }
    assert_true(found > 0);
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ware_as_tall_as_its_gap_goes_in_under_any_inch_post),
        cmocka_unit_test(ware_as_tall_as_its_gap_goes_in_under_any_metric_post),
        cmocka_unit_test(ware_a_grid_step_taller_than_its_gap_waits_for_the_top),
        cmocka_unit_test(like_pieces_as_tall_as_their_gap_fill_every_level),
        cmocka_unit_test(good_stacks_are_listed_each_once),
        cmocka_unit_test(a_shelf_may_lie_on_the_floor_and_carry_posts),
        cmocka_unit_test(a_post_on_the_floor_shelf_but_beside_it_is_found),
        cmocka_unit_test(posts_of_unlike_cross_section_are_not_stacked),
        cmocka_unit_test(the_last_of_two_hundred_kinds_of_post_is_used),
        cmocka_unit_test(the_last_of_two_hundred_kinds_of_shelf_is_used),
        cmocka_unit_test(posts_that_would_meet_each_other_are_not_stood),
        cmocka_unit_test(posts_that_reach_too_little_under_the_shelf_are_not_stood),
        cmocka_unit_test(posts_that_would_meet_a_sensor_are_not_stood),
        cmocka_unit_test(a_peephole_that_looks_between_halves_keeps_nothing_out),
        cmocka_unit_test(ware_that_would_reach_over_the_lintel_stays_out),
        cmocka_unit_test(a_top_level_is_as_low_as_the_lintel_asks),
        cmocka_unit_test(a_level_asked_for_is_no_higher_than_the_lintel_lets_its_ware_in),
        cmocka_unit_test(a_half_asked_for_alone_is_built_alone),
        cmocka_unit_test(a_tall_kiln_gets_all_the_levels_its_shelves_make),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
