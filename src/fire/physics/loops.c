/* loops.c: how much power each control loop gives in a step. A loop is proportional over a narrow
 * band under its set point and full on or off beyond: P = full x (set - reading) / band within 0
 * and full. Each zone is solved together with what its neighbours' heat does to it, by an active
 * set: those at a limit are fixed there, the rest solved, and those that break a limit or want to
 * leave one change sides. The band also tells apart zones whose thermocouples stand in one level.
 */
#include "fire/physics/network.h"

#include <math.h>

#define BAND_K 0.2 /* narrow: what a controller takes for "at temperature" */

typedef enum { OFF, STEERED, FULL } loop_state;

typedef struct {
    int n;
    double full_w[LOOPS_MOST], short_k[LOOPS_MOST]; /* short of the set point without any power */
    const double *gain;
    loop_state state[LOOPS_MOST];
    double power_w[LOOPS_MOST];
} steering;

double ks_loop_reading_c(const ks_network *net, const ks_loop *loop)
{
    double sum = 0;
    for (int i = 0; i < net->n_nodes; i++)
        sum += loop->sense[i] * net->nodes[i].temp_c;
    return sum;
}

double ks_network_reading_c(const ks_network *net)
{
    double sum = 0;
    for (int z = 0; z < net->n_loops; z++)
        sum += ks_loop_reading_c(net, &net->loops[z]);
    return sum / net->n_loops;
}

double ks_network_slowest_c(const ks_network *net)
{
    double least = INFINITY;
    for (int z = 0; z < net->n_loops; z++)
        least = fmin(least, ks_loop_reading_c(net, &net->loops[z]));
    return least;
}

static double sensed(const ks_network *net, int z, const double *change)
{
    double sum = 0;
    for (int i = 0; i < net->n_nodes; i++)
        sum += net->loops[z].sense[i] * change[i];
    return sum;
}

static void gather(ks_network *net, const ks_drive *drive, steering *s)
{
    s->n = net->n_loops;
    s->gain = net->gain;
    for (int z = 0; z < s->n; z++) {
        s->full_w[z] = net->loops[z].part * drive->most_w;
        s->short_k[z] =
            drive->set_c - ks_loop_reading_c(net, &net->loops[z]) - sensed(net, z, net->fault);
        s->state[z] = s->full_w[z] > 0 ? STEERED : OFF;
        for (int y = 0; y < s->n; y++)
            net->gain[z * s->n + y] = sensed(net, z, &net->fault[(1 + y) * net->n_nodes]);
    }
}

/* What loop z asks for, beyond what `power_w` gives to all: its distance from its own band's line.
 */
static double asks_k(const steering *s, int z)
{
    double left_k = s->short_k[z];
    for (int y = 0; y < s->n; y++)
        left_k -= s->gain[z * s->n + y] * s->power_w[y];
    return left_k;
}

/* Gaussian elimination of the steered ones' equations, the diagonal being the largest by far or
 * made so by the band. */
static void steer_solve(steering *s)
{
    double row[LOOPS_MOST][LOOPS_MOST + 1];
    int who[LOOPS_MOST], n = 0;
    for (int z = 0; z < s->n; z++) {
        s->power_w[z] = s->state[z] == FULL ? s->full_w[z] : 0;
        if (s->state[z] == STEERED)
            who[n++] = z;
    }
    for (int i = 0; i < n; i++) {
        for (int k = 0; k < n; k++)
            row[i][k] = s->gain[who[i] * s->n + who[k]] + (i == k ? BAND_K / s->full_w[who[i]] : 0);
        row[i][n] = asks_k(s, who[i]);
    }
    for (int k = 0; k < n; k++)
        for (int i = 0; i < n; i++) {
            double share = i == k ? 0 : row[i][k] / row[k][k];
            for (int j = k; j <= n; j++)
                row[i][j] -= share * row[k][j];
        }
    for (int i = 0; i < n; i++)
        s->power_w[who[i]] = row[i][n] / row[i][i];
}

/* Whether a loop has had to change sides. */
static bool settle(steering *s)
{
    bool changed = false;
    for (int z = 0; z < s->n; z++) {
        loop_state was = s->state[z];
        if (was == STEERED && s->power_w[z] < 0)
            s->state[z] = OFF;
        else if (was == STEERED && s->power_w[z] > s->full_w[z])
            s->state[z] = FULL;
        else if (was == OFF && s->full_w[z] > 0 && asks_k(s, z) > 0)
            s->state[z] = STEERED;
        else if (was == FULL && asks_k(s, z) < BAND_K)
            s->state[z] = STEERED;
        changed = changed || s->state[z] != was;
    }
    return changed;
}

void ks_loops_steer(ks_network *net, const ks_drive *drive)
{
    steering s;
    if (isnan(drive->set_c)) {
        for (int z = 0; z < net->n_loops; z++)
            net->loops[z].power_w = 0;
        return;
    }
    gather(net, drive, &s);
    int passes = 0;
    do
        steer_solve(&s);
    while (settle(&s) && passes++ < 2 * LOOPS_MOST);
    for (int z = 0; z < s.n; z++)
        net->loops[z].power_w = fmin(fmax(s.power_w[z], 0), s.full_w[z]);
}
