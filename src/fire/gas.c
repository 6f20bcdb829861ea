#include "fire/gas.h"

#include "fire/film.h"

#include <stddef.h>
#include <string.h>

/* Natural gas is taken as methane. */
static const ks_fuel fuels[] = {
    {"natural gas", 890.3, 1, 4, 10.7, 15.42},
    {"propane", 2219.2, 3, 8, 26.1, 13.97},
};

const ks_fuel *ks_fuel_find(const char *name)
{
    for (size_t i = 0; i < sizeof fuels / sizeof *fuels; i++)
        if (strcmp(fuels[i].name, name) == 0)
            return &fuels[i];
    return NULL;
}

/* kJ/mol above 298.15 K: A t + B t^2/2 + C t^3/3 + D t^4/4 - E/t + F - H, t in 1000 K. */
typedef struct {
    double a, b, c, d, e, f, h;
} shomate;

typedef struct {
    shomate cold, hot; /* below and above the limit */
    double limit_k;
} species;

static const species carbon_dioxide = {
    {24.99735, 55.18696, -33.69137, 7.948387, -0.136638, -403.6075, -393.5224},
    {58.16639, 2.720074, -0.492289, 0.038844, -6.447293, -425.9186, -393.5224},
    1200};
static const species steam = {
    {30.09200, 6.832514, 6.793435, -2.534480, 0.082139, -250.8810, -241.8264},
    {41.96426, 8.622053, -1.499780, 0.098119, -11.15764, -272.1797, -241.8264},
    1700};
static const species nitrogen = {{28.98641, 1.853978, -9.647459, 16.63537, 0.000117, -8.671914, 0},
                                 {19.50583, 19.88705, -8.598535, 1.369784, 0.527601, -4.935202, 0},
                                 500};
static const species oxygen = {{31.32234, -20.23531, 57.86644, -36.50624, -0.007374, -8.903471, 0},
                               {30.03235, 8.772972, -3.988133, 0.788313, -0.741599, -11.32468, 0},
                               700};

static double enthalpy_kj_mol(const species *gas, double temp_k)
{
    const shomate *s = temp_k < gas->limit_k ? &gas->cold : &gas->hot;
    double t = temp_k / 1000;
    return s->a * t + s->b * t * t / 2 + s->c * t * t * t / 3 + s->d * t * t * t * t / 4 -
           s->e / t + s->f - s->h;
}

#define NITROGEN_PER_OXYGEN 3.773
#define LATENT_KJ_MOL 44.0

double ks_available_heat(const ks_fuel *fuel, double excess_air, double flue_c)
{
    double flue_k = flue_c + ZERO_C_IN_K;
    double needed = fuel->carbon + fuel->hydrogen / 4; /* mol of oxygen */
    double water = fuel->hydrogen / 2;
    double lost =
        fuel->carbon * enthalpy_kj_mol(&carbon_dioxide, flue_k) +
        water * (enthalpy_kj_mol(&steam, flue_k) + LATENT_KJ_MOL) +
        needed * excess_air * enthalpy_kj_mol(&oxygen, flue_k) +
        needed * (1 + excess_air) * NITROGEN_PER_OXYGEN * enthalpy_kj_mol(&nitrogen, flue_k);
    return 1 - lost / fuel->hhv_kj_mol;
}
