/* The heat work of a curve that was measured. */
#include "fire/physics/work.h"

#include <math.h>

#define STEP_K                                                                                     \
    1.0 /* within which a cone's rate of bending is taken as even; it doubles in 10 K              \
         */

double ks_cone_of_curve(int n, const double *time_h, const double *temp_c)
{
    ks_cone_row_work row;
    ks_witness witness = {0};
    ks_cone_row_work_fill(&row);
    for (int i = 1; i < n; i++) {
        double rise_k = temp_c[i] - temp_c[i - 1];
        int steps = 1 + (int)fmin(fabs(rise_k) / STEP_K, 5000);
        for (int k = 0; k < steps; k++)
            ks_witness_add(&row, &witness, temp_c[i - 1] + rise_k * (k + 0.5) / steps,
                           (time_h[i] - time_h[i - 1]) / steps);
    }
    return ks_witness_cone(&row, &witness);
}
