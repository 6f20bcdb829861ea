#include "check.h"

#include "base/random.h"
#include "place/bound/bound.h"
#include "place/bound/lp.h"
#include "place/small_order.h"

#include <math.h>

/* The bound is never below what can be placed: against every choice of few pieces on one shelf, and
 * against the planner itself from many seeds; at any prices, item or bad. */

static void job_begun(small_order *s, ks_job *job)
{
    ks_place_options options = ks_place_default();
    ks_error err = {0};
    assert_int_equal(ks_job_init(job, &s->order, &options, &s->arena, &err), KS_OK);
}

static void random_pieces(small_order *s, ks_random *random, int n, double least, double most)
{
    for (int i = 0; i < n; i++) {
        double r = ks_random_between(random, least, most);
        ks_piece *p = cylinder_added(s, ks_arena_print(&s->arena, "p%d", i), r,
                                     ks_random_between(random, 20, 75), 1);
        p->worth = ks_random_between(random, 0.2, 1) * p->area_mm2;
    }
}

/* Greatest worth of a subset whose discs can be put into the square without overlap: here as many
 * as fit side by side in one row, which surely is a plan. */
static double best_in_a_row(const small_order *s)
{
    double best = 0;
    for (int subset = 0; subset < 1 << s->order.n_pieces; subset++) {
        double width = -6, worth = 0;
        for (int i = 0; i < s->order.n_pieces; i++)
            if (subset >> i & 1) {
                width += 6 + 2 * s->order.pieces[i].parts[0].outline.round;
                worth += s->order.pieces[i].worth;
            }
        if (width <= 400 && worth > best)
            best = worth;
    }
    return best;
}

static void no_choice_of_pieces_in_a_row_exceeds_the_bound(void **state)
{
    ks_random random = ks_random_of(11, 0);
    for (int trial = 0; trial < trials_of(60); trial++) {
        small_order s;
        small_begun(&s, 120, 1, 0, 1);
        random_pieces(&s, &random, 7, 30, 180);
        ks_job job;
        job_begun(&s, &job);
        double price[8];
        for (int i = 0; i < 7; i++)
            price[i] = ks_random_between(&random, 0, 1.2) * s.order.pieces[i].worth;
        double best = best_in_a_row(&s);
        assert_true(ks_bound_at(&job, price) >= best);
        assert_true(ks_bound_find(&job).value >= best);
        ks_arena_finish(&s.arena);
    }
}

static void no_plan_of_the_planner_exceeds_the_bound(void **state)
{
    ks_random random = ks_random_of(12, 0);
    for (int trial = 0; trial < trials_of(12); trial++) {
        small_order s;
        small_begun(&s, ks_random_between(&random, 120, 330), 3, trial % 2 ? 4 : 0, 1);
        random_pieces(&s, &random, 12, 35, 190);
        ks_plan *plan = planned(&s, 2, 1, (uint64_t)trial);
        assert_true(plan->worth <= plan->bound);
        ks_arena_finish(&s.arena);
    }
}

/* Each of these pieces is wider than half the shelf: one for each level, and the bound knows. */
static void the_bound_is_met_where_one_piece_fills_a_level(void **state)
{
    small_order s;
    small_begun(&s, 300, 2, 0, 1);
    cylinder_added(&s, "platter", 185, 40, 5);
    ks_plan *plan = planned(&s, 4, 1, 1);
    assert_int_equal(placed_of(plan, "platter"), 2);
    check_near(plan->bound / plan->worth, 1, 0.05);
    ks_arena_finish(&s.arena);
}

/* With height for one level of the tall and one of the low, area to spare on both. */
static void the_bound_is_near_where_height_runs_out(void **state)
{
    small_order s;
    small_begun(&s, 320, 2, 0, 1);
    cylinder_added(&s, "vase", 60, 150, 4);
    cylinder_added(&s, "giant", 60, 250, 2);
    cylinder_added(&s, "cup", 40, 80, 6);
    ks_plan *plan = planned(&s, 4, 1, 1);
    assert_true(plan->bound <= plan->worth * 1.35);
    assert_int_equal(rules_broken(&s, plan), 0);
    ks_arena_finish(&s.arena);
}

/* As many discs as a row across the middle of the shelf takes, clear of its posts. */
static int in_a_row(double radius)
{
    return (int)((400 + 6) / (2 * radius + 6));
}

/* The most worth that levels of one kind of ware each, in one row, come to in the height there is:
 * every choice of a number of levels of each kind is looked at. */
static double best_by_rows(const ks_piece *kinds, int n, double height_mm)
{
    double best = 0;
    for (int choice = 0; choice < 1 << (2 * n); choice++) {
        double z = 20, worth = 0, top = 0;
        int levels = 0;
        for (int k = 0; k < n; k++) {
            int of = choice >> (2 * k) & 3, each = in_a_row(kinds[k].parts[0].outline.round);
            levels += of;
            z += of * (10 + kinds[k].height_mm + 5);
            worth += (of * each < kinds[k].count ? of * each : kinds[k].count) * kinds[k].worth;
            top = of > 0 && kinds[k].height_mm > top ? kinds[k].height_mm : top;
        }
        if (levels > 0 && levels <= 4 && z + 10 - 5 <= height_mm && worth > best)
            best = worth;
    }
    return best;
}

