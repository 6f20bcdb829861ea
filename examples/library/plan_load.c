/* plan_load.c: plans the load of an order with libkilnstow, proves it, and prints the plan.
 *
 *     cc plan_load.c -o plan_load $(pkg-config --cflags --libs kilnstow)
 *     ./plan_load order.json $(pkg-config --variable=kilnsdir kilnstow) > plan.json
 */
#include <kilnstow/check.h>
#include <kilnstow/place.h>

#include <stdio.h>

/* Rounds of search until they are used up or the plan is proven best. */
static ks_status planned(const ks_order *order, ks_arena *arena, ks_plan **plan, ks_error *err)
{
    ks_place_options options = ks_place_default();
    ks_placing *placing = NULL;
    ks_progress progress;
    bool more = true;
    ks_status status = ks_placing_create(order, &options, &placing, err);
    while (!status && more)
        status = ks_placing_step(placing, &more, &progress, err);
    if (!status)
        status = ks_placing_best(placing, progress.round < progress.rounds ? "proof" : "rounds",
                                 arena, plan, err);
    ks_placing_destroy(placing);
    return status;
}

int main(int argc, char **argv)
{
    ks_arena arena = {0}; /* holds all that is read and planned until it is finished */
    ks_error err = {0};
    ks_order *order;
    ks_plan *plan;
    ks_check_report report = {0};
    if (argc != 3)
        return fprintf(stderr, "usage: plan_load ORDER KILN-FOLDER\n"), KS_BAD_USAGE;
    ks_status status = ks_order_read(argv[1], argv[2], &arena, &order, &err);
    if (!status)
        status = planned(order, &arena, &plan, &err);
    if (!status) {
        ks_check(plan, &arena, &report); /* by rules that share no code with the planner */
        fputs(ks_plan_json(plan, &arena), stdout);
        fprintf(stderr, "%d placed, %d waiting, every rule kept: %s\n", ks_plan_placed(plan),
                ks_plan_waiting(plan), report.ok ? "yes" : "no");
    } else {
        fprintf(stderr, "%s\n", err.text);
    }
    ks_arena_finish(&arena);
    return status ? (int)status : report.ok ? 0 : 1;
}
