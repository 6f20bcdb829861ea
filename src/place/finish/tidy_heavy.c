#include "place/finish/tidy.h"

#include "place/draft/alone.h"
#include "place/finish/tidy_effort.h"
#include "place/finish/tidy_tiers.h"

/* Heavy levels low. Whether a load still keeps every rule when two of its tiers have changed places
 * is the checker's to say: heights decide about walls, sensors, cone packs and much else. */

enum { PASSES = 3, GAPS_TRIED = 3 };

typedef struct {
    ks_tiers tiers;
    int faults, pieces;    /* of the load as it is */
    int64_t *effort, cost; /* what is left; of one try */
} tidying;

static bool is_kept(const tidying *t, const ks_draft *tried)
{
    int pieces;
    return ks_alone_faults(t->tiers.job, tried, &pieces) <= t->faults && pieces == t->pieces;
}

/* Takes the tried load when nothing more is wrong with it than was; ware that cannot stand as it
 * stood is laid out anew. */
static bool is_taken(tidying *t, ks_draft tried)
{
    ks_tiers *tiers = &t->tiers;
    ks_draft_load *load = &tried.loads[tiers->slot];
    *t->effort -= t->cost;
    if (!(ks_tiers_stand(tiers, load) && is_kept(t, &tried)) &&
        !(ks_tiers_relaid(tiers, load) && is_kept(t, &tried)))
        return false;
    tiers->draft = tried;
    ks_tiers_list(tiers);
    return true;
}

static bool goes_on(const tidying *t)
{
    return *t->effort >= t->cost && !ks_stop_is_asked(t->tiers.job->stop);
}

static bool exchange(tidying *t, int low, int high)
{
    ks_tiers *tiers = &t->tiers;
    for (int choice = 0; choice < GAPS_TRIED && goes_on(t); choice++) {
        ks_draft tried = ks_draft_copy(tiers->job, &tiers->draft, tiers->arena);
        if (ks_tiers_changed(tiers, low, high, choice, &tried.loads[tiers->slot]) &&
            is_taken(t, tried))
            return true;
    }
    if (!goes_on(t))
        return false;
    ks_draft tried = ks_draft_copy(tiers->job, &tiers->draft, tiers->arena);
    return ks_tiers_ware_changed(tiers, low, high, &tried.loads[tiers->slot]) && is_taken(t, tried);
}

/* The heaviest over this tier that may change places with it. */
static bool one_brought_down(tidying *t, int low)
{
    const ks_tiers *tiers = &t->tiers;
    bool *passed = KS_TAKE(tiers->arena, tiers->n, bool);
    while (!ks_stop_is_asked(tiers->job->stop)) {
        int best = -1;
        for (int k = low + 1; k < tiers->n; k++)
            if (!passed[k] && !tiers->tiers[k].pinned && ks_tiers_share_column(tiers, k, low) &&
                tiers->tiers[k].mass_kg > tiers->tiers[low].mass_kg + 1e-9 &&
                (best < 0 || tiers->tiers[k].mass_kg > tiers->tiers[best].mass_kg))
                best = k;
        if (best < 0)
            return false;
        if (exchange(t, low, best))
            return true;
        passed[best] = true;
    }
    return false;
}

/* The checker holds the corners of a level against one another. */
static int64_t cost_of_try(const ks_job *job, const ks_draft_load *load)
{
    int64_t sum = 0;
    for (int l = 0; l < load->n_levels; l++) {
        int64_t corners = ks_level_corners(job, &load->levels[l]);
        sum += corners * corners;
    }
    return sum;
}

bool ks_tidy_heavy_low(const ks_job *job, ks_draft *draft, int slot, int64_t *effort,
                       ks_arena *arena)
{
    ks_draft_load *load = &draft->loads[slot];
    tidying t = {
        .tiers = {.job = job, .slot = slot, .draft = ks_draft_empty(job, arena), .arena = arena},
        .effort = effort,
        .cost = cost_of_try(job, load)};
    if (*effort < t.cost)
        return false;
    t.tiers.draft.loads[slot] = *load;
    t.tiers.tiers = KS_TAKE(arena, load->n_levels, ks_tier);
    t.faults = ks_alone_faults(job, &t.tiers.draft, &t.pieces);
    ks_tiers_list(&t.tiers);
    bool moved = false, more = true;
    for (int pass = 0; pass < PASSES && more; pass++) {
        more = false;
        for (int low = 0; low < t.tiers.n; low++)
            more = (!t.tiers.tiers[low].pinned && one_brought_down(&t, low)) || more;
        moved = moved || more;
    }
    *load = t.tiers.draft.loads[slot];
    return moved;
}