/* Posts for every height of ware, so that each such choice is a plan; the tallest ware crowds out
 * what else would go in, so plans with it and plans without it have bounds of their own. */
static void no_levels_of_rows_exceed_the_bound(void **state)
{
    ks_random random = ks_random_of(13, 0);
    double ratios = 0; /* of the bound to the best by rows */
    int trials = trials_of(40);
    for (int trial = 0; trial < trials; trial++) {
        small_order s;
        small_begun(&s, 320, 4, trial % 2 ? 4 : 0, 1);
        for (int k = 0; k < 4; k++) {
            double height =
                floor(ks_random_between(&random, k == 3 ? 150 : 30, k == 3 ? 270 : 120));
            ks_piece *p = cylinder_added(&s, ks_arena_print(&s.arena, "p%d", k),
                                         ks_random_between(&random, 40, 150), height,
                                         1 + ks_random_below(&random, 6));
            p->worth *= ks_random_between(&random, 0.3, 2);
            s.order.kilns->posts[1 + k].height_mm = height + 5;
        }
        ks_job job;
        job_begun(&s, &job);
        double best = best_by_rows(s.order.pieces, 4, 320), bound = ks_bound_find(&job).value;
        assert_true(best > 0);
        if (bound < best)
            fail_msg("trial %d: %g of at most %g", trial, best, bound);
        ratios += bound / best;
        ks_arena_finish(&s.arena);
    }
    assert_true(ratios / trials < 2.1); /* a bound that says nothing is no bound */
}

/* A load holds the giant alone or all the cups: both cannot be, and the bound knows. */
static void tall_ware_and_what_it_crowds_out_are_not_both_counted(void **state)
{
    small_order s;
    small_begun(&s, 320, 4, 0, 1);
    cylinder_added(&s, "giant", 150, 270, 1);
    cylinder_added(&s, "plate", 180, 60, 3);
    ks_job job;
    job_begun(&s, &job);
    double giant = s.order.pieces[0].worth, plates = 3 * s.order.pieces[1].worth;
    double bound = ks_bound_find(&job).value;
    assert_true(bound < giant + plates);
    assert_true(bound >= fmax(giant, plates) && bound <= fmax(giant, plates) * (1 + 1e-6));
    ks_arena_finish(&s.arena);
}

/* A thin stem with a wide cap at a height of its own: at any one height most of them take next to
 * nothing. Worth is its true volume in litres. */
static void mushroom_added(small_order *s, double height, int count)
{
    const double stem_mm = 20, cap_mm = 90, cap_height_mm = 15, pi = 3.14159265358979323846;
    ks_piece *p =
        cylinder_added(s, ks_arena_print(&s->arena, "m%.0f", height), cap_mm, height, count);
    p->n_parts = 2;
    p->parts = KS_TAKE(&s->arena, 2, ks_part);
    p->parts[0] = (ks_part){
        KS_PART_FOOT, 0, height - cap_height_mm, ks_outline_disc(0, 0, stem_mm, &s->arena), {0}};
    p->parts[1] = (ks_part){KS_PART_BODY,
                            height - cap_height_mm,
                            height,
                            ks_outline_disc(0, 0, cap_mm, &s->arena),
                            {0}};
    p->worth =
        pi / 1e6 * (stem_mm * stem_mm * (height - cap_height_mm) + cap_mm * cap_mm * cap_height_mm);
}

/* Whatever heights the search for a bound looks at, a load never counts for more than its chamber.
 */
static void no_load_holds_more_than_its_chamber(void **state)
{
    static const double heights[] = {60, 77, 100, 118, 136, 160, 180, 200};
    const double chamber_l = 0.42 * 0.42 * 460;
    small_order s;
    small_begun(&s, 460, 4, 0, 1);
    double all = 0;
    for (size_t i = 0; i < sizeof heights / sizeof *heights; i++) {
        mushroom_added(&s, heights[i], 60);
        all += 60 * s.order.pieces[i].worth;
    }
    ks_job job;
    job_begun(&s, &job);
    assert_true(all > 2 * chamber_l);
    assert_true(ks_bound_find(&job).value <= chamber_l);
    double *volumes = KS_TAKE(&s.arena, job.n_items, double);
    ks_bound_volumes(&job, volumes);
    assert_true(ks_bound_loads(&job, 1, &volumes) >= 3);
    assert_true(planned(&s, 1, 1, 1)->worth <= ks_bound_find(&job).value);
    ks_arena_finish(&s.arena);
}

