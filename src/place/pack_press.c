#include "place/pack_strategies.h"

#include <math.h>

/* All pieces on offer are in at once and overlap; the strain is driven down by moving one piece or
 * two elsewhere and letting all give way again (basin hopping: Grosso, Jamali, Locatelli and Schoen
 * 2010, "Solving the problem of packing equal and unequal circles in a circular container"; swaps:
 * Huang, Ye 2011; Ye, Huang, Lu 2013, "Iterated tabu search algorithm for packing unequal circles
 * in a circle"). A hop may also lie a little worse, by less and less as a run of hops goes on
 * (annealing: Kirkpatrick, Gelatt, Vecchi 1983, "Optimization by simulated annealing"). */

/* How a run of hops goes. Layouts of pieces alike differ by little, and are told apart only in a
 * level hardly narrower than it is; from one bad layout of unlike pieces to a good one the way
 * leads over worse ones, and is long. */
typedef struct {
    double inset;          /* how much narrower the level is taken to be, of its half width */
    double warmth;         /* how much worse a hop may lie at first, of the strain */
    int shortest, longest; /* hops for each body: of the first run, and of the last */
    double swaps;          /* share of hops that swap two bodies */
} regime;
static const regime of_alike = {0.002, 0.03, 5, 5, 0}, of_unlike = {0.02, 0.25, 10, 320, 0.75};

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

static void one_moved(ks_shelf_search *search)
{
    int i = ks_random_below(&search->random, search->trial.n);
    ks_search_spot_anywhere(search, i, 20 + ks_random_below(&search->random, 60));
}

static const regime *regime_of(const ks_shelf_search *search)
{
    for (int i = 1; i < search->trial.n; i++)
        if (search->trial.kind[i] != search->trial.kind[0])
            return &of_unlike;
    return &of_alike;
}

/* Relaxes the trial in a level taken a little narrower all round. Only so does the strain tell good
 * layouts from bad ones also when they nearly hold. */
static void relaxed_inset(ks_shelf_search *search, double wanted_mm2)
{
    search->relax.strain.inset_mm = search->press.inset_mm;
    ks_relax_down(&search->relax, (ks_relax_limits){300, 10, 0.95, 3, wanted_mm2, 0});
    search->relax.strain.inset_mm = 0;
}

/* Goes on from the trial. One that lies best of its run, and not much worse than the best of all,
 * is relaxed in the level as it is, and taken when it holds there. */
static void held_now(ks_shelf_search *search)
{
    const double hopeless = 1.5;
    struct ks_press *press = &search->press;
    double strain_mm2 = press->strain_mm2 = search->relax.strain_mm2;
    ks_pile_copy(&search->held, &search->trial);
    if (strain_mm2 >= press->least_mm2 * (1 - 1e-6))
        return;
    press->least_mm2 = strain_mm2;
    if (strain_mm2 > hopeless * press->best_mm2)
        return;
    press->best_mm2 = fmin(press->best_mm2, strain_mm2);
    if (ks_relax_run(&search->relax, (ks_relax_limits){300, 15, 0.9, 0, INFINITY, 0}))
        ks_search_take(search);
}

/* Begins a run of hops from the trial, twice as long as the last. The first goes on from a layout
 * that nearly holds, in a level hardly narrower. */
static void pressed_from_trial(ks_shelf_search *search)
{
    const double first_share = 0.25;
    const regime *how = regime_of(search);
    struct ks_press *press = &search->press;
    const ks_box *box = &search->kit.box;
    int n = search->trial.n, hops = press->begun ? 2 * press->most_hops : how->shortest * n;
    double inset = how->inset / 2 * fmin(box->x1 - box->x0, box->y1 - box->y0);
    inset *= press->begun ? 1 : first_share;
    if (!press->begun || press->inset_mm != inset)
        press->best_mm2 = INFINITY; /* strains compare in one level only */
    press->inset_mm = inset;
    press->most_hops = hops < how->longest * n ? hops : how->longest * n;
    press->hops = 0;
    press->begun = true;
    relaxed_inset(search, INFINITY);
    press->least_mm2 = INFINITY;
    held_now(search);
}

/* What a hop may lie at and still be kept: a little worse, by chance, and less as the run ends. */
static double strain_allowed(ks_shelf_search *search, double warmth)
{
    const struct ks_press *press = &search->press;
    double left = 1 - (double)press->hops / press->most_hops;
    return press->strain_mm2 * (1 + warmth * left * ks_random_unit(&search->random));
}

/* One hop from what is held. */
static void hopped(ks_shelf_search *search)
{
    struct ks_press *press = &search->press;
    ks_pile_copy(&search->trial, &search->held);
    const regime *how = regime_of(search);
    double allowed_mm2 = strain_allowed(search, how->warmth);
    if (ks_random_unit(&search->random) < how->swaps)
        ks_search_swapped(search);
    else
        one_moved(search);
    relaxed_inset(search, allowed_mm2);
    press->hops++;
    if (search->relax.strain_mm2 >= allowed_mm2)
        return;
    held_now(search);
}

void ks_pack_press(ks_shelf_search *search, int64_t work)
{
    int64_t end = search->work + work;
    while (search->work < end && !ks_search_over(search)) {
        if (search->press.begun && search->press.hops < search->press.most_hops) {
            hopped(search);
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
