#include "fire/physics/network.h"

#include "fire/physics/bears.h"

#include <stdlib.h>
#include <math.h>
#include <string.h>

enum { MOST_ITERATIONS = 40, PATIENT_ITERATIONS = 12 };
#define LARGEST_CHANGE_K 150.0
#define SMALL_ENOUGH_K 1e-2

/* A change sets in and fades out: a cubic from 0 to 1. */
static double done_share(const ks_change *change, double temp_c)
{
    double part = (temp_c - change->from_c) / (change->to_c - change->from_c);
    return part < 0 ? 0 : part > 1 ? 1 : part * part * (3 - 2 * part);
}

static double done_slope(const ks_change *change, double temp_c)
{
    double part = (temp_c - change->from_c) / (change->to_c - change->from_c);
    return part < 0 || part > 1 ? 0 : 6 * part * (1 - part) / (change->to_c - change->from_c);
}

double ks_chemistry_taken_j(const ks_chemistry *chemistry, double highest_c)
{
    double sum = 0;
    for (int i = 0; i < chemistry->n; i++)
        sum += chemistry->changes[i].joule * done_share(&chemistry->changes[i], highest_c);
    return sum;
}

#define BOILS_FROM_C 100.0
#define BOILED_BY_C 120.0

static double boiled(double highest_c)
{
    return fmin(fmax((highest_c - BOILS_FROM_C) / (BOILED_BY_C - BOILS_FROM_C), 0), 1);
}

double ks_drying_taken_j(const ks_drying *drying, double gone, double highest_c)
{
    return drying->joule * (gone + (1 - gone) * boiled(highest_c));
}

#define DRIES_ABOVE_C 35.0
#define COOLED_BY_K 2.0 /* by what evaporates in a step, at most: heat has to come first */

/* The first term of the slab's series: what leaves in a step goes with what is left. */
static double goes_in(const ks_node *node, double dt_s)
{
    const ks_drying *drying = node->drying;
    double t_c = fmin(node->temp_c, BOILS_FROM_C);
    if (t_c < DRIES_ABOVE_C || !(drying->joule > 0))
        return 0;
    double d = drying->wet ? ks_liquid_diffusivity(t_c) : ks_hygroscopic_diffusivity(t_c);
    double rate_s = 9.8696 * d / (4 * drying->half_m * drying->half_m);
    double most = COOLED_BY_K * ks_temp_curve_read(node->store, node->temp_c).value / drying->joule;
    return fmin((1 - drying->gone) * -expm1(-rate_s * dt_s), most);
}

static void drying_row(const ks_node *node, double dt_s, double *slope, double *fault)
{
    const ks_drying *drying = node->drying;
    double gone = drying->gone + drying->going, highest_c = fmax(node->highest_c, node->temp_c);
    *fault -= (ks_drying_taken_j(drying, gone, highest_c) -
               ks_drying_taken_j(drying, drying->gone, node->highest_c)) /
              dt_s;
    if (node->temp_c > node->highest_c && node->temp_c > BOILS_FROM_C && node->temp_c < BOILED_BY_C)
        *slope += drying->joule * (1 - gone) / (BOILED_BY_C - BOILS_FROM_C) / dt_s;
}

static double chemistry_slope(const ks_chemistry *chemistry, double temp_c)
{
    double sum = 0;
    for (int i = 0; i < chemistry->n; i++)
        sum += chemistry->changes[i].joule * done_slope(&chemistry->changes[i], temp_c);
    return sum;
}

void ks_network_ready(ks_network *net, ks_arena *arena)
{
    net->reach = 0;
    for (int i = 0; i < net->n_links; i++) {
        int apart = abs(net->links[i].a - net->links[i].b);
        if (apart > net->reach)
            net->reach = apart;
    }
    net->matrix = KS_TAKE(arena, net->n_nodes * (2 * net->reach + 1), double);
    net->fault = KS_TAKE(arena, (1 + net->n_loops) * net->n_nodes, double);
    net->gain = KS_TAKE(arena, net->n_loops * net->n_loops, double);
}

static double *at(const ks_network *net, int row, int column)
{
    return &net->matrix[row * (2 * net->reach + 1) + column - row + net->reach];
}

static double cubed(double x)
{
    return x * x * x;
}

