#include "check.h"

#include "place/draft/level_fill.h"
#include "place/small_order.h"

/* More kinds than a level can hold, and more heights than are told apart. */
enum { KINDS = 900, LAST = KINDS - 1 };

static void order_of_many_kinds(small_order *s)
{
    small_begun(s, 420, 4, 0, 1);
    s->order.pieces = KS_TAKE(&s->arena, KINDS, ks_piece);
    for (int i = 0; i < KINDS; i++)
        cylinder_added(s, ks_arena_print(&s->arena, "p%d", i), 20 + 60.0 * i / KINDS,
                       30 + 150.0 * i / KINDS, 1);
}

static void job_of(small_order *s, ks_job *job)
{
    ks_place_options options = ks_place_default();
    ks_error err;
    assert_int_equal(ks_job_init(job, &s->order, &options, &s->arena, &err), KS_OK);
}

static void heights_told_apart_are_few_and_hold_the_least_and_the_greatest(void **state)
{
    (void)state;
    small_order s;
    ks_job job;
    order_of_many_kinds(&s);
    job_of(&s, &job);
    assert_true(job.n_heights <= 256);
    check_near(job.heights_mm[0], 30, 0);
    check_near(job.heights_mm[job.n_heights - 1], job.height_mm[LAST], 0);
    for (int i = 0; i < KINDS; i++) { /* counts as no taller than it is, and hardly as less tall */
        double as = job.heights_mm[ks_height_index(&job, job.height_mm[i])];
        assert_true(as <= job.height_mm[i] && as > job.height_mm[i] - 1);
    }
    ks_arena_finish(&s.arena);
}

/* The widest and tallest is worth least for its area, and would not be among the best. */
static void what_must_be_on_a_level_is_offered_among_however_many_kinds(void **state)
{
    (void)state;
    small_order s;
    ks_job job;
    order_of_many_kinds(&s);
    job_of(&s, &job);
    int *copies = KS_TAKE(&s.arena, KINDS, int), *must = KS_TAKE(&s.arena, KINDS, int);
    double *worth = KS_TAKE(&s.arena, KINDS, double);
    for (int i = 0; i < KINDS; i++) {
        copies[i] = 1;
        worth[i] = 1;
    }
    must[LAST] = 1;
    ks_stack_level level = {.z = 30000, .gap = 390000, .under = 0, .posts = -1};
    ks_fill fill = {.job = &job,
                    .kind = &job.kinds[0],
                    .level = &level,
                    .worth = worth,
                    .copies = copies,
                    .must = must,
                    .mass_left_kg = INFINITY,
                    .seed = 1,
                    .work = 100};
    ks_shelf_layout layout = ks_level_fill(&fill, &s.arena);
    int last = 0;
    for (int i = 0; i < layout.n_spots; i++)
        last += layout.spots[i].item == LAST;
    assert_int_equal(last, 1);
    assert_true(layout.n_spots > 8);
    ks_arena_finish(&s.arena);
}

static void a_plan_of_very_many_kinds_keeps_every_rule(void **state)
{
    (void)state;
    small_order s;
    order_of_many_kinds(&s);
    ks_plan *plan = planned(&s, 0, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_true(pieces_in(plan) > 8);
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(heights_told_apart_are_few_and_hold_the_least_and_the_greatest),
        cmocka_unit_test(what_must_be_on_a_level_is_offered_among_however_many_kinds),
        cmocka_unit_test(a_plan_of_very_many_kinds_keeps_every_rule),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
