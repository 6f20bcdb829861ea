#include "place/search/level_build.h"

#include "place/draft/pins.h"
#include "place/search/workers.h"

/* Whole loads built anew, several ways at a time, each led by the prices of the pool: a level takes
 * an item only for more than its price, which is what other levels would give for it. */

typedef struct {
    ks_run *search;
    ks_arena arenas[KS_TASKS];
    ks_draft drafts[KS_TASKS];
} rebuilding;

/* A stack of the kind, drawn with the weight it has in the program's answer. */
static const ks_stack *draw_stack(const ks_pool *pool, int kind, ks_random *random)
{
    double sum = 0;
    const ks_stack *last = NULL;
    for (int s = 0; s < pool->n_stacks; s++)
        sum += pool->stacks[s].kind == kind && pool->stack_used ? pool->stack_used[s] : 0;
    double at = ks_random_unit(random) * sum;
    for (int s = 0; s < pool->n_stacks; s++) {
        if (pool->stacks[s].kind != kind)
            continue;
        last = &pool->stacks[s].stack;
        at -= pool->stack_used ? pool->stack_used[s] : 0;
        if (sum > 0 && at < 0)
            return last;
    }
    return last;
}

static void fill_load(ks_level_builder *b, int slot)
{
    const ks_job *job = b->search->job;
    ks_draft_load *load = &b->draft->loads[slot];
    int *order = KS_TAKE(b->arena, load->n_levels, int);
    ks_build_order(job, load, order);
    for (int l = 0; l < load->n_levels; l++) {
        double keep_back = load->n_levels > 1 ? 1 - (double)l / (load->n_levels - 1) : 0;
        for (int i = 0; i < job->n_items; i++)
            b->worth[i] = b->search->pool.worth[i] - keep_back * b->search->price[i];
        ks_build_level(b, slot, order[l], ks_build_known(b, slot, order[l]));
    }
}

static void rebuild_one(void *context, int task)
{
    rebuilding *r = context;
    ks_run *search = r->search;
    const ks_job *job = search->job;
    ks_arena *arena = &r->arenas[task];
    ks_random random = ks_run_random(search, KS_FOR_REBUILDING, task);
    ks_draft *draft = &r->drafts[task];
    *draft = ks_draft_copy(job, &search->best, arena);
    int slot = ks_random_below(&random, job->n_slots);
    for (int l = 0; l < draft->loads[slot].n_levels; l++)
        ks_draft_clear_level(draft, slot, l);
    const ks_stack *stack = draw_stack(&search->pool, job->slot_kind[slot], &random);
    if (!stack)
        return;
    ks_draft_build(job, draft, slot, stack, arena);
    ks_draft_count(job, draft);
    ks_level_builder b = ks_level_builder_of(search, draft, &random, arena);
    b.work = search->work * 2 / (draft->loads[slot].n_levels + 1);
    fill_load(&b, slot);
    ks_draft_count(job, draft);
}

void ks_run_rebuild(ks_run *search)
{
    rebuilding r = {.search = search};
    ks_workers_do(search->job->options.threads, KS_TASKS, rebuild_one, &r);
    for (int t = 0; t < KS_TASKS; t++) {
        ks_pool_learn(&search->pool, &r.drafts[t]);
        ks_run_take(search, &r.drafts[t]);
        ks_arena_finish(&r.arenas[t]);
    }
}
