#include "app/fit_run.h"

#include "kilnstow/place.h"

static ks_status plan_load(const ks_order *order, const ks_place_options *options, ks_arena *arena,
                           ks_plan **plan, ks_error *err)
{
    ks_placing *placing = NULL;
    ks_status status = ks_placing_create(order, options, &placing, err);
    ks_progress progress;
    for (bool more = true; !status && more;)
        status = ks_placing_step(placing, &more, &progress, err);
    if (!status)
        status = ks_placing_best(placing, "rounds", arena, plan, err);
    ks_placing_destroy(placing);
    return status;
}

static void count(const ks_plan *plan, ks_fit_load *out)
{
    for (int l = 0; l < plan->n_loads; l++)
        for (int v = 0; v < plan->loads[l].n_levels; v++) {
            const ks_level *level = &plan->loads[l].levels[v];
            for (int i = 0; i < level->n_pieces; i++) {
                int piece = level->pieces[i].piece;
                out->named_in += piece >= 0 && piece < out->n_named;
                out->others_in += piece >= out->n_named;
                if (piece >= out->n_named)
                    out->others_worth += plan->order->pieces[piece].worth;
            }
        }
}

ks_status ks_fit_load_run(const ks_fit_job *job, const ks_order *order, int n, const int *pieces,
                          const ks_kiln *kiln, ks_arena *arena, ks_fit_load *out, ks_error *err)
{
    ks_plan *plan = NULL;
    ks_place_options options = ks_place_default();
    options.rounds = job->rounds;
    ks_order *asked = ks_fit_load_order(order, n, pieces, job->rest, kiln, arena);
    *out = (ks_fit_load){.kiln = kiln, .n_named = n};
    ks_status status = plan_load(asked, &options, arena, &plan, err);
    if (status)
        return status;
    for (int i = n; i < asked->n_pieces; i++)
        out->others += asked->pieces[i].count;
    out->plan = plan;
    count(plan, out);
    return KS_OK;
}
