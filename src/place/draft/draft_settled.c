#include "place/draft/draft_settled.h"

#include "place/draft/cone_packs.h"
#include "place/draft/level_wish.h"

#include <string.h>

/* The uppermost tier of a column, with nothing over it, and the levels on whose posts it rests: of
 * its own column, or, where it is the lowest of its arrangement, all of another's. */
typedef struct {
    const ks_job *job;
    const ks_draft_load *load;
    ks_stack_level at; /* one of the tier's */
    ks_um underside;
    bool in_column; /* it rests on levels of its own column */
} tier;

static ks_um thickness_of(const ks_job *job, const ks_draft_load *load, const ks_stack_level *at)
{
    const ks_furniture *f = job->kinds[load->kind].furniture;
    const ks_column *column = &f->post_layouts[at->standing].columns[at->column];
    for (int w = 0; w < column->n_ways; w++)
        for (int b = 0; b < column->n_bays; b++)
            if (column->bays[b] == at->bay && column->ways[w].supports[b] == at->support)
                return column->ways[w].thickness;
    return 0;
}

static bool is_in_column(const ks_stack_level *a, const ks_stack_level *b)
{
    return a->standing == b->standing && a->column == b->column;
}

static bool is_under(const tier *t, const ks_stack_level *at)
{
    return at->posts >= 0 && at->z + at->gap == t->underside &&
           (t->in_column ? is_in_column(at, &t->at) : at->standing != t->at.standing);
}

static bool is_of(const tier *t, const ks_stack_level *at)
{
    return at->standing == t->at.standing && (!t->in_column || at->column == t->at.column) &&
           at->z - thickness_of(t->job, t->load, at) == t->underside;
}

static bool has_under(const tier *t)
{
    for (int l = 0; l < t->load->n_levels; l++)
        if (is_under(t, &t->load->levels[l].at))
            return true;
    return false;
}

static tier tier_of(const ks_job *job, const ks_draft_load *load, int level)
{
    tier t = {.job = job, .load = load, .at = load->levels[level].at, .in_column = true};
    t.underside = t.at.z - thickness_of(job, load, &t.at);
    t.in_column = has_under(&t);
    return t;
}

static bool is_bare_top(const tier *t)
{
    for (int l = 0; l < t->load->n_levels; l++) {
        const ks_draft_level *level = &t->load->levels[l];
        if (is_of(t, &level->at) &&
            (level->at.posts >= 0 || level->layout.n_spots > 0 || level->n_pins > 0))
            return false;
    }
    return true;
}

static double tallest_mm(const ks_job *job, const ks_draft_level *level)
{
    double most = 0;
    for (int i = 0; i < level->layout.n_spots + level->n_pins; i++) {
        int spot = i - level->n_pins;
        int item = spot < 0 ? level->pins[i].item : level->layout.spots[spot].item;
        most = job->height_mm[item] > most ? job->height_mm[item] : most;
    }
    return most;
}

/* The lid asks for more room than a shelf does, so ware under a shelf may be too near to it. */
static bool bears_the_lid(const tier *t, ks_um lid)
{
    const ks_load_kind *kind = &t->job->kinds[t->load->kind];
    for (int l = 0; l < t->load->n_levels; l++) {
        const ks_draft_level *level = &t->load->levels[l];
        ks_stack_level under_lid = level->at;
        under_lid.posts = -1;
        under_lid.gap = lid - level->at.z;
        if (is_under(t, &level->at) &&
            tallest_mm(t->job, level) > ks_level_clear_mm(kind, &under_lid))
            return false;
    }
    return true;
}

/* Into `levels`: the load's without the tier; those below it reach the lid. How many. */
static int without(const tier *t, ks_um lid, ks_draft_level *levels)
{
    int kept = 0;
    for (int l = 0; l < t->load->n_levels; l++) {
        if (is_of(t, &t->load->levels[l].at))
            continue;
        ks_draft_level *level = &levels[kept++];
        *level = t->load->levels[l];
        if (is_under(t, &level->at)) {
            level->at.posts = -1;
            level->at.gap = lid - level->at.z;
        }
    }
    return kept;
}

/* Shelves with nothing on them at the top of a column stay out; the level below reaches the lid. */
static bool top_taken_off(const ks_job *job, ks_draft_load *load, ks_draft_level *scratch)
{
    ks_um lid = ks_um_of(job->kinds[load->kind].furniture->kiln->height_mm);
    bool packs = ks_cones_stand(job, load);
    for (int l = load->n_levels - 1; l >= 0; l--) {
        tier t = tier_of(job, load, l);
        if (!is_bare_top(&t) || !has_under(&t) || !bears_the_lid(&t, lid))
            continue;
        ks_draft_load next = {load->kind, without(&t, lid, scratch), scratch};
        if ((packs && !ks_cones_stand(job, &next)) || ks_wishes_broken(job, &next) > 0)
            continue;
        memcpy(load->levels, scratch, sizeof *scratch * (size_t)next.n_levels);
        load->n_levels = next.n_levels;
        return true;
    }
    return false;
}

static bool is_whole(const ks_job *job, const bool *together, int item)
{
    for (int m = 0; m < ks_job_members(job, item); m++) {
        int set = job->set[ks_job_member(job, item, m)];
        if (set >= 0 && !together[set])
            return false;
    }
    return true;
}

static int spots_kept(const ks_job *job, const bool *together, ks_shelf_spot *spots, int n)
{
    int kept = 0;
    for (int i = 0; i < n; i++)
        if (is_whole(job, together, spots[i].item))
            spots[kept++] = spots[i];
    return kept;
}

static void take_out_sets(const ks_job *job, ks_draft *draft, const bool *together)
{
    for (int s = 0; s < draft->n_loads; s++)
        for (int l = 0; l < draft->loads[s].n_levels; l++) {
            ks_draft_level *level = &draft->loads[s].levels[l];
            ks_shelf_layout *layout = &level->layout;
            layout->n_spots = spots_kept(job, together, layout->spots, layout->n_spots);
            level->n_pins = spots_kept(job, together, level->pins, level->n_pins);
        }
}

void ks_draft_settle(const ks_job *job, ks_draft *draft)
{
    ks_arena scratch = {0};
    ks_wishes_weeded(job, draft);
    take_out_sets(job, draft, ks_draft_together(job, draft, &scratch));
    for (int s = 0; s < draft->n_loads; s++) {
        ks_draft_load *load = &draft->loads[s];
        ks_draft_level *levels = KS_TAKE(&scratch, load->n_levels, ks_draft_level);
        while (load->n_levels > 1 && !ks_job_keeps_shelves(job) && top_taken_off(job, load, levels))
            ;
    }
    ks_draft_count(job, draft);
    ks_arena_finish(&scratch);
}
