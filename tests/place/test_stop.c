#include "check.h"

#include "place/finish/placing.h"
#include "place/small_order.h"

#include <limits.h>

/* Three loads, half of what is wanted, all rounds: what is asked in the middle of it. */
typedef struct {
    small_order s;
    ks_placing *placing;
    ks_stop *stop;
    ks_progress progress;
} run;

static void run_begun(run *r, int loads, long long asked_at)
{
    ks_place_options options = ks_place_default();
    ks_error err = {0};
    *r = (run){0};
    small_begun(&r->s, 420, 4, 0, loads);
    cones_wanted(&r->s);
    for (int i = 0; i < 6; i++)
        cylinder_added(&r->s, ks_arena_print(&r->s.arena, "p%d", i), 50 + 8 * i, 60 + 20 * i, 12);
    options.rounds = 2;
    options.threads = 1;
    assert_int_equal(ks_placing_create(&r->s.order, &options, &r->placing, &err), KS_OK);
    r->stop = ks_placing_stop_of(r->placing);
    r->stop->asked_at = asked_at;
}

/* How often it was looked in all. */
static long long run_to_its_end(run *r, ks_plan **plan)
{
    ks_error err = {0};
    for (bool more = true; more && !r->stop->asked;)
        assert_int_equal(ks_placing_step(r->placing, &more, &r->progress, &err), KS_OK);
    *plan = NULL;
    if (r->progress.placed > 0)
        assert_int_equal(ks_placing_best(r->placing, "unfinished", &r->s.arena, plan, &err), KS_OK);
    return r->stop->looks;
}

static void run_finished(run *r)
{
    ks_placing_destroy(r->placing);
    ks_arena_finish(&r->s.arena);
}

/* Each look is a few hundredths of a second from the next at most, so few of them are soon. */
enum { LOOKS_MOST = 120, TIMES = 6 };

static void whoever_asks_for_a_stop_has_the_best_plan_within_few_looks(void **state)
{
    (void)state;
    for (int loads = 1; loads <= 3; loads += 2) {
        run r;
        ks_plan *plan;
        run_begun(&r, loads, LLONG_MAX);
        long long all = run_to_its_end(&r, &plan);
        run_finished(&r);
        assert_true(all > 1000);
        int worth_something = 0;
        for (int i = 0; i < TIMES; i++) {
            long long at = 1 + all * i / TIMES;
            run_begun(&r, loads, at);
            long long looks = run_to_its_end(&r, &plan);
            if (looks > at + LOOKS_MOST)
                print_error("asked at look %lld of %lld, ended after %lld\n", at, all, looks);
            assert_true(r.stop->asked && looks <= at + LOOKS_MOST);
            if (plan) {
                assert_int_equal(rules_broken(&r.s, plan), 0);
                assert_true(pieces_in(plan) > 0);
                worth_something++;
            }
            run_finished(&r);
        }
        assert_true(worth_something > TIMES / 2);
    }
}

/* The first plan of several loads is ended between them: those that are done are worth having. */
static void a_first_plan_that_is_ended_early_has_the_loads_done_by_then(void **state)
{
    (void)state;
    run r;
    ks_plan *plan;
    ks_error err = {0};
    bool more, some = false;
    run_begun(&r, 3, LLONG_MAX);
    assert_int_equal(ks_placing_step(r.placing, &more, &r.progress, &err), KS_OK);
    long long first = r.stop->looks;
    assert_int_equal(r.progress.loads, 3);
    run_finished(&r);
    for (int i = 1; i < 8; i++) {
        run_begun(&r, 3, first * i / 8);
        run_to_its_end(&r, &plan);
        some = some || (plan && plan->n_loads > 0 && plan->n_loads < 3);
        if (plan)
            assert_int_equal(rules_broken(&r.s, plan), 0);
        run_finished(&r);
    }
    assert_true(some);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(whoever_asks_for_a_stop_has_the_best_plan_within_few_looks),
        cmocka_unit_test(a_first_plan_that_is_ended_early_has_the_loads_done_by_then),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
