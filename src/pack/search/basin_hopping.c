#include "pack/search/situation.h"

#include <math.h>

/* All pieces on offer are in at once and overlap; the penalty is driven down by moving one piece or
 * two elsewhere and letting all give way again (basin hopping: Grosso, Jamali, Locatelli and Schoen
 * 2010, "Solving the problem of packing equal and unequal circles in a circular container"; swaps:
 * Huang, Ye 2011; Ye, Huang, Lu 2013, "Iterated tabu search algorithm for packing unequal circles
 * in a circle"). A hop may also place a little worse, by less and less as a run of hops goes on
 * (annealing: Kirkpatrick, Gelatt, Vecchi 1983, "Optimization by simulated annealing"). */

/* How a run of hops goes. Layouts of pieces alike differ by little: some are told apart only in a
 * level next to no narrower than it is, where penalties are small and warmth is large; others are
 * found sooner in one that presses harder. So runs alternate. From one bad layout of unlike pieces
 * to a good one the way leads over worse ones, and is long. Their first run goes on from a layout
 * that nearly holds, in a level hardly narrower. */
typedef struct {
    double inset;          /* how much narrower the level is taken to be, of its half width */
    double warmth;         /* how much worse a hop may lie at first, of the penalty */
    int shortest, longest; /* hops for each body: of the first run, and of the last */
    double swaps;          /* share of hops that swap two bodies */
    int drawn;   /* bodies drawn by lot, of which every other time the most overlapping moves */
    double hope; /* how far a relaxation may yet fall, of what it fell lately */
} regime;
static const regime of_alike[] = {{0.00003, 0.5, 30, 30, 0, 4, 8}, {0.002, 0.03, 5, 5, 0, 4, 8}},
                    of_unlike[] = {{0.005, 0.25, 10, 320, 0.75, 1, 3},
                                   {0.02, 0.25, 10, 320, 0.75, 1, 3}};

/* Where it is in its runs of hops. */
typedef struct {
    int runs, way;                 /* runs begun, and by which of two regimes the last goes */
    int hops, most_hops;           /* of this run so far, and until it ends */
    double penalty_mm2, least_mm2; /* of the layout held, and the least of the run */
    double best_mm2[2]; /* the least of all runs of a regime: penalties compare in one level */
    double inset_mm;
    ks_packing held; /* what the next hop starts from */
} hopping;

/* All that is on offer, at places drawn by chance. */
static void scatter(ks_shelf_search *search)
{
    ks_packing *trial = &search->trial;
    trial->n = 0;
    for (int k = 0; k < search->instance.n_kinds; k++)
        for (int c = 0; c < ks_search_copies(search, k); c++) {
            ks_packing_add(trial, k, (ks_placement){0, 0, 0});
            ks_search_spot_anywhere(search, trial->n - 1, 3);
        }
}

/* The layout that holds now, and what it lacks where it is least in the way. */
static void complete(ks_shelf_search *search)
{
    ks_packing *trial = &search->trial;
    ks_search_retry(search);
    for (int k = 0; k < search->instance.n_kinds; k++)
        for (int c = search->now_count[k]; c < ks_search_copies(search, k); c++) {
            ks_packing_add(trial, k, (ks_placement){0, 0, 0});
            ks_search_spot_anywhere(search, trial->n - 1, 40);
        }
}

/* The most overlapping of some bodies drawn by lot. */
static int strained_body(ks_shelf_search *search, int drawn)
{
    double most = -1;
    int worst = 0;
    for (int draw = 0; draw < drawn; draw++) {
        int i = ks_random_below(&search->random, search->trial.n);
        double penalty = drawn > 1 ? ks_penalty_one(&search->descent.penalty, i, NULL) : 0;
        worst = penalty > most ? i : worst;
        most = fmax(most, penalty);
    }
    return worst;
}

static void move_one(ks_shelf_search *search, int drawn)
{
    bool any = drawn == 1 || ks_random_unit(&search->random) < 0.5;
    int i = strained_body(search, any ? 1 : drawn);
    ks_search_spot_anywhere(search, i, 20 + ks_random_below(&search->random, 60));
}

static bool are_all_alike(const ks_packing *packing)
{
    for (int i = 1; i < packing->n; i++)
        if (packing->kind[i] != packing->kind[0])
            return false;
    return true;
}

static const regime *regime_of(const ks_shelf_search *search, const hopping *at)
{
    return &(are_all_alike(&search->trial) ? of_alike : of_unlike)[at->way];
}

