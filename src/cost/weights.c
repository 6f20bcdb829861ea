/* Each rule by which a firing is shared among the pieces of a load, and what it gives to the space
 * that nobody uses. Footprint is the area of a piece seen from above. */
#include "kilnstow/cost.h"

#include <math.h>
#include <stdlib.h>

static double footprint(const ks_plan *plan, const ks_placed *placed)
{
    if (placed->piece >= 0)
        return plan->order->pieces[placed->piece].area_mm2;
    double most = 0;
    for (int i = 0; i < placed->n_parts; i++)
        most = fmax(most, ks_outline_area(&placed->parts[i].outline));
    return most;
}

static double mass(const ks_plan *plan, const ks_placed *placed)
{
    return placed->piece >= 0 ? plan->order->pieces[placed->piece].mass_kg : 0;
}

/* The shelf's area is what stands free for a level's ware. */
static double shelf_area(const ks_level *level)
{
    double area = 0;
    for (int i = 0; i < level->n_shelves; i++)
        area += ks_outline_area(&level->shelves[i].outline);
    return area;
}

static double chamber_volume(const ks_load *load)
{
    double volume = 0;
    for (int i = 0; i < load->n_parts; i++)
        volume += ks_outline_area(&load->parts[i].outline) *
                  (load->parts[i].to_mm - load->parts[i].from_mm);
    return volume;
}

static double summed(int n, const double *weights)
{
    double sum = 0;
    for (int i = 0; i < n; i++)
        sum += weights[i];
    return sum;
}

static void by_box(const ks_plan *plan, const ks_level *level, double *weights)
{
    for (int i = 0; i < level->n_pieces; i++)
        weights[i] = footprint(plan, &level->pieces[i]) * level->pieces[i].top_mm;
}

static void by_shelf(const ks_plan *plan, const ks_level *level, double *weights)
{
    for (int i = 0; i < level->n_pieces; i++)
        weights[i] = footprint(plan, &level->pieces[i]) * level->gap_mm;
}

static void by_mass(const ks_plan *plan, const ks_level *level, double *weights)
{
    for (int i = 0; i < level->n_pieces; i++)
        weights[i] = mass(plan, &level->pieces[i]);
}

static void by_count(const ks_plan *plan, const ks_level *level, double *weights)
{
    (void)plan;
    for (int i = 0; i < level->n_pieces; i++)
        weights[i] = level->pieces[i].role != KS_CONES;
}

static int by_top(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The part of a level between two heights costs as it is thick, whoever stands in it; the pieces
 * that reach through it share it by footprint. So a lone tall piece pays for all the air beside it.
 * Weights are lengths here: they add up to the tallest piece's height. */
static void by_slices(const ks_plan *plan, const ks_level *level, double *weights)
{
    ks_arena arena = {0};
    double *tops = KS_TAKE(&arena, level->n_pieces, double), below = 0;
    for (int i = 0; i < level->n_pieces; i++)
        tops[i] = level->pieces[i].top_mm;
    qsort(tops, (size_t)level->n_pieces, sizeof *tops, by_top);
    for (int t = 0; t < level->n_pieces; below = tops[t++]) {
        double area = 0;
        for (int i = 0; i < level->n_pieces; i++)
            if (level->pieces[i].top_mm >= tops[t])
                area += footprint(plan, &level->pieces[i]);
        for (int i = 0; i < level->n_pieces && tops[t] > below && area > 0; i++)
            if (level->pieces[i].top_mm >= tops[t])
                weights[i] += (tops[t] - below) * footprint(plan, &level->pieces[i]) / area;
    }
    ks_arena_finish(&arena);
}

static double box_empty(const ks_load *load, double used)
{
    return fmax(0, chamber_volume(load) - used);
}

static double shelf_empty(const ks_load *load, double used)
{
    double room = 0;
    for (int v = 0; v < load->n_levels; v++)
        room += shelf_area(&load->levels[v]) * load->levels[v].gap_mm;
    return fmax(0, room - used);
}

/* Air above the tallest piece of each level. */
static double slices_empty(const ks_load *load, double used)
{
    double room = 0;
    for (int v = 0; v < load->n_levels; v++)
        room += load->levels[v].gap_mm;
    return fmax(0, room - used);
}

/* Mass and count know of no empty space. */
static double none_empty(const ks_load *load, double used)
{
    (void)load;
    (void)used;
    return 0;
}

static const struct {
    void (*level)(const ks_plan *plan, const ks_level *level, double *weights);
    double (*empty)(const ks_load *load, double used);
} rules[] = {
    [KS_SHARE_BOX] = {by_box, box_empty},       [KS_SHARE_SLICES] = {by_slices, slices_empty},
    [KS_SHARE_SHELF] = {by_shelf, shelf_empty}, [KS_SHARE_MASS] = {by_mass, none_empty},
    [KS_SHARE_COUNT] = {by_count, none_empty},  [KS_SHARE_RATE] = {by_box, box_empty},
};

int ks_load_weights(const ks_plan *plan, int load, ks_share_rule rule, ks_arena *arena,
                    double **weights, double *empty)
{
    const ks_load *of = &plan->loads[load];
    int n = 0;
    for (int v = 0; v < of->n_levels; v++)
        n += of->levels[v].n_pieces;
    *weights = KS_TAKE(arena, n, double);
    for (int v = 0, at = 0; v < of->n_levels; at += of->levels[v++].n_pieces)
        rules[rule].level(plan, &of->levels[v], *weights + at);
    *empty = rules[rule].empty(of, summed(n, *weights));
    return n;
}
