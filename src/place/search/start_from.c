#include "place/search/level_build.h"

#include <string.h>

/* Starting from an earlier plan: what of it can still stand is kept where it is; ware that is new
 * fills what room is left, levels from the tallest down, then loads that are not there yet. */

#define DENSITY 0.8

static int packs_in(const ks_job *job, const ks_shelf_layout *layout)
{
    int n = 0;
    for (int i = 0; i < layout->n_spots; i++)
        n += layout->spots[i].item == job->cone;
    return n;
}

/* All that stands on a level, in the packer's way. */
static ks_shelf_spot *standing_on(const ks_draft_level *level, ks_arena *arena)
{
    int n = level->n_pins;
    ks_shelf_spot *spots = KS_TAKE(arena, n + level->layout.n_spots, ks_shelf_spot);
    for (int i = 0; i < n; i++)
        spots[i] = level->pins[i];
    for (int i = 0; i < level->layout.n_spots; i++)
        spots[n + i] = level->layout.spots[i];
    return spots;
}

static void join_layout(const ks_job *job, ks_draft *draft, ks_draft_level *level,
                        const ks_shelf_layout *more, ks_arena *arena)
{
    int n = level->layout.n_spots;
    ks_shelf_spot *spots = KS_TAKE(arena, n + more->n_spots, ks_shelf_spot);
    for (int i = 0; i < n; i++)
        spots[i] = level->layout.spots[i];
    for (int i = 0; i < more->n_spots; i++)
        spots[n + i] = more->spots[i];
    level->layout.spots = spots;
    level->layout.n_spots = n + more->n_spots;
    ks_draft_count(job, draft);
}

static void level_topped_up(const ks_run *run, ks_draft *draft, int slot, int l, ks_random *random,
                            ks_arena *arena)
{
    const ks_job *job = run->job;
    ks_draft_level *level = &draft->loads[slot].levels[l];
    int *copies = KS_TAKE(arena, job->n_items, int), *must = KS_TAKE(arena, job->n_items, int);
    double *worth = KS_TAKE(arena, job->n_items, double);
    ks_offer_copies(job, draft, slot, l, copies);
    if (job->cone >= 0)
        must[job->cone] = copies[job->cone] -= packs_in(job, &level->layout);
    for (int i = 0; i < job->n_items; i++)
        worth[i] = job->items[i].worth;
    ks_fill fill = {.job = job,
                    .kind = &job->kinds[draft->loads[slot].kind],
                    .level = &level->at,
                    .worth = worth,
                    .copies = copies,
                    .must = must,
                    .n_pins = level->n_pins + level->layout.n_spots,
                    .pins = standing_on(level, arena),
                    .mass_left_kg = ks_offer_mass_kg(job, draft, slot),
                    .seed = ks_random_bits(random),
                    .work = run->work,
                    .stop_asked = run->stop_asked};
    ks_shelf_layout more = ks_level_fill(&fill, arena);
    join_layout(job, draft, level, &more, arena);
}

void ks_run_start_from(ks_run *run)
{
    const ks_job *job = run->job;
    ks_random random = ks_run_random(run, KS_FOR_EARLIER, 0);
    ks_draft draft = ks_before_draft(job, &run->before, run->arena);
    for (int s = 0; s < draft.n_loads; s++) {
        int *order = KS_TAKE(run->arena, draft.loads[s].n_levels, int);
        ks_build_order(job, &draft.loads[s], order);
        for (int l = 0; l < draft.loads[s].n_levels; l++)
            level_topped_up(run, &draft, s, order[l], &random, run->arena);
    }
    ks_greedy greedy = {.job = job,
                        .density = DENSITY,
                        .work = run->work,
                        .random = &random,
                        .stop_asked = run->stop_asked};
    ks_greedy_loads(&greedy, &draft, run->arena);
    if (run->stop_asked && *run->stop_asked)
        return;
    run->from = draft;
    ks_pool_learn(&run->pool, &draft);
    ks_run_take(run, &draft);
}

ks_draft ks_run_best(const ks_run *run, ks_arena *arena)
{
    bool from =
        run->from.n_loads > 0 && run->from.score >= run->best.score - KS_RUN_ALIKE &&
        ks_before_stayed(&run->before, &run->from) > ks_before_stayed(&run->before, &run->best);
    return ks_draft_copy(run->job, from ? &run->from : &run->best, arena);
}