/* Relaxes the trial in a level taken a little narrower all round. Only so does the penalty tell
 * good layouts from bad ones also when they nearly hold. */
static void relax_inset(ks_shelf_search *search, hopping *at, double wanted_mm2)
{
    double hope = regime_of(search, at)->hope;
    search->descent.penalty.inset_mm = at->inset_mm;
    ks_descent_down(&search->descent, (ks_descent_limits){300, 10, 0.95, hope, wanted_mm2, 0});
    search->descent.penalty.inset_mm = 0;
}

/* Goes on from the trial. One that lies best of its run, and not much worse than the best of all,
 * is relaxed in the level as it is, and taken when it holds there. */
static void hold(ks_shelf_search *search, hopping *at)
{
    const double hopeless = 1.5;
    double penalty_mm2 = at->penalty_mm2 = search->descent.penalty_mm2;
    ks_packing_copy(&at->held, &search->trial);
    if (penalty_mm2 >= at->least_mm2 * (1 - 1e-6))
        return;
    at->least_mm2 = penalty_mm2;
    if (penalty_mm2 > hopeless * at->best_mm2[at->way])
        return;
    at->best_mm2[at->way] = fmin(at->best_mm2[at->way], penalty_mm2);
    if (ks_descent_run(&search->descent, (ks_descent_limits){300, 15, 0.9, 0, INFINITY, 0}))
        ks_search_take(search);
}

/* Counts a run that begins, and chooses how it goes. */
static const regime *begin_run(ks_shelf_search *search, hopping *at)
{
    if (at->runs == 0)
        at->best_mm2[0] = at->best_mm2[1] = INFINITY;
    at->way = are_all_alike(&search->trial) ? at->runs % 2 : at->runs > 0;
    at->runs++;
    return regime_of(search, at);
}

/* Begins a run of hops from the trial, twice as long as the last while that is allowed. */
static void start_run(ks_shelf_search *search, hopping *at)
{
    enum { MOST_DOUBLINGS = 10 };
    const regime *how = begin_run(search, at);
    const ks_box *box = &search->instance.box;
    int hops = how->shortest << (at->runs > MOST_DOUBLINGS ? MOST_DOUBLINGS : at->runs - 1);
    at->most_hops = search->trial.n * (hops < how->longest ? hops : how->longest);
    at->inset_mm = how->inset / 2 * fmin(box->x1 - box->x0, box->y1 - box->y0);
    at->hops = 0;
    relax_inset(search, at, INFINITY);
    at->least_mm2 = INFINITY;
    hold(search, at);
}

/* What a hop may lie at and still be kept: a little worse, by chance, and less as the run ends. */
static double penalty_allowed(ks_shelf_search *search, hopping *at, double warmth)
{
    double left = 1 - (double)at->hops / at->most_hops;
    return at->penalty_mm2 * (1 + warmth * left * ks_random_unit(&search->random));
}

/* One hop from what is held. */
static void hop(ks_shelf_search *search, hopping *at)
{
    ks_packing_copy(&search->trial, &at->held);
    const regime *how = regime_of(search, at);
    double allowed_mm2 = penalty_allowed(search, at, how->warmth);
    if (ks_random_unit(&search->random) < how->swaps)
        ks_search_swap(search);
    else
        move_one(search, how->drawn);
    relax_inset(search, at, allowed_mm2);
    at->hops++;
    if (search->descent.penalty_mm2 >= allowed_mm2)
        return;
    hold(search, at);
}

static void hop_on(ks_shelf_search *search, void *state, int64_t work)
{
    hopping *at = state;
    int64_t end = search->work + work;
    while (search->work < end && !ks_search_over(search)) {
        if (at->runs > 0 && at->hops < at->most_hops) {
            hop(search, at);
            continue;
        }
        if (at->runs > 0)
            scatter(search);
        else
            complete(search);
        start_run(search, at);
    }
}

static void *create(ks_shelf_search *search, ks_arena *arena)
{
    hopping *at = KS_TAKE(arena, 1, hopping);
    ks_packing_init(&at->held, &search->instance, search->now.room, arena);
    return at;
}

/* Runs go on over restarts: only another question begins them anew. */
static void begin(void *state, bool anew)
{
    hopping *at = state;
    if (anew)
        at->runs = 0;
}

const ks_strategy ks_strategy_hop = {"hop", 19, ks_may_all_fit, create, begin, hop_on};
