#include "fire/physics/gas.h"

#include "fire/physics/film.h"

#include <math.h>
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

static const species carbon_monoxide = {
    {25.56759, 6.096130, 4.054656, -2.671301, 0.131021, -118.0089, -110.5271},
    {35.15070, 1.300095, -0.205921, 0.013550, -3.282780, -127.8375, -110.5271},
    1300};
static const species hydrogen = {
    {33.066178, -11.363417, 11.432816, -2.772874, -0.158558, -9.980797, 0},
    {18.563083, 12.257357, -2.859786, 0.268238, 1.977990, -1.147438, 0},
    1000};

#define CARBON_MONOXIDE_KJ_MOL 283.0 /* heating values, water condensed */
#define HYDROGEN_KJ_MOL 285.8

/* Moles for a mole of fuel. */
typedef struct {
    double co2, co, h2o, h2, o2, n2;
} products;

/* [CO2][H2] / [CO][H2O], a line through NIST's values at 1000 and 1285 C: 0.605 and 0.354. */
static double water_gas(double temp_k)
{
    return exp(3730.7 / temp_k - 3.4328);
}

/* Short of air: the atoms' balances leave one unknown, CO2, and the reaction's balance is a
 * quadratic in it. */
static void share_oxygen(const ks_fuel *fuel, double o2, double temp_k, products *out)
{
    double c = fuel->carbon, h2_all = fuel->hydrogen / 2, o = 2 * o2, k = water_gas(temp_k);
    double low = fmax(0, o - c - h2_all), high = fmin(c, o - c);
    for (int i = 0; i < 60; i++) {
        double co2 = 0.5 * (low + high), co = c - co2, h2o = o - c - co2, h2 = h2_all - h2o;
        *out = (products){.co2 = co2, .co = co, .h2o = h2o, .h2 = h2};
        if (co2 * h2 < k * co * h2o)
            low = co2;
        else
            high = co2;
    }
}

static products products_of(const ks_fuel *fuel, double excess_air, double temp_k)
{
    double needed = fuel->carbon + fuel->hydrogen / 4; /* mol of oxygen */
    double given = needed * (1 + fmax(excess_air, -0.4));
    products out = {.co2 = fuel->carbon, .h2o = fuel->hydrogen / 2, .o2 = given - needed};
    if (excess_air < 0)
        share_oxygen(fuel, given, temp_k, &out);
    out.n2 = given * NITROGEN_PER_OXYGEN;
    return out;
}

double ks_available_heat(const ks_fuel *fuel, double excess_air, double flue_c)
{
    double t = flue_c + ZERO_C_IN_K;
    products p = products_of(fuel, excess_air, t);
    double lost = p.co2 * enthalpy_kj_mol(&carbon_dioxide, t) +
                  p.h2o * (enthalpy_kj_mol(&steam, t) + LATENT_KJ_MOL) +
                  p.co * (enthalpy_kj_mol(&carbon_monoxide, t) + CARBON_MONOXIDE_KJ_MOL) +
                  p.h2 * (enthalpy_kj_mol(&hydrogen, t) + HYDROGEN_KJ_MOL) +
                  p.o2 * enthalpy_kj_mol(&oxygen, t) + p.n2 * enthalpy_kj_mol(&nitrogen, t);
    return 1 - lost / fuel->hhv_kj_mol;
}

ks_flue_gas ks_flue_gas_of(const ks_fuel *fuel, double excess_air, double flue_c)
{
    products p = products_of(fuel, excess_air, flue_c + ZERO_C_IN_K);
    double dry = p.co2 + p.co + p.h2 + p.o2 + p.n2;
    double unburnt = p.co * CARBON_MONOXIDE_KJ_MOL + p.h2 * HYDROGEN_KJ_MOL;
    return (ks_flue_gas){p.co / dry, p.h2 / dry, unburnt / fuel->hhv_kj_mol};
}
