/* work.h: heat work gathered by witness cones at a place in the load. */
#ifndef KILNSTOW_FIRE_PHYSICS_WORK_H
#define KILNSTOW_FIRE_PHYSICS_WORK_H

#include "kilnstow/cone.h"

enum { CONES_MOST = 48 };

/* The row's fits, worked out once for a run. */
typedef struct {
    int n;
    ks_heat_work work[CONES_MOST];
    double usual_c[CONES_MOST]; /* at 60 K/h: below it by a good deal nothing happens */
} ks_cone_row_work;

typedef struct {
    double bent[CONES_MOST]; /* 1 = down */
} ks_witness;

void ks_cone_row_work_fill(ks_cone_row_work *row);
void ks_witness_add(const ks_cone_row_work *row, ks_witness *witness, double temp_c, double hours);

/* Place in the row of what is down, with the part of the next; -1 and more below the first. */
double ks_witness_cone(const ks_cone_row_work *row, const ks_witness *witness);

#endif
