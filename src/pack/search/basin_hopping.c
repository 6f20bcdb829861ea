#include "pack/search/strategies.h"

#include <math.h>

/* All pieces on offer are in at once and overlap; the strain is driven down by moving one piece or
 * two elsewhere and letting all give way again (basin hopping: Grosso, Jamali, Locatelli and Schoen
 * 2010, "Solving the problem of packing equal and unequal circles in a circular container"; swaps:
 * Huang, Ye 2011; Ye, Huang, Lu 2013, "Iterated tabu search algorithm for packing unequal circles
 * in a circle"). A hop may also lie a little worse, by less and less as a run of hops goes on
 * (annealing: Kirkpatrick, Gelatt, Vecchi 1983, "Optimization by simulated annealing"). */

/* How a run of hops goes. Layouts of pieces alike differ by little: some are told apart only in a
 * level next to no narrower than it is, where strains are small and warmth is large; others are
 * found sooner in one that presses harder. So runs alternate. From one bad layout of unlike pieces
 * to a good one the way leads over worse ones, and is long. Their first run goes on from a layout
 * that nearly holds, in a level hardly narrower. */
typedef struct {
    double inset;          /* how much narrower the level is taken to be, of its half width */
    double warmth;         /* how much worse a hop may lie at first, of the strain */
    int shortest, longest; /* hops for each body: of the first run, and of the last */
    double swaps;          /* share of hops that swap two bodies */
    int drawn;   /* bodies drawn by lot, of which every other time the most strained moves */
    double hope; /* how far a relaxation may yet fall, of what it fell lately */
} regime;
static const regime of_alike[] = {{0.00003, 0.5, 30, 30, 0, 4, 8}, {0.002, 0.03, 5, 5, 0, 4, 8}},
                    of_unlike[] = {{0.005, 0.25, 10, 320, 0.75, 1, 3},
                                   {0.02, 0.25, 10, 320, 0.75, 1, 3}};

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

/* The most strained of some bodies drawn by lot. */
static int strained_body(ks_shelf_search *search, int drawn)
{
    double most = -1;
    int worst = 0;
    for (int draw = 0; draw < drawn; draw++) {
        int i = ks_random_below(&search->random, search->trial.n);
        double strain = drawn > 1 ? ks_strain_one(&search->relax.strain, i, NULL) : 0;
        worst = strain > most ? i : worst;
        most = fmax(most, strain);
    }
    return worst;
}

static void one_moved(ks_shelf_search *search, int drawn)
{
    bool any = drawn == 1 || ks_random_unit(&search->random) < 0.5;
    int i = strained_body(search, any ? 1 : drawn);
    ks_search_spot_anywhere(search, i, 20 + ks_random_below(&search->random, 60));
}

static bool all_alike(const ks_pile *pile)
{
    for (int i = 1; i < pile->n; i++)
        if (pile->kind[i] != pile->kind[0])
            return false;
    return true;
}

static const regime *regime_of(const ks_shelf_search *search)
{
    return &(all_alike(&search->trial) ? of_alike : of_unlike)[search->press.way];
}

/* Relaxes the trial in a level taken a little narrower all round. Only so does the strain tell good
 * layouts from bad ones also when they nearly hold. */
static void relaxed_inset(ks_shelf_search *search, double wanted_mm2)
{
    double hope = regime_of(search)->hope;
    search->relax.strain.inset_mm = search->press.inset_mm;
    ks_relax_down(&search->relax, (ks_relax_limits){300, 10, 0.95, hope, wanted_mm2, 0});
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
    if (strain_mm2 > hopeless * press->best_mm2[press->way])
        return;
    press->best_mm2[press->way] = fmin(press->best_mm2[press->way], strain_mm2);
    if (ks_relax_run(&search->relax, (ks_relax_limits){300, 15, 0.9, 0, INFINITY, 0}))
        ks_search_take(search);
}

/* Counts a run that begins, and chooses how it goes. */
static const regime *next_run(ks_shelf_search *search)
{
    struct ks_press *press = &search->press;
    if (press->runs == 0)
        press->best_mm2[0] = press->best_mm2[1] = INFINITY;
    press->way = all_alike(&search->trial) ? press->runs % 2 : press->runs > 0;
    press->runs++;
    return regime_of(search);
}

/* Begins a run of hops from the trial, twice as long as the last while that is allowed. */
static void pressed_from_trial(ks_shelf_search *search)
{
    enum { MOST_DOUBLINGS = 10 };
    struct ks_press *press = &search->press;
    const regime *how = next_run(search);
    const ks_box *box = &search->kit.box;
    int hops = how->shortest << (press->runs > MOST_DOUBLINGS ? MOST_DOUBLINGS : press->runs - 1);
    press->most_hops = search->trial.n * (hops < how->longest ? hops : how->longest);
    press->inset_mm = how->inset / 2 * fmin(box->x1 - box->x0, box->y1 - box->y0);
    press->hops = 0;
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
        one_moved(search, how->drawn);
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
        if (search->press.runs > 0 && search->press.hops < search->press.most_hops) {
            hopped(search);
            continue;
        }
        if (search->press.runs > 0)
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
