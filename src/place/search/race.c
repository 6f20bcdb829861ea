#include "place/draft/ranking.h"
#include "place/search/rounds.h"

/* How much a stack of levels holds is known only when its levels have been worked on: what a first
 * filling leaves out weighs more than what one stack holds more than another. So the first plans of
 * one load, each on a stack of its own, are mended side by side, and only then is chosen, by halves
 * (successive halving: Karnin, Koren, Somekh 2013). */

/* The best first; of plans alike the one that came first. */
static void sort_field(ks_run *search)
{
    for (int i = 1; i < search->n_field; i++)
        for (int k = i; k > 0 && ks_ranking_compare_ware(search->job, &search->field[k],
                                                         &search->field[k - 1]) > 0;
             k--) {
            ks_draft better = search->field[k];
            search->field[k] = search->field[k - 1];
            search->field[k - 1] = better;
        }
}

static bool is_same_stack(const ks_draft_load *a, const ks_draft_load *b)
{
    bool same = a->n_levels == b->n_levels;
    for (int l = 0; l < a->n_levels && same; l++) {
        const ks_stack_level *p = &a->levels[l].at, *q = &b->levels[l].at;
        same = p->bay == q->bay && p->support == q->support && p->standing == q->standing &&
               p->z == q->z && p->gap == q->gap;
    }
    return same;
}

void ks_run_join_race(ks_run *search, const ks_draft *draft)
{
    for (int i = 0; i < search->n_field && ks_job_is_alone(search->job); i++) {
        ks_draft *other = &search->field[i];
        if (!is_same_stack(&draft->loads[0], &other->loads[0]))
            continue;
        if (ks_ranking_compare_ware(search->job, draft, other) > 0)
            *other = ks_draft_copy(search->job, draft, search->arena);
        return;
    }
}

void ks_run_race(ks_run *search, double part)
{
    int stays = KS_TASKS;
    for (double gone = part; gone >= 1.0 / 3 && stays > 2; gone -= 1.0 / 3)
        stays /= 2;
    sort_field(search);
    search->n_field = search->n_field < stays ? search->n_field : stays;
    if (search->n_field == 0)
        return;
    ks_run_mend_several(search, search->n_field, search->field);
    for (int i = 0; i < search->n_field; i++) {
        ks_pool_learn(&search->pool, &search->field[i]);
        ks_run_take(search, &search->field[i]);
    }
}
