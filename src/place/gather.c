#include "place/run.h"
#include "place/workers.h"

#include <string.h>

/* Pairs of loads (drawn anew each round) are built again together, the first of each pair as rich
 * as can be: so the emptier load of a pair empties further, until a firing is saved or what was
 * left finds room. */

typedef struct {
    ks_run *run;
    int n_pairs;
    int pairs[KS_TASKS][2];
    ks_arena arenas[KS_TASKS];
    ks_draft drafts[KS_TASKS];
} gathering;

static double fill_of(const ks_run *run, const ks_draft_load *load)
{
    double sum = 0;
    for (int l = 0; l < load->n_levels; l++)
        for (int i = 0; i < load->levels[l].layout.n_spots; i++)
            sum += run->rent[load->levels[l].layout.spots[i].item];
    return sum;
}

static double gathered(const ks_run *run, const ks_draft *draft)
{
    double sum = 0;
    for (int s = 0; s < draft->n_loads; s++) {
        double fill = fill_of(run, &draft->loads[s]);
        sum += fill * fill;
    }
    return sum;
}

static void gather_one(void *context, int task)
{
    gathering *g = context;
    ks_run *run = g->run;
    const ks_job *job = run->job;
    ks_arena *arena = &g->arenas[task];
    ks_draft *draft = &g->drafts[task];
    ks_random random = ks_run_random(run, task);
    *draft = ks_draft_copy(job, &run->best, arena);
    if (task >= g->n_pairs)
        return;
    int *after = KS_TAKE(arena, job->n_kinds, int);
    int first = g->pairs[task][0], second = g->pairs[task][1];
    draft->loads[first].n_levels = draft->loads[second].n_levels = 0;
    ks_draft_count(job, draft);
    ks_greedy greedy = {.job = job,
                        .density = ks_random_between(&random, 0.80, 0.90),
                        .work = run->work * 2 / 3,
                        .seed = ks_random_bits(&random),
                        .hurry = run->hurry};
    after[job->slot_kind[second]] = 1;
    ks_greedy_load(&greedy, draft, first, after, arena);
    after[job->slot_kind[second]] = 0;
    ks_greedy_load(&greedy, draft, second, after, arena);
    if (ks_draft_is_bare(&draft->loads[second]))
        draft->loads[second].n_levels = 0;
    ks_draft_count(job, draft);
}

static void draw_pairs(gathering *g, ks_arena *arena)
{
    const ks_run *run = g->run;
    ks_random random = ks_run_random(run, KS_TASKS);
    int n = run->job->n_slots;
    int *order = KS_TAKE(arena, n, int);
    for (int i = 0; i < n; i++)
        order[i] = i;
    for (int i = n - 1; i > 0; i--) {
        int k = ks_random_below(&random, i + 1), swap = order[i];
        order[i] = order[k];
        order[k] = swap;
    }
    bool *used = KS_TAKE(arena, n, bool);
    for (int i = 0; i < n; i++)
        used[i] = run->best.loads[i].n_levels == 0;
    for (int i = 0; i < n && g->n_pairs < KS_TASKS; i++)
        for (int k = i + 1; k < n && !used[order[i]]; k++) {
            if (used[order[k]])
                continue;
            int a = order[i], b = order[k];
            bool swap = fill_of(run, &run->best.loads[a]) < fill_of(run, &run->best.loads[b]);
            g->pairs[g->n_pairs][0] = swap ? b : a;
            g->pairs[g->n_pairs++][1] = swap ? a : b;
            used[a] = used[b] = true;
        }
}

/* Loads of one draft put into another, when the ware they hold is still there. */
static bool merged(const ks_run *run, ks_draft *into, const ks_draft *from, const int *pair)
{
    const ks_job *job = run->job;
    double worth = into->score, order = gathered(run, into);
    ks_draft_load before[2] = {into->loads[pair[0]], into->loads[pair[1]]};
    for (int i = 0; i < 2; i++)
        into->loads[pair[i]] = from->loads[pair[i]];
    ks_draft_count(job, into);
    bool fine = into->score > worth + 1e-9 ||
                (into->score > worth - 1e-9 && gathered(run, into) > order * (1 + 1e-9));
    for (int i = 0; i < job->order->n_pieces; i++)
        fine = fine && into->left[i] >= 0;
    if (!fine) {
        for (int i = 0; i < 2; i++)
            into->loads[pair[i]] = before[i];
        ks_draft_count(job, into);
    }
    return fine;
}

void ks_run_gather(ks_run *run)
{
    ks_arena scratch = {0};
    gathering g = {.run = run};
    draw_pairs(&g, &scratch);
    ks_workers_do(run->job->options.threads, KS_TASKS, gather_one, &g);
    ks_draft best = ks_draft_copy(run->job, &run->best, &scratch);
    bool any = false;
    for (int t = 0; t < g.n_pairs; t++)
        any = merged(run, &best, &g.drafts[t], g.pairs[t]) || any;
    if (any)
        run->best = ks_draft_copy(run->job, &best, run->arena);
    for (int t = 0; t < KS_TASKS; t++)
        ks_arena_finish(&g.arenas[t]);
    ks_arena_finish(&scratch);
}
