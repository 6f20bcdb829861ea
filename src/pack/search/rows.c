#include "pack/search/layout_search.h"

#include "pack/instance/nearest.h"

#include <math.h>

/* Many pieces of one kind in tidy rows: the layouts a potter expects of forty mugs, and for equal
 * rounds near the best there is. They come first, so that what is found later replaces them only
 * when it is worth more. */

typedef struct {
    double turn_deg;
    double dx, dy; /* from one to the next, and from row to row */
    double shift;  /* of every other row */
} lattice;

/* How far apart two of a kind must be along (ux, uy) when both are turned alike. */
static double pitch(ks_shelf_search *search, int kind, double turn_deg, double ux, double uy)
{
    ks_packing *trial = &search->trial;
    const ks_separations *meetings = ks_instance_meetings(&search->instance, kind, kind);
    double near = 0, far = meetings->far + 1;
    trial->n = 0;
    ks_packing_add(trial, kind, (ks_placement){0, 0, turn_deg});
    ks_packing_add(trial, kind, (ks_placement){0, 0, turn_deg});
    struct ks_pair pair = {0, 1, meetings->points, meetings->far, meetings};
    for (int step = 0; step < 40; step++) {
        double middle = (near + far) / 2;
        ks_packing_move(trial, 1, (ks_placement){middle * ux, middle * uy, turn_deg});
        if (ks_penalty_pair(&search->descent.penalty, &pair) > 0)
            near = middle;
        else
            far = middle;
    }
    return far;
}

/* Every place of the lattice where one stands free, begun at (x0, y0), into the trial. */
static void fill_rows(ks_shelf_search *search, int kind, const lattice *how, double x0, double y0)
{
    ks_packing *trial = &search->trial;
    ks_box box = search->instance.box;
    int row = 0, most = ks_search_copies(search, kind);
    trial->n = 0;
    for (double y = box.y0 + y0; y < box.y1; y += how->dy, row++)
        for (double x = box.x0 + x0 + (row % 2) * how->shift; x < box.x1; x += how->dx) {
            if (trial->n >= most || !ks_search_may_join(search, trial, kind))
                return;
            ks_packing_add(trial, kind, (ks_placement){x, y, how->turn_deg});
            ks_penalty_one(&search->descent.penalty, trial->n - 1, NULL);
            if (search->descent.penalty.worst_mm > search->descent.penalty.aim_mm)
                trial->n--;
        }
}

static void try_lattice(ks_shelf_search *search, int kind, const lattice *how, int *most)
{
    enum { PHASES = 6 };
    for (int phase = 0; phase < PHASES * PHASES && !ks_search_over(search); phase++) {
        double x0 = how->dx * (phase % PHASES) / PHASES, y0 = how->dy * (phase / PHASES) / PHASES;
        fill_rows(search, kind, how, x0, y0);
        if (search->trial.n <= *most)
            continue;
        ks_search_take(search);
        *most = search->now.n;
    }
}

/* As many of the kind as there are and the level could hold. */
static double held_most(const ks_shelf_search *search, int kind)
{
    return fmin(ks_search_copies(search, kind),
                floor(search->instance.area_mm2 / search->instance.kinds[kind].size_mm2));
}

static bool shares_stock(const ks_shelf_item *a, const ks_shelf_item *b)
{
    for (int d = 0; d < a->n_draws; d++)
        for (int e = 0; e < b->n_draws; e++)
            if (a->draws[d].stock == b->draws[e].stock)
                return true;
    return false;
}

/* What the other kinds could be worth that are not made of the same pieces. */
static double worth_beside(const ks_shelf_search *search, int kind)
{
    const ks_shelf_item *items = search->instance.items;
    double sum = 0;
    for (int k = 0; k < search->instance.n_kinds; k++)
        if (k != kind && !shares_stock(&items[k], &items[kind]))
            sum += held_most(search, k) * fmax(items[k].worth, 0);
    return sum;
}

/* The kind that comes in numbers and would be most of what each kind alone could be worth here; -1
 * = none. */
static int commonest(const ks_shelf_search *search)
{
    enum { FEW = 4 };
    int best = -1;
    double most = 0;
    for (int k = 0; k < search->instance.n_kinds; k++) {
        double held = held_most(search, k), worth = held * fmax(search->instance.items[k].worth, 0);
        if (held >= FEW && worth > most) {
            most = worth;
            best = k;
        }
    }
    return best >= 0 && most > worth_beside(search, best) ? best : -1;
}

static bool is_wanted(const ks_shelf_search *search)
{
    return search->n_best == 0 && commonest(search) >= 0;
}

static void lay_rows(ks_shelf_search *search, void *state, int64_t work)
{
    int kind = commonest(search), most = 0;
    const ks_item_type *of = &search->instance.kinds[kind];
    if (ks_instance_meetings(&search->instance, kind, kind)->n == 0)
        return; /* nothing keeps them apart: no rows */
    double turn = of->n_turns > 0 ? ks_item_type_turn(of, 0) : 0;
    double dx = pitch(search, kind, turn, 1, 0), dy = pitch(search, kind, turn, 0, 1);
    lattice ways[] = {{turn, dx, dy, 0}, {turn, dx, dy, dx / 2}};
    if (of->turnless) {
        ways[1].dy = dx * 0.8660254037844387;
        try_lattice(search, kind, &ways[1], &most);
    }
    try_lattice(search, kind, &ways[0], &most);
}

const ks_strategy ks_strategy_rows = {"rows", 1, is_wanted, NULL, NULL, lay_rows};
