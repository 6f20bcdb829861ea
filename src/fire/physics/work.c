#include "fire/physics/work.h"

#include <math.h>

void ks_cone_row_work_fill(ks_cone_row_work *row)
{
    row->n = ks_cone_count() < CONES_MOST ? ks_cone_count() : CONES_MOST;
    for (int i = 0; i < row->n; i++) {
        row->work[i] = ks_cone_heat_work(i);
        row->usual_c[i] = ks_cone(i)->temp_c[1];
    }
}

#define FAR_BELOW_K 160.0 /* a cone so much hotter bends by less than 1e-3 in a day */

void ks_witness_add(const ks_cone_row_work *row, ks_witness *witness, double temp_c, double hours)
{
    for (int i = 0; i < row->n && row->usual_c[i] < temp_c + FAR_BELOW_K; i++)
        if (witness->bent[i] < 1)
            witness->bent[i] += hours * ks_heat_work_rate(&row->work[i], temp_c);
}

/* Half the bend is gone within the last few kelvins, so the part is taken from the logarithm, in
 * which a steady rise is nearly straight. */
double ks_witness_cone(const ks_cone_row_work *row, const ks_witness *witness)
{
    int down = -1;
    for (int i = 0; i < row->n; i++)
        if (witness->bent[i] >= 1)
            down = i;
    if (down + 1 >= row->n)
        return down;
    double next = witness->bent[down + 1];
    double here_k = down < 0 ? 60 : row->usual_c[down + 1] - row->usual_c[down];
    double kt =
        8.314e-3 * pow(row->usual_c[down + 1] + 273.15, 2) / row->work[down + 1].energy_kj_mol;
    double short_k = next > 0 ? -log(next) * kt : here_k;
    return down + fmax(0, fmin(1 - short_k / fmax(here_k, 1), 0.99));
}
