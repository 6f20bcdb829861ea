#include "place/run.h"

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

static void begin(ks_run *search)
{
    ks_job *job = search->job;
    ks_greedy greedy = {job, 0.8, 300, job->options.seed, search->hurry};
    ks_greedy_loads(&greedy, &search->best, search->arena);
    ks_pool_learn(&search->pool, &search->best);
}

/* A third of the rounds prices, then whole loads are built, and then repairs follow. */
void ks_run_round(ks_run *search)
{
    int rounds = search->job->options.rounds, round = search->round;
    if (round == 0)
        begin(search);
    else if (round < 1 + rounds / 2)
        ks_run_price(search);
    else if (round < 1 + rounds * 5 / 8)
        ks_run_rebuild(search);
    else
        ks_run_repair(search);
    search->round++;
}
