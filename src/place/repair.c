#include "place/build.h"
#include "place/workers.h"

/* Levels of the best plan laid bare, one or two at a time, and filled again from what they held and
 * what is left. Tasks work on copies; what they gain is taken in their fixed order, as long as the
 * ware they used is still there. */

typedef struct {
    int slot, level[2], n; /* levels of one or two loads */
    int slots[2];
    double gain;
    ks_shelf_layout layouts[2];
} change;

typedef struct {
    const ks_run *search;
    const ks_draft *draft; /* being repaired */
    const double *worth;   /* what goods count; NULL = the draft's own score */
    uint64_t stream;
    ks_arena arenas[KS_TASKS];
    change changes[KS_TASKS];
} repairing;

static double merit(const repairing *r, const ks_draft *draft)
{
    double sum = 0;
    if (!r->worth)
        return draft->score;
    for (int i = 0; i < r->search->job->order->n_pieces; i++)
        sum -= r->worth[i] * draft->left[i];
    return sum;
}

static int levels_in_all(const ks_draft *draft)
{
    int n = 0;
    for (int s = 0; s < draft->n_loads; s++)
        n += draft->loads[s].n_levels;
    return n;
}

static void level_at(const ks_draft *draft, int number, int *slot, int *level)
{
    for (*slot = 0; number >= draft->loads[*slot].n_levels; (*slot)++)
        number -= draft->loads[*slot].n_levels;
    *level = number;
}

static void repair_one(void *context, int task)
{
    repairing *r = context;
    const ks_run *search = r->search;
    const ks_job *job = search->job;
    ks_arena *arena = &r->arenas[task];
    change *c = &r->changes[task];
    ks_random random = ks_random_of(job->options.seed, r->stream + (uint64_t)task);
    ks_draft draft = ks_draft_copy(job, r->draft, arena);
    int all = levels_in_all(&draft);
    if (all == 0)
        return;
    c->n = all > 1 && ks_random_unit(&random) < 0.6 ? 2 : 1;
    int first = ks_random_below(&random, all), second = first;
    while (c->n == 2 && second == first)
        second = ks_random_below(&random, all);
    level_at(&draft, first, &c->slots[0], &c->level[0]);
    level_at(&draft, second, &c->slots[1], &c->level[1]);
    ks_shelf_layout before[2];
    double was = merit(r, &draft);
    for (int i = 0; i < c->n; i++) {
        before[i] = draft.loads[c->slots[i]].levels[c->level[i]].layout;
        ks_draft_clear_level(&draft, c->slots[i], c->level[i]);
    }
    ks_builder b = ks_builder_of(search, &draft, &random, arena);
    b.work = search->work / c->n;
    for (int i = 0; i < c->n; i++) {
        double keep_back = i + 1 < c->n ? ks_random_unit(&random) : 0;
        for (int g = 0; g < job->n_goods; g++)
            b.worth[g] =
                r->worth ? r->worth[g] : search->pool.worth[g] - keep_back * search->price[g];
        const ks_shelf_layout *known = ks_build_known(&b, c->slots[i], c->level[i]);
        bool own = !known || ks_random_unit(&random) < 0.6;
        ks_build_level(&b, c->slots[i], c->level[i], own ? &before[i] : known);
        c->layouts[i] = draft.loads[c->slots[i]].levels[c->level[i]].layout;
    }
    ks_draft_count(job, &draft);
    c->gain = merit(r, &draft) - was;
}

static bool still_possible(const ks_run *search, ks_draft *draft, const change *c)
{
    ks_arena scratch = {0};
    int *used = KS_TAKE(&scratch, search->job->n_goods, int);
    bool fine = true;
    for (int i = 0; i < c->n; i++) {
        const ks_shelf_layout *old = &draft->loads[c->slots[i]].levels[c->level[i]].layout;
        for (int k = 0; k < old->n_spots; k++)
            used[old->spots[k].item]--;
        for (int k = 0; k < c->layouts[i].n_spots; k++)
            used[c->layouts[i].spots[k].item]++;
    }
    for (int g = 0; g < search->job->n_goods && fine; g++)
        fine = g == search->job->cone || used[g] <= draft->left[g];
    ks_arena_finish(&scratch);
    return fine;
}

static void put_change(const ks_run *search, ks_draft *draft, const change *c)
{
    for (int i = 0; i < c->n; i++)
        ks_draft_clear_level(draft, c->slots[i], c->level[i]);
    for (int i = 0; i < c->n; i++)
        ks_draft_set_level(draft, c->slots[i], c->level[i], c->layouts[i]);
    ks_draft_count(search->job, draft);
}

static bool touched(const bool *touch, const ks_draft *draft, const change *c)
{
    int base = 0;
    for (int s = 0; s < draft->n_loads; s++) {
        for (int i = 0; i < c->n; i++)
            if (c->slots[i] == s && touch[base + c->level[i]])
                return true;
        base += draft->loads[s].n_levels;
    }
    return false;
}

static void mark(bool *touch, const ks_draft *draft, const change *c)
{
    int base = 0;
    for (int s = 0; s < draft->n_loads; s++) {
        for (int i = 0; i < c->n; i++)
            if (c->slots[i] == s)
                touch[base + c->level[i]] = true;
        base += draft->loads[s].n_levels;
    }
}

void ks_run_mend(ks_run *search, ks_draft *draft, const double *worth, uint64_t stream)
{
    repairing r = {.search = search, .draft = draft, .worth = worth, .stream = stream};
    ks_workers_do(search->job->options.threads, KS_TASKS, repair_one, &r);
    ks_arena scratch = {0};
    bool *touch = KS_TAKE(&scratch, levels_in_all(draft) + 1, bool);
    ks_draft now = ks_draft_copy(search->job, draft, &scratch);
    for (int t = 0; t < KS_TASKS; t++) {
        const change *c = &r.changes[t];
        if (c->n == 0 || c->gain <= 1e-9 || touched(touch, &now, c) ||
            !still_possible(search, &now, c))
            continue;
        ks_draft next = ks_draft_copy(search->job, &now, &scratch);
        put_change(search, &next, c);
        if (merit(&r, &next) <= merit(&r, &now) + 1e-9)
            continue;
        mark(touch, &now, c);
        now = next;
    }
    *draft = ks_draft_copy(search->job, &now, search->arena);
    for (int t = 0; t < KS_TASKS; t++)
        ks_arena_finish(&r.arenas[t]);
    ks_arena_finish(&scratch);
}

void ks_run_repair(ks_run *search)
{
    ks_draft best = search->best;
    ks_run_mend(search, &best, NULL, (uint64_t)search->round * KS_TASKS + 1000);
    ks_run_take(search, &best);
    ks_pool_learn(&search->pool, &search->best);
}
