#include "place/search/top_up.h"

#include "place/draft/offer.h"
#include "place/search/level_build.h"

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

static void top_up_level(const ks_run *run, ks_draft *draft, int slot, int l, int64_t work,
                         ks_random *random, ks_arena *arena)
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
                    .work = work};
    ks_shelf_layout more = ks_level_fill(&fill, arena);
    join_layout(job, draft, level, &more, arena);
}

void ks_top_up(const ks_run *run, ks_draft *draft, int64_t work, ks_random *random, ks_arena *arena)
{
    for (int s = 0; s < draft->n_loads; s++) {
        int *order = KS_TAKE(arena, draft->loads[s].n_levels, int);
        ks_build_order(run->job, &draft->loads[s], order);
        for (int l = 0; l < draft->loads[s].n_levels; l++)
            top_up_level(run, draft, s, order[l], work, random, arena);
    }
}
