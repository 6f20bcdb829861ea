#include "fire/two_unknowns.h"

#include <math.h>

ks_two_sums ks_two_held(double a, double weight_a, double b, double weight_b)
{
    return (ks_two_sums){.aa = weight_a, .bb = weight_b, .ra = -weight_a * a, .rb = -weight_b * b};
}

void ks_two_add(ks_two_sums *sums, const ks_two_row *row)
{
    sums->aa += row->by_a * row->by_a;
    sums->ab += row->by_a * row->by_b;
    sums->bb += row->by_b * row->by_b;
    sums->ra += row->by_a * row->off;
    sums->rb += row->by_b * row->off;
    sums->square += row->off * row->off;
}

static double determinant(const ks_two_sums *sums)
{
    return sums->aa * sums->bb - sums->ab * sums->ab;
}

void ks_two_move(const ks_two_sums *sums, double *a, double *b)
{
    double whole = determinant(sums);
    *a = (sums->bb * sums->ra - sums->ab * sums->rb) / whole;
    *b = (sums->aa * sums->rb - sums->ab * sums->ra) / whole;
}

void ks_two_variance(const ks_two_sums *sums, double *a, double *b, double *correlation)
{
    double whole = determinant(sums);
    *a = sums->bb / whole;
    *b = sums->aa / whole;
    *correlation = -sums->ab / sqrt(sums->aa * sums->bb);
}

double ks_two_pull(const ks_two_sums *sums, const ks_two_row *row)
{
    double a = row->by_a, b = row->by_b;
    return (sums->bb * a * a - 2 * sums->ab * a * b + sums->aa * b * b) / determinant(sums);
}
