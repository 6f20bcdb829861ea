/* slab.h: one stack with its hot face under a textbook's conditions. */
#ifndef KILNSTOW_TESTS_FIRE_SLAB_H
#define KILNSTOW_TESTS_FIRE_SLAB_H

#include "fire/physics/layers.h"

#include <math.h>
#include <string.h>

enum { SLAB_CURVES = 12 };

typedef struct {
    ks_arena arena;
    ks_layers stack;
    ks_stack_layer layers[SLAB_CURVES];
    int n_layers;
    ks_temp_curve *cold;
} slab;

static double line(double temp_c, const void *ab)
{
    const double *v = ab;
    return v[0] + v[1] * temp_c;
}

static const ks_temp_curve *curve_line(slab *s, double at_zero, double slope)
{
    ks_temp_curve *curve = KS_TAKE(&s->arena, 1, ks_temp_curve);
    ks_temp_curve_of_function(line, (double[]){at_zero, slope}, curve);
    return curve;
}

/* A layer of conductivity k (1 + b T), with rho c in J/(m3 K). */
static void slab_layer(slab *s, double thickness_m, double k, double b, double rho_c, int cells)
{
    s->layers[s->n_layers++] =
        (ks_stack_layer){curve_line(s, k, k * b), curve_line(s, rho_c, 0), 1, thickness_m, cells};
}

/* Layers of one material, finer and finer towards the hot face. */
static void slab_graded(slab *s, double thickness_m, double k, double rho_c)
{
    for (int i = 0; i < 6; i++)
        slab_layer(s, thickness_m * (i == 0 ? 1.0 / 32 : pow(2, i - 6)), k, 0, rho_c, 25);
}

/* h_w_m2_k of the cold face towards room_c; < 0 = cold face held at start_c; 0 = insulated. */
static void slab_start(slab *s, double start_c, double h_w_m2_k, double room_c)
{
    ks_stack_shape shape = {1, 0, 1, 1, 1};
    ks_stack_build(s->layers, s->n_layers, &shape, start_c, &s->arena, &s->stack);
    if (h_w_m2_k >= 0)
        s->stack.casing_loss = curve_line(s, -h_w_m2_k * room_c, h_w_m2_k);
}

/* One step with the hot face at hot_c; returns what it takes in, W/m2. */
static double slab_step_held(slab *s, double dt_s, double hot_c)
{
    double taken = 0;
    memcpy(s->stack.old_c, s->stack.temp_c, sizeof(double) * (size_t)s->stack.n);
    ks_stack_begin(&s->stack);
    s->stack.temp_c[0] = hot_c;
    for (int i = 0; i < 3; i++) {
        taken = -ks_stack_fold(&s->stack, dt_s).fault_w;
        ks_stack_back(&s->stack, 0);
    }
    return taken;
}

/* One step with a flux and a film: q + h (T - hot face). */
static void slab_step_film(slab *s, double dt_s, double q_w_m2, double h, double around_c)
{
    memcpy(s->stack.old_c, s->stack.temp_c, sizeof(double) * (size_t)s->stack.n);
    ks_stack_begin(&s->stack);
    for (int i = 0; i < 2; i++) {
        ks_stack_face face = ks_stack_fold(&s->stack, dt_s);
        double lacks = face.fault_w + q_w_m2 + h * (around_c - s->stack.temp_c[0]);
        ks_stack_back(&s->stack, lacks / (face.slope_w_k + h));
    }
}

/* Temperature at a depth, straight between nodes. */
static double slab_at(const slab *s, double depth_m)
{
    double from_m = 0;
    int node = 0;
    for (int l = 0; l < s->n_layers; l++) {
        double cell_m = s->layers[l].thickness_m / s->layers[l].cells;
        for (int c = 0; c < s->layers[l].cells; c++, node++, from_m += cell_m)
            if (depth_m <= from_m + cell_m + 1e-12) {
                double part = (depth_m - from_m) / cell_m;
                return s->stack.temp_c[node] * (1 - part) + s->stack.temp_c[node + 1] * part;
            }
    }
    return s->stack.temp_c[s->stack.n - 1];
}

static void slab_finish(slab *s)
{
    ks_arena_finish(&s->arena);
}

#endif
