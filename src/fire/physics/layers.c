#include "fire/physics/layers.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>

static int node_count(const ks_stack_layer *layers, int n_layers)
{
    int n = 1;
    for (int i = 0; i < n_layers; i++)
        n += layers[i].cells;
    assert(n_layers > 0 && n > 1 && n <= STACK_MOST_NODES);
    return n;
}

static void take_arrays(ks_layers *stack, int n, ks_arena *arena)
{
    *stack = (ks_layers){.n = n,
                         .temp_c = KS_TAKE(arena, n, double),
                         .old_c = KS_TAKE(arena, n, double),
                         .old_j = KS_TAKE(arena, n, double),
                         .grip_m = KS_TAKE(arena, n, double),
                         .by = KS_TAKE(arena, n, const ks_temp_curve *),
                         .inner_kg = KS_TAKE(arena, n, double),
                         .outer_kg = KS_TAKE(arena, n, double),
                         .inner_heat = KS_TAKE(arena, n, const ks_temp_curve *),
                         .outer_heat = KS_TAKE(arena, n, const ks_temp_curve *),
                         .below = KS_TAKE(arena, n, double),
                         .diagonal = KS_TAKE(arena, n, double),
                         .fault = KS_TAKE(arena, n, double)};
}

static double volume_m3(const ks_stack_shape *shape, double from_m, double to_m)
{
    return (shape->hot_m2 + 0.5 * shape->growth_m * (from_m + to_m)) * (to_m - from_m);
}

/* Area / distance through a cell whose area grows: exact for a ring. */
static double grip_m(const ks_stack_shape *shape, double from_m, double to_m)
{
    double inner = shape->hot_m2 + shape->growth_m * from_m;
    double outer = shape->hot_m2 + shape->growth_m * to_m;
    double mean =
        outer - inner < 1e-6 * inner ? 0.5 * (inner + outer) : (outer - inner) / log(outer / inner);
    return mean / (to_m - from_m);
}

void ks_stack_build(const ks_stack_layer *layers, int n_layers, const ks_stack_shape *shape,
                    double start_c, ks_arena *arena, ks_layers *out)
{
    take_arrays(out, node_count(layers, n_layers), arena);
    double depth_m = 0;
    int node = 0;
    out->n_layers = n_layers;
    out->layer_from = KS_TAKE(arena, n_layers, int);
    out->layer_peak_c = KS_TAKE(arena, n_layers, double);
    for (int l = 0; l < n_layers; l++) {
        out->layer_from[l] = node;
        out->layer_peak_c[l] = start_c;
        const ks_stack_layer *layer = &layers[l];
        double cell_m = layer->thickness_m / layer->cells;
        double density = layer->density_kg_m3 * shape->store;
        for (int c = 0; c < layer->cells; c++, node++, depth_m += cell_m) {
            double half_m = depth_m + 0.5 * cell_m, end_m = depth_m + cell_m;
            out->by[node] = layer->conductivity;
            out->grip_m[node] = grip_m(shape, depth_m, end_m) * shape->conductance;
            out->outer_kg[node] = density * volume_m3(shape, depth_m, half_m);
            out->outer_heat[node] = layer->heat;
            out->inner_kg[node + 1] = density * volume_m3(shape, half_m, end_m);
            out->inner_heat[node + 1] = layer->heat;
        }
    }
    out->casing_m2 = shape->casing_m2;
    for (int i = 0; i < out->n; i++)
        out->temp_c[i] = out->old_c[i] = start_c;
}

void ks_stack_note_peaks(ks_layers *stack)
{
    for (int l = 0; l < stack->n_layers; l++)
        stack->layer_peak_c[l] = fmax(stack->layer_peak_c[l], stack->temp_c[stack->layer_from[l]]);
}

static ks_temp_curve_at stored_at(const ks_layers *stack, int i, double temp_c)
{
    ks_temp_curve_at sum = {0, 0};
    if (stack->inner_kg[i] > 0 && stack->inner_heat[i] == stack->outer_heat[i]) {
        double kg = stack->inner_kg[i] + stack->outer_kg[i];
        ks_temp_curve_at both = ks_temp_curve_read(stack->inner_heat[i], temp_c);
        return (ks_temp_curve_at){kg * both.value, kg * both.integral};
    }
    if (stack->inner_kg[i] > 0) {
        ks_temp_curve_at inner = ks_temp_curve_read(stack->inner_heat[i], temp_c);
        sum.value += stack->inner_kg[i] * inner.value;
        sum.integral += stack->inner_kg[i] * inner.integral;
    }
    if (stack->outer_kg[i] > 0) {
        ks_temp_curve_at outer = ks_temp_curve_read(stack->outer_heat[i], temp_c);
        sum.value += stack->outer_kg[i] * outer.value;
        sum.integral += stack->outer_kg[i] * outer.integral;
    }
    return sum;
}

