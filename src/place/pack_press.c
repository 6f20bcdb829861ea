#include "place/pack_strategies.h"

#include <math.h>

/* All pieces on offer are in at once and overlap; the strain is driven down by moving one piece or
 * two elsewhere and letting all give way again (monotonic basin hopping: Grosso, Jamali, Locatelli
 * and Schoen 2010, "Solving the problem of packing equal and unequal circles in a circular
 * container"; swaps: Huang, Ye 2011; Ye, Huang, Lu 2013, "Iterated tabu search algorithm for
 * packing unequal circles in a circle"). */

static const ks_relax_limits hop_limits = {300, 15, 0.9, 0, INFINITY};

/* All that is on offer, at places drawn by chance. */
static void scattered(ks_shelf_search *search)
{
    ks_pile *trial = &search->trial;
    trial->n = 0;
    for (int k = 0; k < search->kit.n_kinds; k++)
        for (int c = 0; c < ks_search_copies(search, k); c++) {
            ks_pile_add(trial, k, (ks_lie){0, 0, 0});
            ks_search_spot_anywhere(search, trial->n - 1, 3);
        }
}

/* The layout that holds now, and what it lacks where it is least in the way. */
static void completed(ks_shelf_search *search)
{
    ks_pile *trial = &search->trial;
    ks_search_retry(search);
    for (int k = 0; k < search->kit.n_kinds; k++)
        for (int c = search->now_count[k]; c < ks_search_copies(search, k); c++) {
            ks_pile_add(trial, k, (ks_lie){0, 0, 0});
            ks_search_spot_anywhere(search, trial->n - 1, 40);
        }
}

/* A body that has much of the strain, drawn by lot. */
static int strained_body(ks_shelf_search *search)
{
    const double *share = search->relax.strain.share;
    int best = ks_random_below(&search->random, search->trial.n);
    for (int draw = 0; draw < 2; draw++) {
        int i = ks_random_below(&search->random, search->trial.n);
        best = share[i] > share[best] ? i : best;
    }
    return best;
}

static void one_moved(ks_shelf_search *search)
{
    int i = ks_random_below(&search->random, 2) ? strained_body(search)
                                                : ks_random_below(&search->random, search->trial.n);
    ks_search_spot_anywhere(search, i, 20 + ks_random_below(&search->random, 60));
}

static void two_swapped(ks_shelf_search *search)
{
    ks_pile *trial = &search->trial;
    int i = strained_body(search), j = i;
    double size = search->kit.kinds[trial->kind[i]].size_mm2, nearest = INFINITY;
    for (int draw = 0; draw < 4; draw++) {
        int other = ks_random_below(&search->random, trial->n);
        double unlike = fabs(search->kit.kinds[trial->kind[other]].size_mm2 - size);
        if (trial->kind[other] != trial->kind[i] && unlike < nearest) {
            nearest = unlike;
            j = other;
        }
    }
    ks_lie at_i = trial->lie[i], at_j = trial->lie[j];
    double turn_i = at_i.turn_deg;
    at_i.turn_deg = at_j.turn_deg;
    at_j.turn_deg = turn_i;
    ks_pile_move(trial, i, at_j);
    ks_pile_move(trial, j, at_i);
}

static bool alike(const ks_shelf_search *search)
{
    for (int i = 1; i < search->trial.n; i++)
        if (search->trial.kind[i] != search->trial.kind[0])
            return false;
    return true;
}

/* How much larger than they are pieces are taken to be: much shows the good layouts from afar, little
 * tells apart those that are nearly as good. */
static double beyond_drawn(ks_shelf_search *search)
{
    static const double shares[3] = {0.02, 0.005, 0.001};
    return shares[ks_random_below(&search->random, 3)] * search->relax.stride_mm;
}

/* Relaxes the trial with so much beyond every need; with 0 it holds when true. */
static bool relaxed(ks_shelf_search *search, double beyond_mm, double wanted_mm2)
{
    ks_relax_limits limits = {300, 10, 0.95, 3, wanted_mm2};
    double aim = search->relax.strain.aim_mm;
    search->relax.strain.aim_mm = aim + beyond_mm;
    bool holds = ks_relax_run(&search->relax, limits);
    search->relax.strain.aim_mm = aim;
    return holds;
}

/* Whether the trial, relaxed for more than is needed, holds for what is needed. */
static bool taken(ks_shelf_search *search)
{
    if (!ks_relax_run(&search->relax, hop_limits))
        return false;
    ks_search_take(search);
    return true;
}

/* Begins anew from the trial. */
static void pressed_from_trial(ks_shelf_search *search)
{
    double beyond_mm = beyond_drawn(search);
    relaxed(search, beyond_mm, INFINITY);
    search->press = (struct ks_press){true, 0, search->relax.strain_mm2, beyond_mm};
    ks_pile_copy(&search->held, &search->trial);
    taken(search);
}

/* One hop from what is held; kept when it lies better. The strain is that of pieces a little larger
 * than they are: it tells how good a layout is also when it nearly holds. */
static void hopped(ks_shelf_search *search, bool same)
{
    ks_pile_copy(&search->trial, &search->held);
    if (same || ks_random_below(&search->random, 2))
        one_moved(search);
    else
        two_swapped(search);
    relaxed(search, search->press.beyond_mm, search->press.strain_mm2);
    search->press.misses++;
    if (search->relax.strain_mm2 >= search->press.strain_mm2 * (1 - 1e-6))
        return;
    search->press.misses = 0;
    search->press.strain_mm2 = search->relax.strain_mm2;
    ks_pile_copy(&search->held, &search->trial);
    taken(search);
}

void ks_pack_press(ks_shelf_search *search, int64_t work)
{
    enum { TRIES = 100 };
    int64_t end = search->work + work;
    while (search->work < end && !ks_search_over(search)) {
        if (search->press.begun && search->press.misses < TRIES) {
            hopped(search, alike(search));
            continue;
        }
        if (search->press.begun)
            scattered(search);
        else
            completed(search);
        pressed_from_trial(search);
    }
}

/* Whether all that is on offer may share a level, but for the room. */
static bool may_all_join(const ks_shelf_search *search)
{
    uint32_t tags = 0, shuns = 0;
    double mass_kg = 0;
    for (int k = 0; k < search->kit.n_kinds; k++) {
        const ks_shelf_item *item = &search->kit.items[k];
        int copies = ks_search_copies(search, k);
        if (copies == 0)
            continue;
        if ((item->tags & shuns) || (item->shuns & tags) ||
            (copies > 1 && (item->tags & item->shuns)))
            return false;
        tags |= item->tags;
        shuns |= item->shuns;
        mass_kg += item->mass_kg * copies;
    }
    return mass_kg <= search->kit.space.mass_limit_kg;
}

/* Whether all that is on offer might go in together, by area, and does not yet. */
bool ks_pack_press_suits(const ks_shelf_search *search)
{
    double size = 0;
    int64_t copies = 0;
    for (int k = 0; k < search->kit.n_kinds; k++) {
        copies += ks_search_copies(search, k);
        size += search->kit.kinds[k].size_mm2 * ks_search_copies(search, k);
    }
    return copies <= search->now.room && copies > search->now.n && size < search->kit.area_mm2 &&
           may_all_join(search);
}
