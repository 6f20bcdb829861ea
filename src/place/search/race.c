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