void ks_stack_begin(ks_layers *stack)
{
    for (int i = 0; i < stack->n; i++)
        stack->old_j[i] = stored_at(stack, i, stack->old_c[i]).integral;
}

/* Storage and the loss of the cold face; conduction is added cell by cell. */
static void start_rows(ks_layers *stack, double dt_s)
{
    int last = stack->n - 1;
    for (int i = 0; i <= last; i++) {
        ks_temp_curve_at now = stored_at(stack, i, stack->temp_c[i]);
        stack->diagonal[i] = now.value / dt_s;
        stack->fault[i] = (stack->old_j[i] - now.integral) / dt_s;
    }
    if (stack->casing_loss) {
        ks_temp_curve_at loss = ks_temp_curve_read(stack->casing_loss, stack->temp_c[last]);
        double h = 0.05;
        double slope =
            (ks_temp_curve_read(stack->casing_loss, stack->temp_c[last] + h).value - loss.value) /
            h;
        stack->diagonal[last] += stack->casing_m2 * slope;
        stack->fault[last] -= stack->casing_m2 * loss.value;
    }
}

/* Fault = what a node receives less what it stores and passes on; a Newton step makes it 0. */
ks_stack_face ks_stack_fold(ks_layers *stack, double dt_s)
{
    double above[STACK_MOST_NODES]; /* row i, column i + 1 */
    int last = stack->n - 1;
    start_rows(stack, dt_s);
    ks_temp_curve_at here = {0, 0}, next = {0, 0};
    for (int i = 0; i < last; i++) {
        double grip = stack->grip_m[i];
        bool same = i > 0 && stack->by[i] == stack->by[i - 1]; /* no joint: read once for both */
        here = same ? next : ks_temp_curve_read(stack->by[i], stack->temp_c[i]);
        next = ks_temp_curve_read(stack->by[i], stack->temp_c[i + 1]);
        double flow_w = grip * (here.integral - next.integral);
        stack->diagonal[i] += grip * here.value;
        stack->diagonal[i + 1] += grip * next.value;
        above[i] = -grip * next.value;
        stack->below[i + 1] = -grip * here.value;
        stack->fault[i] -= flow_w;
        stack->fault[i + 1] += flow_w;
    }
    if (!stack->casing_loss) { /* held */
        stack->fault[last] = stack->below[last] = 0;
        stack->diagonal[last] = 1;
    }
    for (int i = last; i > 0; i--) {
        double share = above[i - 1] / stack->diagonal[i];
        stack->diagonal[i - 1] -= share * stack->below[i];
        stack->fault[i - 1] -= share * stack->fault[i];
    }
    return (ks_stack_face){stack->fault[0], stack->diagonal[0]};
}

void ks_stack_back(ks_layers *stack, double change_k)
{
    stack->temp_c[0] += change_k;
    for (int i = 1; i < stack->n; i++) {
        change_k = (stack->fault[i] - stack->below[i] * change_k) / stack->diagonal[i];
        stack->temp_c[i] = ks_within_sense(stack->temp_c[i] + change_k);
    }
}

double ks_stack_stored_j(const ks_layers *stack, const double *temp_c)
{
    double sum = 0;
    for (int i = 0; i < stack->n; i++)
        sum += stored_at(stack, i, temp_c[i]).integral;
    return sum;
}

double ks_stack_lost_w(const ks_layers *stack)
{
    int last = stack->n - 1;
    if (stack->casing_loss)
        return stack->casing_m2 * ks_temp_curve_read(stack->casing_loss, stack->temp_c[last]).value;
    ks_temp_curve_at a = ks_temp_curve_read(stack->by[last - 1], stack->temp_c[last - 1]);
    ks_temp_curve_at b = ks_temp_curve_read(stack->by[last - 1], stack->temp_c[last]);
    return stack->grip_m[last - 1] * (a.integral - b.integral);
}

static double film_loss(double temp_c, const void *film)
{
    return ks_film_loss(film, temp_c);
}

void ks_stack_casing_curve(const ks_film *film, ks_temp_curve *out)
{
    ks_temp_curve_of_function(film_loss, film, out);
}
