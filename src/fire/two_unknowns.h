/* two_unknowns.h: linear least squares in two unknowns, held by what is likely before. */
#ifndef KILNSTOW_FIRE_TWO_UNKNOWNS_H
#define KILNSTOW_FIRE_TWO_UNKNOWNS_H

/* One observation: how far it is above what is foretold, and what either unknown does to that. */
typedef struct {
    double off, by_a, by_b;
} ks_two_row;

/* Sums of the normal equations, and of the squares of what is off. */
typedef struct {
    double aa, ab, bb, ra, rb, square;
} ks_two_sums;

/* As if either unknown, which stands at `a` and `b` now, had been observed once to be 0, with so
 * much weight (0 = nothing is known of it). */
ks_two_sums ks_two_held(double a, double weight_a, double b, double weight_b);
void ks_two_add(ks_two_sums *sums, const ks_two_row *row);

/* By how much the unknowns move to the least sum of squares. */
void ks_two_move(const ks_two_sums *sums, double *a, double *b);

/* Their variances and correlation where a row's own variance is 1. */
void ks_two_variance(const ks_two_sums *sums, double *a, double *b, double *correlation);

/* How much a row pulls the fit towards itself, 0 to 1: its place on the diagonal of the hat matrix
 * (Allen 1974, Technometrics 16, 125). */
double ks_two_pull(const ks_two_sums *sums, const ks_two_row *row);

#endif
