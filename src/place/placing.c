#include "kilnstow/place.h"

#include "place/answer.h"
#include "place/leftover.h"
#include "place/run.h"

#include <stdlib.h>

struct ks_placing {
    ks_arena arena;
    ks_job job;
    ks_run search;
    double bound;
    volatile bool hurry;
};

ks_place_options ks_place_default(void)
{
    return (ks_place_options){.seed = 1, .rounds = 20, .threads = 2, .reserve_mm = 0.02};
}

ks_status ks_placing_create(const ks_order *order, const ks_place_options *options,
                            ks_placing **out, ks_error *err)
{
    ks_placing *p = calloc(1, sizeof *p);
    *out = NULL;
    if (!p)
        return ks_fail(err, KS_SYSTEM, "no memory to plan with");
    ks_status status = ks_job_init(&p->job, order, options, &p->arena, err);
    if (status != KS_OK) {
        ks_placing_destroy(p);
        return status;
    }
    ks_run_init(&p->search, &p->job, &p->arena, &p->hurry);
    for (int i = 0; i < order->n_pieces; i++)
        p->bound += p->job.worth[i] * p->search.best.left[i];
    *out = p;
    return KS_OK;
}

static int pieces_left(const ks_placing *p)
{
    int n = 0;
    for (int i = 0; i < p->job.order->n_pieces; i++)
        n += p->search.best.left[i];
    return n;
}

ks_status ks_placing_step(ks_placing *placing, bool *more, ks_progress *progress, ks_error *err)
{
    ks_run_round(&placing->search);
    *more = placing->search.round < placing->job.options.rounds && pieces_left(placing) > 0;
    *progress = (ks_progress){.round = placing->search.round,
                              .rounds = placing->job.options.rounds,
                              .worth = placing->search.best.worth,
                              .bound = placing->bound};
    for (int i = 0; i < placing->job.order->n_pieces; i++)
        progress->wanted += placing->job.order->pieces[i].locked_out
                                ? 0
                                : placing->job.order->pieces[i].count;
    progress->placed = progress->wanted - pieces_left(placing);
    for (int s = 0; s < placing->search.best.n_loads; s++)
        progress->loads += placing->search.best.loads[s].n_levels > 0;
    (void)err;
    return KS_OK;
}

ks_status ks_placing_best(ks_placing *placing, const char *stopped_by, ks_arena *arena, ks_plan **out,
                          ks_error *err)
{
    ks_plan *plan = KS_TAKE(arena, 1, ks_plan);
    const ks_job *job = &placing->job;
    *plan = (ks_plan){
        .version = "0.1.0",
        .seed = job->options.seed,
        .rounds = placing->search.round,
        .stopped_by = stopped_by,
        .order = job->order,
        .objective = job->order->rules.objective,
        .worth = placing->search.best.worth,
        .bound = placing->bound > placing->search.best.worth ? placing->bound : placing->search.best.worth,
        .bound_kind = "all that is wanted",
    };
    ks_answer_loads(job, &placing->search.best, plan, arena);
    ks_leftover_list(job, &placing->search.best, plan, arena);
    *out = plan;
    (void)err;
    return KS_OK;
}

void ks_placing_hurry(ks_placing *placing)
{
    placing->hurry = true;
}

void ks_placing_destroy(ks_placing *placing)
{
    if (!placing)
        return;
    ks_arena_finish(&placing->arena);
    free(placing);
}
