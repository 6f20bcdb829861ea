#include "place/draft/ranking.h"
#include "place/search/few_moves.h"
#include "place/search/top_up.h"

/* Starting from an earlier plan: what of it can still stand is kept where it is; ware that is new
 * fills what room is left, levels from the tallest down, then loads that are not there yet. */

#define DENSITY 0.8

/* The earlier plan, as it was or with further levels on top, and in it what is new. */
static ks_draft taken_up(ks_run *run, bool higher)
{
    const ks_job *job = run->job;
    ks_random random = ks_run_random(run, KS_FOR_EARLIER, higher);
    ks_draft draft = ks_before_draft(job, higher, &run->before, run->arena);
    ks_top_up(run, &draft, run->work, &random, run->arena);
    ks_greedy greedy = {.job = job, .density = DENSITY, .work = run->work, .random = &random};
    ks_greedy_loads(&greedy, &draft, run->arena);
    return draft;
}

/* As it was; with a level more; as it was, and what waits let in by laying out a level anew. */
enum { AS_IT_WAS, HIGHER, MOVED, WAYS };

static ks_draft taken_up_so(ks_run *run, const ks_draft *as_it_was, int way)
{
    if (way == HIGHER)
        return taken_up(run, true);
    ks_draft draft = ks_draft_copy(run->job, as_it_was, run->arena);
    if (way == MOVED)
        ks_let_in_by_few_moves(run, &draft, run->arena);
    return draft;
}

void ks_run_start_from(ks_run *run)
{
    const ks_draft as_it_was = taken_up(run, false);
    for (int way = 0; way < WAYS; way++) {
        if (way == HIGHER && ks_job_keeps_shelves(run->job))
            continue;
        ks_draft draft = taken_up_so(run, &as_it_was, way);
        if (ks_stop_is_asked(run->job->stop))
            return;
        int better =
            run->from.n_loads == 0 ? 1 : ks_ranking_compare_ware(run->job, &draft, &run->from);
        bool more_stayed =
            run->from.n_loads > 0 && ks_before_stayed(run->job, &run->before, &draft) >
                                         ks_before_stayed(run->job, &run->before, &run->from);
        if (better > 0 || (better == 0 && more_stayed))
            run->from = draft;
        ks_pool_learn(&run->pool, &draft);
        ks_run_take(run, &draft);
    }
}

static double score_without(const ks_job *job, ks_draft *draft, int slot)
{
    int levels = draft->loads[slot].n_levels;
    draft->loads[slot].n_levels = 0;
    ks_draft_count(job, draft);
    double score = draft->score;
    draft->loads[slot].n_levels = levels;
    return score;
}

/* Which load is missed least, the latest of those alike. */
static int least_load(const ks_job *job, ks_draft *draft)
{
    int least = -1;
    double most = 0;
    for (int s = 0; s < draft->n_loads; s++) {
        if (draft->loads[s].n_levels == 0)
            continue;
        double score = score_without(job, draft, s);
        if (least < 0 || score >= most) {
            most = score;
            least = s;
        }
    }
    return least;
}

/* Where no plan of so few loads was made yet. */
static void drop_loads_over(const ks_job *job, ks_draft *draft)
{
    if (job->options.loads < 1)
        return;
    while (ks_draft_fired(draft) > job->options.loads) {
        draft->loads[least_load(job, draft)].n_levels = 0;
        ks_draft_count(job, draft);
    }
}

ks_draft ks_run_best(const ks_run *run, ks_arena *arena)
{
    bool from = run->from.n_loads > 0 &&
                ks_ranking_compare_ware(run->job, &run->from, &run->best) >= 0 &&
                ks_before_stayed(run->job, &run->before, &run->from) >
                    ks_before_stayed(run->job, &run->before, &run->best);
    ks_draft best = ks_draft_copy(run->job, from ? &run->from : &run->best, arena);
    drop_loads_over(run->job, &best);
    return best;
}
