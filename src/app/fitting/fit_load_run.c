#include "app/fitting/fit_run.h"

#include "app/machine/target.h"
#include "base/file.h"
#include "kilnstow/check.h"
#include "kilnstow/place.h"

#include <math.h>
#include <string.h>

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

static double on_grid(double mm)
{
    return floor(mm / KS_GRID + 0.5) * KS_GRID;
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

static ks_status try_load(const ks_fit_job *job, const ks_order *asked, ks_arena *arena,
                          ks_fit_load *out, ks_error *err)
{
    ks_plan *plan = NULL;
    ks_place_options options = ks_place_default();
    options.rounds = job->rounds;
    ks_status status = plan_load(asked, &options, arena, &plan, err);
    if (status)
        return status;
    *out = (ks_fit_load){.kiln = out->kiln, .n_named = out->n_named, .plan = plan};
    for (int i = out->n_named; i < asked->n_pieces; i++)
        out->others += asked->pieces[i].count;
    count(plan, out);
    return KS_OK;
}

/* Where it was found to stand, on the bottom level of its bay. */
static void pin(ks_piece *piece, const ks_fit_answer *answer)
{
    const ks_fit_way *way = &answer->visits[answer->n_visits - 1].best;
    piece->keep = (ks_keep){.kept = true, .bay = answer->kiln->bays[way->bay].id};
    piece->keep.stand =
        (ks_stand){on_grid(way->stand.x), on_grid(way->stand.y), way->stand.turn_deg};
}

ks_status ks_fit_load_run(const ks_fit_job *job, const ks_order *order, int n, const int *pieces,
                          const ks_kiln *kiln, const ks_fit_answer *answer, ks_arena *arena,
                          ks_fit_load *out, ks_error *err)
{
    ks_order *asked = ks_fit_load_order(order, n, pieces, job->rest, kiln, arena);
    *out = (ks_fit_load){.kiln = kiln, .n_named = n};
    ks_status status = try_load(job, asked, arena, out, err);
    if (status || out->named_in == n || !answer || !answer->fits)
        return status;
    ks_fit_load found = *out;
    pin(&asked->pieces[0], answer);
    status = try_load(job, asked, arena, out, err);
    if (!status && out->named_in <= found.named_in)
        *out = found;
    return status;
}

ks_status ks_fit_load_write(const ks_fit_job *job, ks_fit_load *load, ks_arena *arena,
                            ks_error *err)
{
    ks_check_report report;
    if (load->named_in < load->n_named)
        return KS_OK;
    ks_check(load->plan, arena, &report);
    if (report.n_broken > 0)
        return ks_fail(err, KS_BUG, "a plan of our own fails our check, please report it: %s",
                       report.broken[0].where);
    const char *text = ks_plan_json(load->plan, arena);
    load->written = job->plan_path;
    return ks_file_write(job->plan_path, text, strlen(text), err);
}