static void link_rows(ks_network *net, const ks_link *link)
{
    const ks_node *a = &net->nodes[link->a], *b = &net->nodes[link->b];
    double a_k = a->temp_c + ZERO_C_IN_K, b_k = b->temp_c + ZERO_C_IN_K;
    double grip = STEFAN_BOLTZMANN * link->radiant_m2;
    double flow_w =
        grip * (a_k * cubed(a_k) - b_k * cubed(b_k)) + link->plain_w_k * (a->temp_c - b->temp_c);
    double by_a = 4 * grip * cubed(a_k) + link->plain_w_k;
    double by_b = 4 * grip * cubed(b_k) + link->plain_w_k;
    *at(net, link->a, link->a) += by_a;
    *at(net, link->b, link->b) += by_b;
    *at(net, link->a, link->b) -= by_b;
    *at(net, link->b, link->a) -= by_a;
    net->fault[link->a] -= flow_w;
    net->fault[link->b] += flow_w;
}

static void node_row(ks_network *net, int i, double dt_s)
{
    const ks_node *node = &net->nodes[i];
    double slope = 0, fault = 0;
    if (node->store) {
        ks_temp_curve_at now = ks_temp_curve_read(node->store, node->temp_c);
        slope += now.value / dt_s;
        fault -= (now.integral - ks_temp_curve_read(node->store, node->old_c).integral) / dt_s;
    }
    if (node->chemistry && node->temp_c > node->highest_c) {
        slope += chemistry_slope(node->chemistry, node->temp_c) / dt_s;
        fault -= (ks_chemistry_taken_j(node->chemistry, node->temp_c) -
                  ks_chemistry_taken_j(node->chemistry, node->highest_c)) /
                 dt_s;
    }
    if (node->drying)
        drying_row(node, dt_s, &slope, &fault);
    if (node->air_kg_s > 0) {
        ks_temp_curve_at out = ks_temp_curve_read(net->air_heat, node->temp_c);
        slope += node->air_kg_s * out.value;
        fault -= node->air_kg_s *
                 (out.integral - ks_temp_curve_read(net->air_heat, net->room_c).integral);
    }
    if (node->stack) {
        node->stack->temp_c[0] = node->temp_c;
        ks_stack_face face = ks_stack_fold(node->stack, dt_s);
        slope += face.slope_w_k;
        fault += face.fault_w;
    }
    *at(net, i, i) += slope;
    net->fault[i] += fault;
}

static void assemble(ks_network *net, double dt_s)
{
    memset(net->matrix, 0, sizeof(double) * (size_t)(net->n_nodes * (2 * net->reach + 1)));
    memset(net->fault, 0, sizeof(double) * (size_t)net->n_nodes);
    for (int i = 0; i < net->n_nodes; i++)
        node_row(net, i, dt_s);
    for (int i = 0; i < net->n_links; i++)
        link_rows(net, &net->links[i]);
}

/* Solves for all right sides at once, one after the other in `sides`; the matrix is dominated by
 * its diagonal, so no pivots. */
static void solve(ks_network *net, double *sides, int n_sides)
{
    int n = net->n_nodes;
    for (int k = 0; k < n; k++) {
        int end = k + net->reach < n - 1 ? k + net->reach : n - 1;
        const double *row_k = at(net, k, k);
        for (int i = k + 1; i <= end; i++) {
            double *row_i = at(net, i, k);
            double share = *row_i / *row_k;
            if (share == 0)
                continue;
            for (int j = 1; j <= end - k; j++)
                row_i[j] -= share * row_k[j];
            for (int s = 0; s < n_sides; s++)
                sides[s * n + i] -= share * sides[s * n + k];
        }
    }
    for (int k = n - 1; k >= 0; k--) {
        int end = k + net->reach < n - 1 ? k + net->reach : n - 1;
        const double *row_k = at(net, k, k);
        for (int s = 0; s < n_sides; s++) {
            double *side = &sides[s * n];
            for (int j = 1; j <= end - k; j++)
                side[k] -= row_k[j] * side[k + j];
            side[k] /= *row_k;
        }
    }
}

/* Returns the largest change. */
static double move(ks_network *net, const double *change, double part)
{
    double largest = 0;
    for (int i = 0; i < net->n_nodes; i++)
        largest = fmax(largest, fabs(change[i]));
    if (largest > LARGEST_CHANGE_K)
        part *= LARGEST_CHANGE_K / largest;
    for (int i = 0; i < net->n_nodes; i++) {
        ks_node *node = &net->nodes[i];
        double change_k = ks_within_sense(node->temp_c + part * change[i]) - node->temp_c;
        node->temp_c += change_k;
        if (node->stack)
            ks_stack_back(node->stack, change_k);
    }
    return largest;
}

