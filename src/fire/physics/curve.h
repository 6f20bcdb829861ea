/* curve.h: a property by temperature and its integral from 20 C, tabulated for the inner loops. */
#ifndef KILNSTOW_FIRE_PHYSICS_CURVE_H
#define KILNSTOW_FIRE_PHYSICS_CURVE_H

#include "kilnstow/materials.h"

enum { CURVE_STEP_K = 10, CURVE_FROM_C = -50, CURVE_KNOTS = 196 }; /* up to 1900 C */

/* Straight between knots, so that the integral is exact for it, and a step of conduction or
 * storage worked out from integrals closes to rounding. */
typedef struct {
    double value[CURVE_KNOTS];
    double integral[CURVE_KNOTS];
} ks_temp_curve;

typedef struct {
    double value, integral;
} ks_temp_curve_at;

void ks_temp_curve_of_property(const ks_property *property, ks_temp_curve *out);

/* value = f(temp_c, context) at each knot. */
void ks_temp_curve_of_function(double (*f)(double temp_c, const void *context), const void *context,
                               ks_temp_curve *out);

/* out += weight x other */
void ks_temp_curve_add(ks_temp_curve *out, double weight, const ks_temp_curve *other);

/* A first guess of Newton's may lie where no matter is; from there it would not come back. */
static inline double ks_within_sense(double temp_c)
{
    return temp_c < -150 ? -150 : temp_c > 2500 ? 2500 : temp_c;
}

static inline ks_temp_curve_at ks_temp_curve_read(const ks_temp_curve *curve, double temp_c)
{
    double place = (temp_c - CURVE_FROM_C) / CURVE_STEP_K;
    int i = place < 0 ? 0 : place > CURVE_KNOTS - 2 ? CURVE_KNOTS - 2 : (int)place;
    double into_k = temp_c - CURVE_FROM_C - CURVE_STEP_K * i;
    double slope = (curve->value[i + 1] - curve->value[i]) / CURVE_STEP_K;
    return (ks_temp_curve_at){curve->value[i] + slope * into_k,
                              curve->integral[i] +
                                  (curve->value[i] + 0.5 * slope * into_k) * into_k};
}

#endif
