#include "place/run.h"

#include "place/bound.h"
#include "place/greedy.h"

void ks_run_init(ks_run *search, ks_job *job, ks_arena *arena, const volatile bool *hurry)
{
    *search = (ks_run){.job = job, .arena = arena, .hurry = hurry, .work = 600};
    ks_pool_init(&search->pool, job, arena);
    search->best = ks_draft_empty(job, arena);
    search->price = KS_TAKE(arena, job->n_goods, double);
}

ks_random ks_run_random(const ks_run *search, int task)
{
    return ks_random_of(search->job->options.seed,
                        (uint64_t)(search->round * KS_TASKS + task) + 1000);
}

bool ks_run_take(ks_run *search, const ks_draft *draft)
{
    if (draft->score <= search->best.score + 1e-9)
        return false;
    search->best = ks_draft_copy(search->job, draft, search->arena);
    return true;
}

/* What part of a load each good takes, as if ware were liquid and all of it had to go in. */
static void share_out(ks_run *search)
{
    const ks_job *job = search->job;
    ks_arena scratch = {0};
    int *copies = KS_TAKE(&scratch, job->n_goods, int),
        *loads = KS_TAKE(&scratch, job->n_kinds, int);
    for (int i = 0; i < job->order->n_pieces; i++)
        copies[i] = job->items[i].copies > 0 ? job->order->pieces[i].count : 0;
    for (int k = 0; k < job->n_kinds; k++)
        loads[k] = 1000000;
    ks_relax_ask ask = {job, copies, search->pool.worth, loads, 1, 0, NULL};
    ks_relaxed relaxed = ks_relax(&ask, &scratch);
    search->rent = KS_TAKE(search->arena, job->n_goods, double);
    for (int i = 0; i < job->order->n_pieces; i++)
        search->rent[i] = ks_good_area_mm2(job, &job->kinds[0], i) *
                          relaxed.price_mm2[ks_height_index(job, job->height_mm[i])];
    search->fewest = ks_bound_loads(job, search->rent);
    ks_arena_finish(&scratch);
}

static void begin(ks_run *search)
{
    ks_job *job = search->job;
    share_out(search);
    ks_greedy greedy = {job, 0.86, 300, job->options.seed, search->hurry};
    ks_greedy_loads(&greedy, &search->best, search->arena);
    ks_pool_learn(&search->pool, &search->best);
}

/* For one load: half of the rounds look for patterns, then whole loads are built, and repairs
 * follow. For several, loads are gathered and repaired by turns. */
void ks_run_round(ks_run *search)
{
    int rounds = search->job->options.rounds, round = search->round;
    if (round == 0)
        begin(search);
    else if (search->job->n_slots > 1)
        (round % 4 == 0 ? ks_run_repair : ks_run_gather)(search);
    else if (round < 1 + rounds / 2)
        ks_run_price(search);
    else if (round < 1 + rounds * 5 / 8)
        ks_run_rebuild(search);
    else
        ks_run_repair(search);
    search->round++;
}
