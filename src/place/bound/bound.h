/* bound.h: what no plan of the order can exceed. */
#ifndef KILNSTOW_PLACE_BOUND_BOUND_H
#define KILNSTOW_PLACE_BOUND_BOUND_H

#include "place/job/job.h"

/* Any prices give a valid bound; item prices a tight one. For prices y of the items,
 *
 *   worth of any plan <= sum y_i copies_i + sum over loads of the most a load can earn at w_i -
 * y_i,
 *
 * and what a load can earn is at most the best stack of levels, each filled up to a proven limit.
 */

/* The bound at these prices of one copy of each item (>= 0), for plain worth. */
double ks_bound_at(const ks_job *job, const double *price);

/* No fewer loads can take all that any could, if items share a load as one of these n rows of
 * shares
 * (>= 0) says: the most that one proves. 0 when the job's stop was asked for meanwhile. */
int ks_bound_loads(const ks_job *job, int n, double *const *shares);

/* Price of a side in the rule of cells that suits so many copies of each item. */
double ks_side_price_mm2(const ks_job *job, const int *copies);

/* What a copy of each item takes of a load's volume, its clearance and all. */
void ks_bound_volumes(const ks_job *job, double *volume_mm3);

typedef struct {
    double value;
    const char *kind; /* how it was proven, for the plan */
} ks_bound;

/* Everything wanted that some load could take. */
ks_bound ks_bound_wanted(const ks_job *job);

/* The least bound at the prices that are looked at; everything wanted when the job's stop was asked
 * for meanwhile. */
ks_bound ks_bound_find(const ks_job *job);

#endif
