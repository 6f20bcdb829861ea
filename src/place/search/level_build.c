#include "place/search/level_build.h"

ks_level_builder ks_level_builder_of(const ks_run *search, ks_draft *draft, ks_random *random,
                                     ks_arena *arena)
{
    return (ks_level_builder){
        search, draft, random, arena, KS_TAKE(arena, search->job->n_items, double), search->work};
}

/* Some of the item's set is placed already: the rest is then worth all of it. */
static bool is_begun(const ks_job *job, const ks_draft *draft, int item)
{
    for (int i = 0; i < job->order->n_pieces; i++)
        if (job->set[i] == job->set[item] && draft->left[i] < job->order->pieces[i].count)
            return true;
    return false;
}

void ks_build_level(const ks_level_builder *builder, int slot, int level,
                    const ks_shelf_layout *warm)
{
    const ks_job *job = builder->search->job;
    ks_draft_load *load = &builder->draft->loads[slot];
    ks_arena scratch = {0};
    int *copies = KS_TAKE(&scratch, job->n_items, int),
        *must = KS_TAKE(&scratch, job->n_items, int);
    ks_offer_copies(job, builder->draft, slot, level, copies);
    if (job->cone >= 0)
        must[job->cone] = copies[job->cone];
    double *worth = KS_TAKE(&scratch, job->n_items, double);
    for (int i = 0; i < job->n_items; i++)
        worth[i] =
            builder->worth[i] * (job->set[i] >= 0 && is_begun(job, builder->draft, i) ? 4 : 1);
    ks_fill fill = {
        .job = job,
        .kind = &job->kinds[load->kind],
        .level = &load->levels[level].at,
        .worth = worth,
        .copies = copies,
        .must = must,
        .warm = warm,
        .n_pins = load->levels[level].n_pins,
        .pins = load->levels[level].pins,
        .mass_left_kg = ks_offer_mass_kg(job, builder->draft, slot),
        .seed = ks_random_bits(builder->random),
        .work = builder->work,
    };
    ks_draft_set_level(job, builder->draft, slot, level, ks_level_fill(&fill, builder->arena));
    ks_arena_finish(&scratch);
}

static double worth_of_left(const ks_level_builder *builder, const ks_pattern *pattern)
{
    double sum = 0;
    for (int k = 0; k < pattern->n; k++) {
        int left = builder->draft->left[pattern->items[k]];
        double worth = builder->worth[pattern->items[k]];
        sum += worth > 0 ? worth * (left < pattern->counts[k] ? left : pattern->counts[k]) : 0;
    }
    return sum;
}

static int group_of(const ks_pool *pool, int kind, const ks_stack_level *level)
{
    const ks_post_layout *st = &pool->job->kinds[kind].furniture->post_layouts[level->standing];
    for (int g = 0; g < pool->n_groups; g++)
        if (pool->groups[g].kind == kind && pool->groups[g].bay == level->bay &&
            pool->groups[g].support == level->support && pool->groups[g].places == st->places &&
            pool->groups[g].arrangement == st->arrangement)
            return g;
    return -1;
}

const ks_shelf_layout *ks_build_known(const ks_level_builder *builder, int slot, int level)
{
    const ks_pool *pool = &builder->search->pool;
    const ks_draft_load *load = &builder->draft->loads[slot];
    const ks_stack_level *at = &load->levels[level].at;
    int group = group_of(pool, load->kind, at);
    int height = ks_height_index(pool->job, ks_level_clear_mm(&pool->job->kinds[load->kind], at));
    const ks_pattern *best = NULL;
    double most = 0;
    for (int p = 0; p < pool->n_patterns; p++) {
        if (!ks_pattern_fits(&pool->patterns[p], group, height, at->posts < 0))
            continue;
        double worth = worth_of_left(builder, &pool->patterns[p]);
        if (worth > most) {
            most = worth;
            best = &pool->patterns[p];
        }
    }
    return best ? &best->layout : NULL;
}

void ks_build_order(const ks_job *job, const ks_draft_load *load, int *order)
{
    const ks_load_kind *kind = &job->kinds[load->kind];
    for (int l = 0; l < load->n_levels; l++) {
        int at = l;
        double clear = ks_level_clear_mm(kind, &load->levels[l].at);
        while (at > 0 && ks_level_clear_mm(kind, &load->levels[order[at - 1]].at) < clear) {
            order[at] = order[at - 1];
            at--;
        }
        order[at] = l;
    }
}
