#include "app/place_run.h"

#include "app/watch.h"
#include "base/file.h"

#include <string.h>

static bool must_go_waits(const ks_plan *plan)
{
    for (int i = 0; i < plan->n_left_out; i++) {
        int piece = plan->left_out[i].piece;
        if (piece >= 0 && plan->order->pieces[piece].must_go)
            return true;
    }
    return false;
}

/* Why the search is over; NULL when it is not. */
static const char *end_of(const ks_place_job *job, const ks_progress *progress, bool more,
                          double spent)
{
    if (job->stop && *job->stop)
        return "interrupt";
    if (spent >= job->seconds)
        return "seconds";
    if (more)
        return NULL;
    return progress->round < progress->rounds ? "proof" : "rounds";
}

/* Rounds until there are no more, or until someone is in a hurry; tells why it ended. */
static ks_status rounds_run(const ks_place_job *job, ks_placing *placing, const char **stopped_by,
                            ks_error *err)
{
    double start = ks_watch_now();
    ks_watch *watch = ks_watch_start(placing, job->seconds, job->stop);
    ks_status status = KS_OK;
    ks_progress progress = {0};
    *stopped_by = NULL;
    for (bool more = true; !*stopped_by && !status;) {
        status = ks_placing_step(placing, &more, &progress, err);
        double spent = ks_watch_now() - start;
        *stopped_by = end_of(job, &progress, more, spent);
        progress.last = *stopped_by != NULL;
        if (job->told)
            job->told(&progress, spent, job->payload);
    }
    ks_watch_finish(watch);
    return status;
}

static bool has_kiln(const ks_order *order, const char *id)
{
    for (int k = 0; k < order->n_kilns; k++)
        if (strcmp(order->kilns[k].id, id) == 0)
            return true;
    return false;
}

/* The plan to start from, which has to be of a kiln of this order. */
static ks_status from_read(const char *path, const ks_order *order, ks_arena *arena,
                           const ks_plan **out, ks_error *err)
{
    ks_plan *plan = NULL;
    ks_status status = ks_plan_read(path, arena, &plan, err);
    if (status)
        return status;
    *out = plan;
    for (int l = 0; l < plan->n_loads; l++)
        if (has_kiln(order, plan->loads[l].kiln_id))
            return KS_OK;
    return ks_fail(err, KS_BAD_INPUT,
                   "%s: found a plan %s; nothing of it can be kept in an order for \"%s\": plan "
                   "without --from",
                   path,
                   plan->n_loads > 0
                       ? ks_arena_print(arena, "for kiln \"%s\"", plan->loads[0].kiln_id)
                       : "without loads",
                   order->n_kilns > 0 ? order->kilns[0].id : "");
}

static ks_status planned(const ks_place_job *job, const ks_order *order, ks_arena *arena,
                         ks_place_outcome *out, ks_error *err)
{
    ks_placing *placing = NULL;
    const char *stopped_by = "";
    ks_place_options options = job->options;
    ks_status status = KS_OK;
    if (job->from_path)
        status = from_read(job->from_path, order, arena, &options.from, err);
    if (!status)
        status = ks_placing_create(order, &options, &placing, err);
    if (!status)
        status = rounds_run(job, placing, &stopped_by, err);
    if (!status)
        status = ks_placing_best(placing, stopped_by, arena, &out->plan, err);
    if (!status)
        ks_placing_stayed(placing, &out->stayed, &out->stood);
    ks_placing_destroy(placing);
    return status;
}

/* A piece that must go and cannot is the one rule that an honest plan may break. */
static bool only_must_go_broken(const ks_check_report *report)
{
    for (int i = 0; i < report->n_broken; i++)
        if (strcmp(report->broken[i].rule, "must go") != 0)
            return false;
    return true;
}

static void judged(ks_place_outcome *out, ks_arena *arena)
{
    const ks_plan *plan = out->plan;
    bool interrupted = strcmp(plan->stopped_by, "interrupt") == 0;
    bool early = interrupted || strcmp(plan->stopped_by, "seconds") == 0;
    bool nothing = ks_plan_placed(plan) == 0 && ks_plan_waiting(plan) > 0;
    ks_check(plan, arena, &out->report);
    out->status = ks_plan_gap(plan) <= 1e-9 ? "proven" : "best_found";
    if (nothing || must_go_waits(plan)) {
        out->status = early ? "no_answer" : "impossible";
        out->exit = early && nothing ? KS_NO_ANSWER : 1;
    }
    if (interrupted)
        out->exit = 130;
    if (!only_must_go_broken(&out->report))
        out->exit = KS_BUG;
}

ks_status ks_place_run(const ks_place_job *job, ks_arena *arena, ks_place_outcome *out,
                       ks_error *err)
{
    double start = ks_watch_now();
    ks_order *order = NULL;
    *out = (ks_place_outcome){0};
    ks_status status = ks_order_read_columns(job->order_path, job->kiln_folder, job->columns,
                                             arena, &order, err);
    if (!status)
        status = planned(job, order, arena, out, err);
    if (status)
        return status;
    judged(out, arena);
    if (job->plan_path && out->exit != KS_BUG) {
        const char *text = ks_plan_json(out->plan, arena);
        status = ks_file_write(job->plan_path, text, strlen(text), err);
    }
    out->seconds = ks_watch_now() - start;
    return status;
}