static void carry_on(double *temp_c, double *old_c, double rate)
{
    double change_k = *temp_c - *old_c;
    *old_c = *temp_c;
    *temp_c += rate * change_k;
}

static void begin(ks_network *net, double rate, double dt_s)
{
    for (int i = 0; i < net->n_nodes; i++) {
        ks_node *node = &net->nodes[i];
        node->highest_c = fmax(node->highest_c, node->temp_c);
        if (node->drying) {
            node->drying->gone += node->drying->going;
            node->drying->going = goes_in(node, dt_s);
        }
        carry_on(&node->temp_c, &node->old_c, rate);
        if (!node->stack)
            continue;
        for (int k = 0; k < node->stack->n; k++)
            carry_on(&node->stack->temp_c[k], &node->stack->old_c[k], rate);
        ks_stack_begin(node->stack);
    }
}

/* The change of all temperatures, left in the first right side; tells the power. */
static double solve_with_power(ks_network *net, const ks_drive *drive)
{
    int n = net->n_nodes;
    double *change = net->fault, power_w = 0;
    for (int z = 0; z < net->n_loops; z++)
        memcpy(&net->fault[(1 + z) * n], net->loops[z].share, sizeof(double) * (size_t)n);
    solve(net, net->fault, isnan(drive->set_c) ? 1 : 1 + net->n_loops);
    ks_loops_steer(net, drive);
    for (int z = 0; z < net->n_loops && !isnan(drive->set_c); z++) {
        power_w += net->loops[z].power_w;
        for (int i = 0; i < n; i++)
            change[i] += net->loops[z].power_w * net->fault[(1 + z) * n + i];
    }
    return power_w;
}

bool ks_network_step(ks_network *net, const ks_drive *drive, double rate, double *power_w)
{
    begin(net, rate, drive->dt_s);
    for (int i = 0; i < MOST_ITERATIONS; i++) {
        assemble(net, drive->dt_s);
        *power_w = solve_with_power(net, drive);
        if (move(net, net->fault, i < PATIENT_ITERATIONS ? 1 : 0.5) < SMALL_ENOUGH_K)
            return true;
    }
    return false;
}

void ks_network_undo(ks_network *net)
{
    for (int i = 0; i < net->n_nodes; i++) {
        ks_node *node = &net->nodes[i];
        node->temp_c = node->old_c;
        if (node->drying)
            node->drying->going = 0;
        if (node->stack)
            memcpy(node->stack->temp_c, node->stack->old_c,
                   sizeof(double) * (size_t)node->stack->n);
    }
}

double ks_network_stored_j(const ks_network *net, ks_node_kind kind)
{
    double sum = 0;
    for (int i = 0; i < net->n_nodes; i++) {
        const ks_node *node = &net->nodes[i];
        if (node->kind != kind)
            continue;
        if (node->store)
            sum += ks_temp_curve_read(node->store, node->temp_c).integral;
        if (node->stack)
            sum += ks_stack_stored_j(node->stack, node->stack->temp_c);
    }
    return sum;
}

double ks_network_chemistry_j(const ks_network *net)
{
    double sum = 0;
    for (int i = 0; i < net->n_nodes; i++) {
        const ks_node *node = &net->nodes[i];
        if (node->chemistry)
            sum += ks_chemistry_taken_j(node->chemistry, fmax(node->highest_c, node->temp_c));
        if (node->drying)
            sum += ks_drying_taken_j(node->drying, node->drying->gone + node->drying->going,
                                     fmax(node->highest_c, node->temp_c));
    }
    return sum;
}

double ks_network_casing_w(const ks_network *net)
{
    double sum = 0;
    for (int i = 0; i < net->n_nodes; i++)
        if (net->nodes[i].stack)
            sum += ks_stack_lost_w(net->nodes[i].stack);
    return sum;
}

double ks_network_vent_w(const ks_network *net)
{
    double sum = 0;
    double room_j = ks_temp_curve_read(net->air_heat, net->room_c).integral;
    for (int i = 0; i < net->n_nodes; i++)
        if (net->nodes[i].air_kg_s > 0)
            sum += net->nodes[i].air_kg_s *
                   (ks_temp_curve_read(net->air_heat, net->nodes[i].temp_c).integral - room_j);
    return sum;
}
