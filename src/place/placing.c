#include "kilnstow/place.h"

#include "place/answer.h"
#include "place/greedy.h"
#include "place/leftover.h"

#include <stdlib.h>

struct ks_placing {
    ks_arena arena;
    ks_job job;
    ks_draft best;
    double bound;
    int round;
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
    p->best = ks_draft_empty(&p->job, &p->arena);
    for (int i = 0; i < order->n_pieces; i++)
        p->bound += p->job.worth[i] * p->best.left[i];
    *out = p;
    return KS_OK;
}

static int pieces_left(const ks_placing *p)
{
    int n = 0;
    for (int i = 0; i < p->job.order->n_pieces; i++)
        n += p->best.left[i];
    return n;
}

ks_status ks_placing_step(ks_placing *placing, bool *more, ks_progress *progress, ks_error *err)
{
    if (placing->round == 0) {
        ks_greedy greedy = {&placing->job, 0.8, 400, placing->job.options.seed, &placing->hurry};
        ks_greedy_loads(&greedy, &placing->best, &placing->arena);
    }
    placing->round++;
    *more = placing->round < placing->job.options.rounds && pieces_left(placing) > 0;
    *progress = (ks_progress){.round = placing->round,
                              .rounds = placing->job.options.rounds,
                              .worth = placing->best.worth,
                              .bound = placing->bound};
    for (int i = 0; i < placing->job.order->n_pieces; i++)
        progress->wanted += placing->job.order->pieces[i].locked_out
                                ? 0
                                : placing->job.order->pieces[i].count;
    progress->placed = progress->wanted - pieces_left(placing);
    for (int s = 0; s < placing->best.n_loads; s++)
        progress->loads += placing->best.loads[s].n_levels > 0;
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
        .rounds = placing->round,
        .stopped_by = stopped_by,
        .order = job->order,
        .objective = job->order->rules.objective,
        .worth = placing->best.worth,
        .bound = placing->bound > placing->best.worth ? placing->bound : placing->best.worth,
        .bound_kind = "all that is wanted",
    };
    ks_answer_loads(job, &placing->best, plan, arena);
    ks_leftover_list(job, &placing->best, plan, arena);
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
