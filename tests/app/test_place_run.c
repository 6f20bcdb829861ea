/* What is handed out when planning does not end as it should: each work below stands in for it. */
#include "app/place_child.h"
#include "app/place_run.h"
#include "studio/files/plan_file.h"
#include "check.h"

#include <limits.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[PATH_MAX];

static const char order_text[] =
    "{\"format\": \"kilnstow-order/1\", \"units\": {\"length\": \"mm\", \"mass\": \"kg\", "
    "\"temperature\": \"C\"}, \"currency\": \"EUR\", \"kilns\": [\"round-450\"], \"firings\": "
    "[{\"id\": \"glaze\", \"cone\": \"6\"}], \"ware\": [{\"id\": \"mug\", \"count\": 3, "
    "\"diameter\": 86, \"height\": 95}]}";

static const char *in_folder(const char *name, ks_arena *arena)
{
    return ks_arena_print(arena, "%s/%s", folder, name);
}

static int folder_made(void **state)
{
    char path[] = "/tmp/kilnstow-place-run-XXXXXX", order[PATH_MAX + 16];
    if (!mkdtemp(path))
        return -1;
    strcpy(folder, path);
    snprintf(order, sizeof order, "%s/order.json", folder);
    FILE *file = fopen(order, "w");
    fputs(order_text, file);
    return fclose(file);
}

static int folder_removed(void **state)
{
    char command[PATH_MAX + 16];
    snprintf(command, sizeof command, "rm -r %s", folder);
    return system(command);
}

/* A plan after one round, said as one that passes our check or not. */
static void say_plan(int up, const ks_place_work *work, bool passes, const char *stopped_by)
{
    ks_arena arena = {0};
    ks_placing *placing;
    ks_progress progress;
    ks_plan_head head = {.passes = passes};
    bool more;
    ks_placing_create(work->order, &work->options, &placing, NULL);
    ks_placing_step(placing, &more, &progress, NULL);
    const ks_plan *plan = ks_placing_sketch(placing, stopped_by, &arena);
    const char *brief = ks_plan_brief(plan, &arena);
    const char *text = ks_arena_print(&arena, "%s%s", brief, ks_plan_json(plan, &arena));
    head.brief = strlen(brief);
    ks_child_say(up, KS_SAYS_PLAN, (ks_saying){&head, sizeof head},
                 (ks_saying){text, strlen(text)});
    ks_placing_destroy(placing);
    ks_arena_finish(&arena);
}

static void say_ended(int up)
{
    ks_placing_end end = {.stopped_by = "rounds"};
    ks_child_say(up, KS_SAYS_ENDED, (ks_saying){&end, sizeof end}, (ks_saying){0});
}

static void best_fails(int up, void *payload)
{
    say_plan(up, payload, true, "unfinished");
    say_plan(up, payload, false, "failing");
    say_ended(up);
}

static void all_fail(int up, void *payload)
{
    say_plan(up, payload, false, "failing");
    say_ended(up);
}

static void die_with_one(int up, void *payload)
{
    ks_progress progress = {.round = 4, .rounds = 20};
    ks_child_say(up, KS_SAYS_PROGRESS, (ks_saying){&progress, sizeof progress}, (ks_saying){0});
    say_plan(up, payload, true, "unfinished");
    (void)raise(SIGKILL);
}

static void die_with_none(int up, void *payload)
{
    (void)raise(SIGABRT);
}

static void stay_with_one(int up, void *payload)
{
    ks_progress progress = {.round = 1, .rounds = 20};
    say_plan(up, payload, true, "unfinished");
    ks_child_say(up, KS_SAYS_PROGRESS, (ks_saying){&progress, sizeof progress}, (ks_saying){0});
    for (;;)
        pause();
}

static void stay_with_none(int up, void *payload)
{
    for (;;)
        pause();
}

/* Ends once its plan is kept beside the target. */
static void wait_for_the_part(int up, void *payload)
{
    ks_arena arena = {0};
    const char *part = in_folder("plan.json.part", &arena);
    say_plan(up, payload, true, "unfinished");
    while (access(part, R_OK) != 0)
        usleep(1000);
    ks_plan *plan = NULL;
    ks_plan_read(part, &arena, &plan, NULL);
    if (plan && strcmp(plan->stopped_by, "unfinished") == 0)
        say_plan(up, payload, true, "rounds");
    say_ended(up);
}

typedef struct {
    ks_arena arena;
    ks_error err;
    ks_place_job job;
    ks_place_outcome out;
} placing_case;

static volatile sig_atomic_t stop;

static ks_status run(placing_case *c, ks_child_work *work)
{
    c->job.order_path = in_folder("order.json", &c->arena);
    c->job.kiln_folder = "kilns";
    c->job.plan_path = in_folder("plan.json", &c->arena);
    c->job.options = ks_place_default();
    c->job.options.threads = 1;
    if (!(c->job.seconds > 0))
        c->job.seconds = INFINITY;
    c->job.work = work;
    (void)unlink(c->job.plan_path);
    return ks_place_run(&c->job, &c->arena, &c->out, &c->err);
}

static bool is_there(placing_case *c, const char *name)
{
    return access(in_folder(name, &c->arena), F_OK) == 0;
}

static const ks_plan *plan_there(placing_case *c, const char *name)
{
    ks_plan *plan = NULL;
    assert_int_equal(ks_plan_read(in_folder(name, &c->arena), &c->arena, &plan, &c->err), KS_OK);
    return plan;
}

static bool is_noted(const placing_case *c, const char *words)
{
    for (int i = 0; i < c->out.n_notes; i++)
        if (strstr(c->out.notes[i], words))
            return true;
    return false;
}

