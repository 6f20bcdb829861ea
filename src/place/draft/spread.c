#include "place/draft/spread.h"

#include "place/draft/level_fill.h"
#include "place/job/stream.h"

#include <math.h>

enum { SPREADING_WORK = 100 };

static int *copies_in(const ks_job *job, const ks_draft_load *was, int *n, ks_arena *arena)
{
    int *copies = KS_TAKE(arena, job->n_items, int);
    *n = 0;
    for (int l = 0; l < was->n_levels; l++)
        for (int i = 0; i < was->levels[l].layout.n_spots; i++) {
            int item = was->levels[l].layout.spots[i].item;
            for (int m = 0; m < ks_job_members(job, item) && item != job->cone; m++, ++*n)
                copies[ks_job_member(job, item, m)]++;
        }
    return copies;
}

/* As much of what is left as finds room beside the level's packs. Whether those do. */
static bool is_filled(const ks_job *job, const ks_load_kind *kind, ks_draft_level *level,
                      int *copies, uint64_t seed, ks_arena *arena)
{
    int *packs = KS_TAKE(arena, job->n_items, int), n_packs = 0;
    if (job->cone >= 0)
        copies[job->cone] = packs[job->cone] = level->cones;
    ks_fill fill = {.job = job,
                    .kind = kind,
                    .level = &level->at,
                    .worth = job->worth,
                    .copies = copies,
                    .must = packs,
                    .n_pins = level->n_pins,
                    .pins = level->pins,
                    .mass_left_kg = INFINITY, /* the load bore it before */
                    .seed = seed,
                    .work = SPREADING_WORK};
    level->layout = ks_level_fill(&fill, arena);
    for (int i = 0; i < level->layout.n_spots; i++) {
        int item = level->layout.spots[i].item;
        for (int m = 0; m < ks_job_members(job, item); m++)
            copies[ks_job_member(job, item, m)]--;
        n_packs += item == job->cone;
    }
    return n_packs == level->cones;
}

/* From the lowest level upwards, or from the highest down. */
static bool is_spread(const ks_job *job, const ks_draft_load *was, int slot, bool upwards,
                      ks_draft_load *load, ks_arena *arena)
{
    int n, wares = 0;
    int *copies = copies_in(job, was, &n, arena);
    ks_random random = ks_stream(job->options.seed, KS_FOR_SPREADING, slot, upwards);
    for (int k = 0; k < load->n_levels; k++) {
        ks_draft_level *level = &load->levels[upwards ? k : load->n_levels - 1 - k];
        if (!is_filled(job, &job->kinds[load->kind], level, copies, ks_random_bits(&random), arena))
            return false;
        for (int i = 0; i < level->layout.n_spots; i++)
            wares += ks_job_members(job, level->layout.spots[i].item);
        wares -= level->cones;
    }
    return wares == n;
}

bool ks_spread(const ks_job *job, const ks_draft_load *was, int slot, ks_draft_load *load,
               ks_arena *arena)
{
    return is_spread(job, was, slot, true, load, arena) ||
           is_spread(job, was, slot, false, load, arena);
}
