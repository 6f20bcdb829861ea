#include "place/draft/ranking.h"
#include "place/search/rounds.h"

#include <string.h>

/* Fewer loads: the emptiest are emptied onto the heap of what is left; levels of the others are
 * filled again from that heap, which makes them denser since there is much to choose from; then the
 * heap is built into loads anew. */

enum { MENDINGS = 6 };
#define HEAP_LOADS 2.6 /* how many loads' worth of ware the heap holds, about */

static double rent_of(const ks_run *run, ks_shelf_spot spot)
{
    double sum = 0;
    for (int m = 0; m < ks_job_members(run->job, spot.item); m++)
        sum += run->rent[ks_job_member(run->job, spot.item, m)];
    return sum;
}

static double fill_of(const ks_run *run, const ks_draft_load *load)
{
    double sum = 0;
    for (int l = 0; l < load->n_levels; l++)
        for (int i = 0; i < load->levels[l].layout.n_spots; i++)
            sum += rent_of(run, load->levels[l].layout.spots[i]);
    return sum;
}

static double gather(const ks_run *run, const ks_draft *draft)
{
    double sum = 0;
    for (int s = 0; s < draft->n_loads; s++) {
        double fill = fill_of(run, &draft->loads[s]);
        sum += fill * fill;
    }
    return sum;
}

static double fullest(const ks_run *run, const ks_draft *draft)
{
    double most = 0;
    for (int s = 0; s < draft->n_loads; s++) {
        double fill = fill_of(run, &draft->loads[s]);
        most = fill > most ? fill : most;
    }
    return most;
}

static bool holds_pins(const ks_draft_load *load)
{
    for (int l = 0; l < load->n_levels; l++)
        for (int i = 0; i < load->levels[l].n_pins; i++)
            if (load->levels[l].pins[i].item >= 0 && load->levels[l].cones == 0)
                return true;
    return false;
}

/* The emptiest load, now and then any other; -1 when none may be emptied. */
static int next_to_empty(const ks_run *run, const ks_draft *draft, ks_random *random)
{
    int best = -1;
    double least = 0;
    bool any = ks_random_unit(random) < 0.3;
    for (int s = 0; s < draft->n_loads; s++) {
        const ks_draft_load *load = &draft->loads[s];
        if (load->n_levels == 0 || (run->job->cone < 0 && holds_pins(load)))
            continue;
        double fill = any ? ks_random_unit(random) : fill_of(run, load);
        if (best < 0 || fill < least) {
            best = s;
            least = fill;
        }
    }
    return best;
}

static void empty_some(const ks_run *run, ks_draft *draft, ks_random *random)
{
    double heap = 0, wanted = HEAP_LOADS * fullest(run, draft);
    int fired = 0;
    for (int s = 0; s < draft->n_loads; s++)
        fired += draft->loads[s].n_levels > 0;
    while (heap < wanted && fired > 1) {
        int s = next_to_empty(run, draft, random);
        if (s < 0)
            break;
        heap += fill_of(run, &draft->loads[s]);
        draft->loads[s].n_levels = 0;
        fired--;
    }
    ks_draft_count(run->job, draft);
}

static bool is_better(const ks_run *run, const ks_draft *draft)
{
    int ahead = ks_ranking_compare_ware(run->job, draft, &run->best);
    return ahead > 0 || (ahead == 0 && gather(run, draft) >= gather(run, &run->best) * 0.999);
}

void ks_run_ruin_recreate(ks_run *run)
{
    const ks_job *job = run->job;
    ks_arena scratch = {0};
    ks_random random = ks_run_random(run, KS_FOR_GATHERING, 0);
    ks_draft draft = ks_draft_copy(job, &run->best, &scratch);
    empty_some(run, &draft, &random);
    for (int m = 0; m < MENDINGS && !ks_stop_is_asked(job->stop); m++)
        ks_run_mend(run, &draft, run->rent, KS_FOR_GATHERED, run->round * MENDINGS + m);
    ks_greedy greedy = {.job = job,
                        .density = ks_random_between(&random, 0.80, 0.90),
                        .work = run->work,
                        .random = &random};
    ks_greedy_loads(&greedy, &draft, &scratch);
    if (!ks_stop_is_asked(job->stop) && is_better(run, &draft))
        ks_run_set_best(run, &draft);
    ks_arena_finish(&scratch);
}
