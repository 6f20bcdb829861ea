/* However many sheets and answers tell of a load's firing, it is simulated once. ks_fire is wrapped
 * by the linker; drawing runs in a child, so the count lies in memory shared with it. */
#include "app/cost_run.h"
#include "app/draw_run.h"
#include "base/file.h"
#include "check.h"
#include "kilnstow/place.h"

#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

ks_status __real_ks_fire(const ks_plan *plan, const ks_fire_options *options, ks_arena *arena,
                         ks_firing_result *out, ks_error *err);
ks_status __wrap_ks_fire(const ks_plan *plan, const ks_fire_options *options, ks_arena *arena,
                         ks_firing_result *out, ks_error *err);

static int *fired; /* by load */

ks_status __wrap_ks_fire(const ks_plan *plan, const ks_fire_options *options, ks_arena *arena,
                         ks_firing_result *out, ks_error *err)
{
    fired[options->load]++;
    return __real_ks_fire(plan, options, arena, out, err);
}

static const char order_text[] =
    "{\"format\": \"kilnstow-order/1\", \"units\": {\"length\": \"mm\", \"mass\": \"kg\", "
    "\"temperature\": \"C\"}, \"currency\": \"EUR\", \"kilns\": [\"round-450\"], \"firings\": "
    "[{\"id\": \"glaze\", \"cone\": \"6\"}], \"costs\": {\"start\": \"2026-12-03 20:00\", "
    "\"electricity\": {\"prices\": [{\"name\": \"day\", \"price\": 0.3, \"from\": \"07:00\", "
    "\"to\": "
    "\"21:00\"}, {\"name\": \"night\", \"price\": 0.2}]}}, \"ware\": [{\"id\": \"mug\", \"count\": "
    "3, \"diameter\": 86, \"height\": 95}]}";

static char order_path[] = "/tmp/kilnstow-once-XXXXXX", plan_path[64], sheets_path[64];

static int plan_written(void **state)
{
    ks_arena arena = {0};
    ks_order *order;
    ks_placing *placing;
    ks_progress progress;
    bool more;
    ks_place_options options = ks_place_default();
    fired = mmap(NULL, 4096, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    int file = mkstemp(order_path);
    if (fired == MAP_FAILED || file < 0 ||
        write(file, order_text, strlen(order_text)) != (ssize_t)strlen(order_text) || close(file))
        return -1;
    snprintf(plan_path, sizeof plan_path, "%s.plan.json", order_path);
    snprintf(sheets_path, sizeof sheets_path, "%s.pdf", order_path);
    ks_error err = {0};
    if (ks_order_read(order_path, "kilns", &arena, &order, &err) ||
        ks_placing_create(order, &options, &placing, &err) ||
        ks_placing_step(placing, &more, &progress, &err)) {
        print_error("%s\n", err.text);
        return -1;
    }
    const char *text = ks_plan_json(ks_placing_sketch(placing, "", &arena), &arena);
    int status = ks_file_write(plan_path, text, strlen(text), NULL);
    ks_placing_destroy(placing);
    ks_arena_finish(&arena);
    return status;
}

static int files_removed(void **state)
{
    return unlink(order_path) || unlink(plan_path) || unlink(sheets_path);
}

static ks_status said(ks_status status, const ks_error *err)
{
    if (status)
        print_error("%s\n", err->text);
    return status;
}

static void sheets_of_one_plan_fire_a_load_once(void **state)
{
    ks_arena arena = {0};
    ks_draw_job job = {.plan_path = plan_path,
                       .out_path = sheets_path,
                       .options = ks_draw_default(),
                       .firing = true,
                       .costs = {.tables = true, .prices = true},
                       .force = true};
    ks_draw_outcome out;
    ks_error err = {0};
    fired[0] = 0;
    assert_int_equal(said(ks_draw_run(&job, &arena, &out, &err), &err), KS_OK);
    assert_int_equal(fired[0], 1);
    ks_arena_finish(&arena);
}

static void advice_on_the_start_takes_the_firing_that_was_costed(void **state)
{
    ks_arena arena = {0};
    ks_cost_job job = {.plan_path = plan_path, .best_start = true};
    ks_cost_outcome out = {0};
    ks_error err = {0};
    fired[0] = 0;
    assert_int_equal(said(ks_cost_run(&job, &arena, &out, &err), &err), KS_OK);
    assert_int_equal(fired[0], 1);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sheets_of_one_plan_fire_a_load_once),
        cmocka_unit_test(advice_on_the_start_takes_the_firing_that_was_costed),
    };
    return cmocka_run_group_tests(tests, plan_written, files_removed);
}
