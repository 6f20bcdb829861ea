/* fine.h: arithmetic of money: each product is rounded once, sums are exact. */
#ifndef KILNSTOW_COST_FINE_H
#define KILNSTOW_COST_FINE_H

#include "kilnstow/arena.h"
#include "kilnstow/money.h"

/* Amounts stop here (2.9e11 minor units) in place of running over; ks_cost() refuses terms that
 * come to so much. */
#define KS_FINE_MOST ((ks_fine)1 << 58)

/* A price for so many units, to the nearest fine unit, halves away from zero. `units` is a number.
 */
ks_fine ks_fine_times(ks_fine price, double units);

ks_fine ks_fine_plus(ks_fine a, ks_fine b);

/* To the nearest minor unit, halves away from zero. */
int64_t ks_fine_minor(ks_fine amount);

ks_fine ks_minor_fine(int64_t minor);

/* In major units, to `more` digits beyond the currency's own: "0.3185". */
const char *ks_fine_print(ks_fine amount, int digits, int more, ks_arena *arena);

/* Shares `total` among n by their weights (>= 0, finite) so that the parts add up to it exactly:
 * each gets the whole part of its due, and what is left goes one by one to the largest remainders,
 * the earlier first where they tie (the method of largest remainder, A. Hamilton 1792). All weights
 * 0: equal parts. n 0: nothing. Works for negative totals too; `arena` holds its notes. */
void ks_share_out(int64_t total, int n, const double *weights, int64_t *parts, ks_arena *arena);

#endif
