/* layers.h: heat through the layers of a wall, lid or floor: one dimension, implicit in time. */
#ifndef KILNSTOW_FIRE_PHYSICS_LAYERS_H
#define KILNSTOW_FIRE_PHYSICS_LAYERS_H

#include "fire/physics/curve.h"
#include "fire/physics/film.h"

enum { STACK_MOST_NODES = 500 };

typedef struct {
    const ks_temp_curve *conductivity, *heat;
    double density_kg_m3;
    double thickness_m;
    int cells;
} ks_stack_layer;

/* Area by depth: hot_m2 + growth_m x depth; a flat slab has growth 0, a round wall 2 pi height. */
typedef struct {
    double hot_m2, growth_m;
    double casing_m2;   /* outside, may be more than the conduction's own */
    double conductance; /* factor on conduction: as built */
    double store;       /* factor on what it holds */
} ks_stack_shape;

/* Nodes stand at the ends and between cells, so that one lies on each joint of two layers. */
typedef struct {
    int n; /* nodes; node 0 is the hot face */
    double *temp_c, *old_c;
    double *old_j;            /* held at old_c; see ks_stack_begin */
    double *grip_m;           /* conduction between i and i+1: area / distance, W/K per W/(m K) */
    const ks_temp_curve **by; /* conductivity of the cell between i and i+1 */
    double *inner_kg, *outer_kg; /* masses of the half cells on either side of a node */
    const ks_temp_curve **inner_heat, **outer_heat;
    const ks_temp_curve
        *casing_loss; /* W/m2 by surface temperature; NULL = cold face held at its temperature */
    double casing_m2;
    int n_layers;
    int *layer_from;      /* node on each layer's hot side */
    double *layer_peak_c; /* the hottest that has been */
    /* of the last linearisation, for ks_stack_back */
    double *below, *diagonal, *fault;
} ks_layers;

void ks_stack_build(const ks_stack_layer *layers, int n_layers, const ks_stack_shape *shape,
                    double start_c, ks_arena *arena, ks_layers *out);

/* What the hot face sees of its stack: with a change d of its temperature, the power that it
 * lacks is fault + slope x d. */
typedef struct {
    double fault_w, slope_w_k;
} ks_stack_face;

/* A step begins: old_c is where it starts from. */
void ks_stack_begin(ks_layers *stack);

/* Linearises one implicit step of dt_s about temp_c, and folds the stack into its hot face. */
ks_stack_face ks_stack_fold(ks_layers *stack, double dt_s);

/* The hot face moves by `change_k`, and all behind it as it must. */
void ks_stack_back(ks_layers *stack, double change_k);

void ks_stack_note_peaks(ks_layers *stack);

double ks_stack_stored_j(const ks_layers *stack, const double *temp_c); /* above 20 C */
double ks_stack_lost_w(const ks_layers *stack); /* at the cold face, at temp_c */

/* The curve for casing_loss. */
void ks_stack_casing_curve(const ks_film *film, ks_temp_curve *out);

#endif
