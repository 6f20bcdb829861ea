#include "kilnstow/cone.h"

#include "fire/physics/film.h"

#include <math.h>

#define GAS_CONSTANT 8.314462618e-3 /* kJ/(mol K) */
#define REFERENCE_K 1500.0

/* Integral of exp(-E/RT) from 0 to T, as T exp(-x) p(x) with x = E/RT: the rational form of the
 * fourth degree by Senum & Yang (1977), good to 1e-5 and better for x > 5. */
static double log_of_integral(double energy_kj_mol, double temp_k)
{
    double x = energy_kj_mol / (GAS_CONSTANT * temp_k);
    double p = (x * x * x + 18 * x * x + 86 * x + 96) /
               (x * x * x * x + 20 * x * x * x + 120 * x * x + 240 * x + 120);
    return log(temp_k * p) - x;
}

/* Logarithm of the hours at 1500 K that a steady rise to the temperature is worth. */
static double log_of_work(double energy_kj_mol, double temp_c, double rate_c_h)
{
    return log_of_integral(energy_kj_mol, temp_c + ZERO_C_IN_K) +
           energy_kj_mol / (GAS_CONSTANT * REFERENCE_K) - log(rate_c_h);
}

ks_heat_work ks_cone_heat_work(int place)
{
    const ks_cone_row *row = ks_cone(place);
    return (ks_heat_work){row->energy_kj_mol,
                          exp(log_of_work(row->energy_kj_mol, row->temp_c[1], 60))};
}

double ks_heat_work_rate(const ks_heat_work *work, double temp_c)
{
    double temp_k = fmax(temp_c + ZERO_C_IN_K, 1);
    return exp(-work->energy_kj_mol / GAS_CONSTANT * (1 / temp_k - 1 / REFERENCE_K)) /
           work->hours_at_1500_k;
}

double ks_cone_peak_with_hold_c(int place, double rate_c_h, double hold_h)
{
    ks_heat_work work = ks_cone_heat_work(place);
    double low = 300, high = 1700;
    for (int i = 0; i < 60; i++) {
        double peak = 0.5 * (low + high);
        double climb = exp(log_of_work(work.energy_kj_mol, peak, rate_c_h)) / work.hours_at_1500_k;
        if (climb + hold_h * ks_heat_work_rate(&work, peak) < 1)
            low = peak;
        else
            high = peak;
    }
    return 0.5 * (low + high);
}