static void a_best_plan_that_fails_gives_way_to_the_best_that_passes(void **state)
{
    placing_case c = {0};
    assert_int_equal(run(&c, best_fails), KS_OK);
    assert_int_equal(c.out.exit, 0);
    assert_true(is_noted(&c, "a better plan failed our own check"));
    assert_string_equal(plan_there(&c, "plan.json")->stopped_by, "rounds");
    assert_string_equal(plan_there(&c, "plan.failed.json")->stopped_by, "failing");
    (void)unlink(in_folder("plan.failed.json", &c.arena));
    ks_arena_finish(&c.arena);
}

static void where_none_passes_none_is_written_but_the_failing_one_is_kept(void **state)
{
    placing_case c = {0};
    assert_int_equal(run(&c, all_fail), KS_OK);
    assert_string_equal(plan_there(&c, "plan.failed.json")->stopped_by, "failing");
    assert_string_equal(c.out.plan->stopped_by, "rounds");
    assert_int_equal(c.out.exit, KS_BUG);
    assert_null(c.out.written);
    assert_false(is_there(&c, "plan.json"));
    (void)unlink(in_folder("plan.failed.json", &c.arena));
    ks_arena_finish(&c.arena);
}

static void what_was_handed_up_outlives_the_planning_process(void **state)
{
    placing_case c = {0};
    assert_int_equal(run(&c, die_with_one), KS_OK);
    assert_int_equal(c.out.exit, KS_SYSTEM);
    assert_true(is_noted(&c, "after round 4") && is_noted(&c, "signal 9"));
    const ks_plan *plan = plan_there(&c, "plan.json");
    assert_string_equal(plan->stopped_by, "failure");
    assert_int_equal(plan->rounds, 4);
    assert_int_equal(ks_plan_placed(plan), 3);
    ks_arena_finish(&c.arena);
}

static void a_death_before_the_first_plan_is_the_systems_no(void **state)
{
    placing_case c = {0};
    assert_int_equal(run(&c, die_with_none), KS_SYSTEM);
    assert_non_null(strstr(c.err.text, "before there was a first plan"));
    assert_false(is_there(&c, "plan.json"));
    ks_arena_finish(&c.arena);
}

/* Once the plan is there. */
static void time_over(const ks_progress *progress, double seconds, void *job)
{
    ((ks_place_job *)job)->seconds = 0;
}

static void user_stops(const ks_progress *progress, double seconds, void *job)
{
    stop = 1;
}

static void planning_that_does_not_answer_is_ended_with_the_best_so_far(void **state)
{
    placing_case c = {0};
    c.job.payload = &c.job;
    c.job.told = time_over;
    assert_int_equal(run(&c, stay_with_one), KS_OK);
    assert_int_equal(c.out.exit, 0);
    assert_string_equal(plan_there(&c, "plan.json")->stopped_by, "seconds");
    stop = 0;
    c.job.stop = &stop;
    c.job.told = user_stops;
    assert_int_equal(run(&c, stay_with_one), KS_OK);
    assert_int_equal(c.out.exit, KS_INTERRUPTED);
    assert_string_equal(plan_there(&c, "plan.json")->stopped_by, "interrupt");
    ks_arena_finish(&c.arena);
}

static void an_end_before_the_first_plan_is_no_answer(void **state)
{
    placing_case c = {.job.seconds = 0.01};
    assert_int_equal(run(&c, stay_with_none), KS_NO_ANSWER);
    stop = 1;
    c.job.stop = &stop;
    assert_int_equal(run(&c, stay_with_none), KS_INTERRUPTED);
    assert_false(is_there(&c, "plan.json"));
    ks_arena_finish(&c.arena);
}

static void a_long_search_keeps_its_best_beside_the_target(void **state)
{
    placing_case c = {.job.part_every_s = 1e-3};
    assert_int_equal(run(&c, wait_for_the_part), KS_OK);
    assert_int_equal(c.out.exit, 0);
    assert_string_equal(plan_there(&c, "plan.json")->stopped_by, "rounds");
    assert_false(is_there(&c, "plan.json.part"));
    ks_arena_finish(&c.arena);
}

/* The target turns into a folder while the search goes on. */
static void spoil_the_target(int up, void *payload)
{
    ks_arena arena = {0};
    say_plan(up, payload, true, "rounds");
    (void)mkdir(in_folder("plan.json", &arena), 0777);
    say_ended(up);
}

static void a_plan_that_cannot_be_written_goes_beside(void **state)
{
    placing_case c = {0};
    assert_int_equal(run(&c, spoil_the_target), KS_OK);
    assert_int_equal(c.out.exit, KS_SYSTEM);
    assert_string_equal(c.out.written, in_folder("plan-saved-1.json", &c.arena));
    assert_true(is_noted(&c, "plan-saved-1.json"));
    assert_int_equal(ks_plan_placed(plan_there(&c, "plan-saved-1.json")), 3);
    assert_int_equal(rmdir(c.job.plan_path), 0);
    ks_arena_finish(&c.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_best_plan_that_fails_gives_way_to_the_best_that_passes),
        cmocka_unit_test(where_none_passes_none_is_written_but_the_failing_one_is_kept),
        cmocka_unit_test(what_was_handed_up_outlives_the_planning_process),
        cmocka_unit_test(a_death_before_the_first_plan_is_the_systems_no),
        cmocka_unit_test(planning_that_does_not_answer_is_ended_with_the_best_so_far),
        cmocka_unit_test(an_end_before_the_first_plan_is_no_answer),
        cmocka_unit_test(a_long_search_keeps_its_best_beside_the_target),
        cmocka_unit_test(a_plan_that_cannot_be_written_goes_beside),
    };
    return cmocka_run_group_tests(tests, folder_made, folder_removed);
}