/* A height that is no whole number of micrometres, as inches or shrinkage make it. */
static void ware_of_any_height_goes_under_the_lid(void **state)
{
    static const double heights[] = {232, 232.4074, 232.4076, 9.078125 * 25.4};
    for (int i = 0; i < 4; i++) {
        small_order s;
        small_begun(&s, 404.9355, 3, 0, 1);
        cylinder_added(&s, "vase", 66, heights[i], 2);
        ks_plan *plan = planned(&s, 1, 1, 1);
        assert_int_equal(placed_of(plan, "vase"), 2);
        check_near(plan->bound, plan->worth, 1e-6);
        assert_int_equal(rules_broken(&s, plan), 0);
        ks_arena_finish(&s.arena);
    }
}

/* Sizes by chance, so that no sum of heights is a round number. */
static void ware_that_goes_in_alone_is_placed(void **state)
{
    ks_random random = ks_random_of(13, 0);
    for (int trial = 0; trial < trials_of(30); trial++) {
        small_order s;
        double height = ks_random_between(&random, 120, 420);
        small_begun(&s, height, 3, trial % 3 ? 0 : 4, 1);
        cylinder_added(&s, "a", ks_random_between(&random, 40, 190),
                       ks_random_between(&random, 20, height - 41), 3);
        ks_plan *plan = planned(&s, 1, 1, (uint64_t)trial);
        assert_true(placed_of(plan, "a") >= 1);
        assert_true(plan->worth <= plan->bound * (1 + 1e-9));
        ks_arena_finish(&s.arena);
    }
}

/* P. C. Gilmore and R. E. Gomory's cutting stock example as reprinted in V. Chvatal, Linear
 * Programming (1983), chapter 13: rolls of 100, widths 45, 36, 31, 14 wanted 97, 610, 395, 211
 * times; the linear optimum is 452.25 rolls (from memory). Patterns are listed in full. */
static void the_linear_program_finds_a_published_optimum(void **state)
{
    static const int width[] = {45, 36, 31, 14}, wanted[] = {97, 610, 395, 211};
    ks_arena arena = {0};
    ks_lp lp = {.arena = &arena};
    for (int i = 0; i < 4; i++)
        ks_lp_add_row(&lp, "wanted", wanted[i], INFINITY);
    for (int a = 0; a <= 2; a++)
        for (int b = 0; b <= 2; b++)
            for (int c = 0; c <= 3; c++)
                for (int d = 0; d <= 7; d++) {
                    int many[] = {a, b, c, d}, sum = 0;
                    for (int i = 0; i < 4; i++)
                        sum += many[i] * width[i];
                    if (sum > 100 || sum == 0)
                        continue;
                    int column = ks_lp_add_column(&lp, "pattern", -1, INFINITY, 4);
                    lp.columns[column].whole = true;
                    for (int i = 0; i < 4; i++)
                        if (many[i] > 0)
                            ks_lp_put(&lp, column, i, many[i]);
                }
    ks_lp_answer answer = ks_lp_solve(&lp, &arena);
    assert_true(answer.solved);
    check_near(answer.value, -452.25, 1e-6);
    ks_lp_answer whole = ks_lp_solve_whole(&lp, NULL, 2000, NULL, &arena);
    assert_true(whole.solved);
    check_near(whole.value, -453, 1e-6);
    ks_arena_finish(&arena);
}

/* A call that GLPK holds for misuse ends in "not solved", not in the end of the program. */
static void a_program_that_glpk_refuses_is_not_solved(void **state)
{
    ks_arena arena = {0};
    ks_lp lp = {.arena = &arena};
    ks_lp_add_row(&lp, "row", -INFINITY, 1);
    int column = ks_lp_add_column(&lp, "column", 1, 1, 2);
    ks_lp_put(&lp, column, 0, 1);
    ks_lp_put(&lp, column, 0, 1);
    assert_false(ks_lp_solve(&lp, &arena).solved);
    lp.columns[column].n = 1;
    lp.rows[0].basis = lp.columns[column].basis = 0;
    ks_lp_answer answer = ks_lp_solve(&lp, &arena);
    assert_true(answer.solved);
    check_near(answer.value, 1, 1e-9);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_choice_of_pieces_in_a_row_exceeds_the_bound),
        cmocka_unit_test(no_plan_of_the_planner_exceeds_the_bound),
        cmocka_unit_test(the_bound_is_met_where_one_piece_fills_a_level),
        cmocka_unit_test(the_bound_is_near_where_height_runs_out),
        cmocka_unit_test(no_levels_of_rows_exceed_the_bound),
        cmocka_unit_test(tall_ware_and_what_it_crowds_out_are_not_both_counted),
        cmocka_unit_test(no_load_holds_more_than_its_chamber),
        cmocka_unit_test(ware_of_any_height_goes_under_the_lid),
        cmocka_unit_test(ware_that_goes_in_alone_is_placed),
        cmocka_unit_test(the_linear_program_finds_a_published_optimum),
        cmocka_unit_test(a_program_that_glpk_refuses_is_not_solved),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
