/* Each rule by which a firing is shared among the pieces of a load, and what it gives to the space
 * that nobody uses. Footprint is the area of a piece seen from above. */
#include "kilnstow/cost.h"

#include "cost/sides.h"

#include <math.h>
#include <stdlib.h>

static const char *const rule_names[] = {"box",   "slices", "shelf", "mass",
                                         "count", "sides",  "rate"};

const char *ks_share_rule_name(int rule)
{
    return rule >= 0 && rule <= KS_SHARE_RATE ? rule_names[rule] : NULL;
}

const char *ks_share_unit(ks_share_rule rule)
{
    return rule == KS_SHARE_MASS ? "kg" : rule == KS_SHARE_COUNT ? "pieces" : "l";
}

double ks_share_units(ks_share_rule rule, double weight)
{
    static const double mm3_in_l = 1e6;
    return rule == KS_SHARE_MASS || rule == KS_SHARE_COUNT ? weight : weight / mm3_in_l;
}

/* Where it stands: on the shelf, or on another piece. */
static double bottom(const ks_placed *placed)
{
    double least = placed->n_parts > 0 ? placed->top_mm : 0;
    for (int i = 0; i < placed->n_parts; i++)
        least = fmin(least, placed->parts[i].from_mm);
    return least;
}

/* Of a piece that is stacked in another pose the area that gives it the box it has by itself, so
 * that copies pay alike however they stand. */
static double footprint(const ks_plan *plan, const ks_placed *placed)
{
    const ks_piece *piece = placed->piece >= 0 ? &plan->order->pieces[placed->piece] : NULL;
    double height = placed->top_mm - bottom(placed);
    if (piece)
        return placed->pose != piece->pose && height > 0
                   ? piece->area_mm2 * piece->height_mm / height
                   : piece->area_mm2;
    double most = 0;
    for (int i = 0; i < placed->n_parts; i++)
        most = fmax(most, ks_outline_area(&placed->parts[i].outline));
    return most;
}

static double mass(const ks_plan *plan, const ks_placed *placed)
{
    return placed->piece >= 0 ? plan->order->pieces[placed->piece].mass_kg : 0;
}

/* What a level's ware stands on. A level without a shelf is as large as its ware. */
static double shelf_area(const ks_plan *plan, const ks_level *level)
{
    double area = 0;
    for (int i = 0; i < level->n_shelves; i++)
        area += ks_outline_area(&level->shelves[i].outline);
    for (int i = 0; i < level->n_pieces && level->n_shelves == 0; i++)
        area += footprint(plan, &level->pieces[i]);
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

static double sum(int n, const double *weights)
{
    double sum = 0;
    for (int i = 0; i < n; i++)
        sum += weights[i];
    return sum;
}

static void by_box(const ks_plan *plan, const ks_level *level, double *weights)
{
    for (int i = 0; i < level->n_pieces; i++) {
        const ks_placed *placed = &level->pieces[i];
        weights[i] = footprint(plan, placed) * (placed->top_mm - bottom(placed));
    }
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

static void by_sides(const ks_plan *plan, const ks_level *level, double *weights)
{
    for (int i = 0; i < level->n_pieces; i++) {
        const ks_placed *placed = &level->pieces[i];
        const ks_piece *piece = placed->piece >= 0 ? &plan->order->pieces[placed->piece] : NULL;
        ks_sides sides = piece ? ks_parts_sides(piece->n_parts, piece->parts)
                               : ks_parts_sides(placed->n_parts, placed->parts);
        weights[i] = sides.length_mm * sides.width_mm * sides.height_mm;
    }
}

/* A height at which a piece begins or ends. */
typedef struct {
    double at_mm, area;
    int piece;
    bool begins;
} reach_end;

static int by_height(const void *a, const void *b)
{
    const reach_end *x = a, *y = b;
    if (x->at_mm != y->at_mm)
        return x->at_mm < y->at_mm ? -1 : 1;
    return x->begins != y->begins ? (x->begins ? -1 : 1) : x->piece - y->piece;
}

static reach_end *ends_of(const ks_plan *plan, const ks_level *level, ks_arena *arena)
{
    reach_end *ends = KS_TAKE(arena, 2 * level->n_pieces, reach_end);
    for (int i = 0; i < level->n_pieces; i++) {
        const ks_placed *placed = &level->pieces[i];
        double area = footprint(plan, placed);
        ends[2 * i] = (reach_end){bottom(placed), area, i, true};
        ends[2 * i + 1] = (reach_end){placed->top_mm, area, i, false};
    }
    qsort(ends, 2 * (size_t)level->n_pieces, sizeof *ends, by_height);
    return ends;
}

/* A slice of a level costs as its shelf is large and the slice thick, whoever stands in it; the
 * pieces that reach through it share it by footprint. So a lone tall piece pays for all the air
 * beside it. Weights add up to the shelf's area times the height that ware reaches through. */
static void by_slices(const ks_plan *plan, const ks_level *level, double *weights)
{
    ks_arena arena = {0};
    reach_end *ends = ends_of(plan, level, &arena);
    double *paid_below = KS_TAKE(&arena, level->n_pieces, double);
    double paid = 0, area = 0, shelf = shelf_area(plan, level);
    int inside = 0;
    for (int e = 0; e < 2 * level->n_pieces; e++) {
        const reach_end *end = &ends[e];
        if (inside > 0 && area > 0)
            paid += (end->at_mm - ends[e - 1].at_mm) / area;
        inside += end->begins ? 1 : -1;
        area = inside > 0 ? area + (end->begins ? end->area : -end->area) : 0;
        if (end->begins)
            paid_below[end->piece] = paid;
        else
            weights[end->piece] = (paid - paid_below[end->piece]) * end->area * shelf;
    }
    ks_arena_finish(&arena);
}

static double box_empty(const ks_plan *plan, const ks_load *load, double used)
{
    (void)plan;
    return fmax(0, chamber_volume(load) - used);
}

static double shelf_empty(const ks_plan *plan, const ks_load *load, double used)
{
    double room = 0;
    for (int v = 0; v < load->n_levels; v++)
        room += shelf_area(plan, &load->levels[v]) * load->levels[v].gap_mm;
    return fmax(0, room - used);
}

/* Mass and count know of no empty space. */
static double none_empty(const ks_plan *plan, const ks_load *load, double used)
{
    (void)plan;
    (void)load;
    (void)used;
    return 0;
}

static const struct {
    void (*level)(const ks_plan *plan, const ks_level *level, double *weights);
    double (*empty)(const ks_plan *plan, const ks_load *load, double used);
} rules[] = {
    [KS_SHARE_BOX] = {by_box, box_empty},       [KS_SHARE_SLICES] = {by_slices, shelf_empty},
    [KS_SHARE_SHELF] = {by_shelf, shelf_empty}, [KS_SHARE_MASS] = {by_mass, none_empty},
    [KS_SHARE_COUNT] = {by_count, none_empty},  [KS_SHARE_SIDES] = {by_sides, box_empty},
    [KS_SHARE_RATE] = {by_box, box_empty},
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
    *empty = rules[rule].empty(plan, of, sum(n, *weights));
    return n;
}
