#include "place/finish/filling.h"

#include "place/search/top_up.h"

enum { TOP_UP_WORK = 200 }; /* for each level */

static bool *slots_fired(const ks_draft *draft, ks_arena *arena)
{
    bool *fired = KS_TAKE(arena, draft->n_loads, bool);
    for (int s = 0; s < draft->n_loads; s++)
        fired[s] = draft->loads[s].n_levels > 0;
    return fired;
}

/* The loads of a draft of the whole job that the filling has. */
static ks_draft draft_of(const ks_fill_job *fill, const ks_draft *whole, ks_arena *arena)
{
    ks_draft draft = {.n_loads = fill->job.n_slots};
    draft.loads = KS_TAKE(arena, draft.n_loads, ks_draft_load);
    draft.left = KS_TAKE(arena, fill->job.n_items, int);
    for (int s = 0; s < draft.n_loads; s++)
        draft.loads[s] = whole->loads[fill->slot[s]];
    draft = ks_draft_copy(&fill->job, &draft, arena);
    ks_draft_count(&fill->job, &draft);
    return draft;
}

/* Random numbers of its own; an earlier plan is taken up by the filling only where nothing is
 * counted, else it has been. */
static void set_options(ks_filling *filling, int rounds)
{
    ks_place_options *options = &filling->fill.job.options;
    ks_random random = ks_stream(options->seed, KS_FOR_FILLING, 0, 1);
    options->seed = ks_random_bits(&random);
    options->rounds = filling->rounds = rounds;
    if (!filling->fill.alone && options->from) {
        options->from = NULL;
        filling->rounds = 0;
    }
}

void ks_filling_begin(ks_filling *filling, const ks_job *job, const ks_draft *counted, int rounds,
                      ks_arena *arena)
{
    *filling = (ks_filling){0};
    ks_fill_job_init(&filling->fill, job, slots_fired(counted, arena), arena);
    set_options(filling, rounds);
    ks_run_init(&filling->run, &filling->fill.job, arena);
    ks_draft draft = draft_of(&filling->fill, counted, arena);
    if (filling->fill.alone) /* no load to begin from */
        return;
    ks_random random = ks_stream(filling->run.job->options.seed, KS_FOR_FILLING, 0, 0);
    ks_top_up(&filling->run, &draft, TOP_UP_WORK, &random, arena); /* what is counted stays */
    ks_pool_learn(&filling->run.pool, &draft);
    ks_run_set_best(&filling->run, &draft);
    filling->run.begun = true;
}

bool ks_filling_goes_on(const ks_filling *filling)
{
    return filling->fill.job.n_slots > 0 &&
           ((filling->fill.alone && !filling->run.begun) || filling->run.round < filling->rounds);
}

void ks_filling_step(ks_filling *filling)
{
    ks_run_round(&filling->run);
}

ks_draft ks_filling_best(const ks_filling *filling, const ks_job *job, ks_arena *arena)
{
    ks_draft best = ks_run_best(&filling->run, arena);
    ks_draft whole = ks_draft_empty(job, arena);
    for (int s = 0; s < best.n_loads; s++)
        whole.loads[filling->fill.slot[s]] = best.loads[s];
    ks_draft_count(job, &whole);
    return whole;
}

static bool has_fill(const ks_job *job, int item)
{
    for (int m = 0; m < ks_job_members(job, item); m++)
        if (ks_job_is_fill(job, ks_job_member(job, item, m)))
            return true;
    return false;
}

static int counted_only(const ks_job *job, ks_shelf_spot *spots, int n)
{
    int kept = 0;
    for (int i = 0; i < n; i++)
        if (!has_fill(job, spots[i].item))
            spots[kept++] = spots[i];
    return kept;
}

void ks_filling_take_out(const ks_job *job, ks_draft *draft)
{
    for (int s = 0; s < draft->n_loads; s++)
        for (int l = 0; l < draft->loads[s].n_levels; l++) {
            ks_shelf_layout *layout = &draft->loads[s].levels[l].layout;
            layout->n_spots = counted_only(job, layout->spots, layout->n_spots);
        }
    ks_draft_count(job, draft);
}
