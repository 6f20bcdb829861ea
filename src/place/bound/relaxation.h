/* relaxation.h: the loads as if ware were liquid: which stacks to build, what area is worth at each
 * height. */
#ifndef KILNSTOW_PLACE_BOUND_RELAXATION_H
#define KILNSTOW_PLACE_BOUND_RELAXATION_H

#include "place/stack/stack.h"

/* A strip along the edge that ware is thought to leave bare, where real layouts are foreseen. */
#define KS_EDGE_LOSS_MM 8.0

/* Stacks thought of, one after another, for each kind of load. */
enum { KS_STACKS_TRIED = 30 };

typedef struct {
    const ks_job *job;
    const int *left;     /* copies of each item still to place */
    const double *worth; /* of one copy of each */
    const int *loads;    /* how many loads of each kind there may be */
    double density;  /* of a level's area that ware is thought to cover, clearances and all; 1 = no
                      * more than cannot be denied */
    double side_mm2; /* price of a side in the rule of cells; 0 = areas alone */
    int n_needs;     /* of one load's levels; only when it is one */
    const ks_level_need *needs;
} ks_relax_ask;

typedef struct {
    double value;
    double *price_mm2; /* of area good for ware of heights_mm[h], in worth per mm2 */
    double *taken;     /* of each item: how many copies go in */
    int n_stacks;
    struct ks_relaxed_stack {
        int kind;
        ks_stack stack;
        double *area_mm2; /* [height]: of its levels of just that height, as covered by ware */
        double used;      /* how many loads are built so, in fractions */
        double alone;     /* value of building one load so and nothing else; only if asked for */
    } * stacks;
} ks_relaxed;

/* Where the job's stop is asked for, what has been found by then: maybe no stack at all. */
ks_relaxed ks_relax(const ks_relax_ask *ask, ks_arena *arena);

/* So many stacks at most of each kind that are worth most at the prices of an answer, in place of
 * its own. */
void ks_relax_list(const ks_relax_ask *ask, int most, ks_relaxed *relaxed, ks_arena *arena);

/* Values each stack by itself. */
void ks_relax_alone(const ks_relax_ask *ask, ks_relaxed *relaxed);

/* Area an item takes up on a shelf, half its clearance around it: its greatest cross-section. */
double ks_item_area_mm2(const ks_job *job, const ks_load_kind *kind, int item);

/* Works those out for all kinds of load, before any of its rounds. */
void ks_item_areas_find(ks_job *job);

/* What its cell takes up there at this price of a side. */
double ks_item_cell_mm2(const ks_job *job, const ks_load_kind *kind, int item, double side_mm2);

#endif
