#include "place/search/level_build.h"

#include "place/draft/pins.h"

#include <stdint.h>

/* The load that the known patterns make when they are taken whole: the integer program over the
 * pool chooses stack and patterns, then each level is filled from its pattern with what no other
 * level's pattern needs. */

enum { NODES = 300 };

typedef struct {
    ks_level_builder builder;
    int slot;
    const ks_pool_stack *stack;
    const ks_pattern **of; /* pattern of each level, NULL = none */
    int *reserved;         /* copies of each item that patterns of levels still bare need */
} whole;

static const ks_pool_stack *stack_used(const ks_pool *pool, const double *uses, int kind)
{
    for (int s = 0; s < pool->n_stacks; s++)
        if (pool->stacks[s].kind == kind && uses[pool->n_patterns + s] > 0.5)
            return &pool->stacks[s];
    return NULL;
}

/* The lowest of the levels without a pattern that takes this one; -1 = none is left. */
static int level_for(const whole *w, const ks_pattern *pattern)
{
    const ks_job *job = w->builder.search->job;
    const ks_stack *stack = &w->stack->stack;
    ks_um least = INT64_MAX;
    int best = -1;
    for (int l = 0; l < stack->n_levels; l++) {
        const ks_stack_level *at = &stack->levels[l];
        int height = ks_height_index(job, ks_level_clear_mm(&job->kinds[w->stack->kind], at));
        if (w->of[l] || at->gap >= least ||
            !ks_pattern_fits(pattern, w->stack->group[l], height, at->posts < 0))
            continue;
        least = at->gap;
        best = l;
    }
    return best;
}

static void pattern_kept(whole *w, const ks_pattern *pattern)
{
    int level = level_for(w, pattern);
    if (level < 0)
        return;
    w->of[level] = pattern;
    for (int k = 0; k < pattern->n; k++)
        w->reserved[pattern->items[k]] += pattern->counts[k];
}

/* Those for top levels first, and then from the highest down: what takes a high one takes a low one
 * too. */
static void patterns_kept(whole *w, const double *uses)
{
    const ks_pool *pool = &w->builder.search->pool;
    for (int top = 1; top >= 0; top--)
        for (int h = pool->job->n_heights - 1; h >= 0; h--)
            for (int p = 0; p < pool->n_patterns; p++)
                for (int n = 0; n < uses[p] - 0.5; n++)
                    if (pool->patterns[p].height == h && pool->patterns[p].top == (top == 1))
                        pattern_kept(w, &pool->patterns[p]);
}

static void fill_levels(whole *w)
{
    ks_draft *draft = w->builder.draft;
    int n_items = w->builder.search->job->n_items;
    for (int l = 0; l < draft->loads[w->slot].n_levels; l++) {
        const ks_pattern *own = w->of[l];
        for (int k = 0; own && k < own->n; k++)
            w->reserved[own->items[k]] -= own->counts[k];
        for (int i = 0; i < n_items; i++)
            draft->left[i] -= w->reserved[i];
        ks_build_level(&w->builder, w->slot, l, own ? &own->layout : NULL);
        for (int i = 0; i < n_items; i++)
            draft->left[i] += w->reserved[i];
    }
}

void ks_run_integer_master(ks_run *search)
{
    const ks_job *job = search->job;
    ks_pool *pool = &search->pool;
    ks_arena arena = {0};
    double *uses = KS_TAKE(&arena, pool->n_patterns + pool->n_stacks, double);
    const ks_pool_stack *stack = NULL;
    if (ks_pool_solve_whole(pool, NODES, job->stop, uses))
        stack = stack_used(pool, uses, job->slot_kind[0]);
    ks_draft draft = ks_draft_empty(job, &arena);
    if (stack && ks_draft_build(job, &draft, 0, &stack->stack, &arena)) {
        ks_random random = ks_run_random(search, KS_FOR_WHOLE, 0);
        whole w = {ks_level_builder_of(search, &draft, &random, &arena), 0, stack,
                   KS_TAKE(&arena, stack->stack.n_levels, const ks_pattern *),
                   KS_TAKE(&arena, job->n_items, int)};
        w.builder.work = search->work * 2 / (stack->stack.n_levels + 1);
        for (int i = 0; i < job->n_items; i++)
            w.builder.worth[i] = pool->worth[i];
        ks_draft_count(job, &draft);
        patterns_kept(&w, uses);
        fill_levels(&w);
        ks_draft_count(job, &draft);
        ks_pool_learn(pool, &draft);
        ks_run_join_race(search, &draft);
        ks_run_take(search, &draft);
    }
    ks_arena_finish(&arena);
}
