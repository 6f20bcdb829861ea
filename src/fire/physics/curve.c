#include "fire/physics/curve.h"

static void integrate(ks_temp_curve *curve)
{
    double sum = 0;
    for (int i = 0; i < CURVE_KNOTS; i++) {
        if (i > 0)
            sum += 0.5 * (curve->value[i - 1] + curve->value[i]) * CURVE_STEP_K;
        curve->integral[i] = sum;
    }
    double at_start = curve->integral[(20 - CURVE_FROM_C) / CURVE_STEP_K];
    for (int i = 0; i < CURVE_KNOTS; i++)
        curve->integral[i] -= at_start;
}

void ks_temp_curve_of_function(double (*f)(double temp_c, const void *context), const void *context,
                               ks_temp_curve *out)
{
    for (int i = 0; i < CURVE_KNOTS; i++)
        out->value[i] = f(CURVE_FROM_C + CURVE_STEP_K * i, context);
    integrate(out);
}

static double property_value(double temp_c, const void *context)
{
    return ks_property_at(context, temp_c);
}

void ks_temp_curve_of_property(const ks_property *property, ks_temp_curve *out)
{
    ks_temp_curve_of_function(property_value, property, out);
}

void ks_temp_curve_add(ks_temp_curve *out, double weight, const ks_temp_curve *other)
{
    for (int i = 0; i < CURVE_KNOTS; i++) {
        out->value[i] += weight * other->value[i];
        out->integral[i] += weight * other->integral[i];
    }
}
