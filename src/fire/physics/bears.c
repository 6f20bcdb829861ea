#include "fire/physics/bears.h"

#include "fire/physics/film.h"

#include <math.h>

#define PI 3.14159265358979323846
#define S_PER_H 3600.0
#define GAS_J_MOL 8.314462618

/* Moduli, strengths and expansions by kind of body; handbook values from memory (Ryan & Radford
 * 1987), of dry clay E by Hulan et al. (2020) and conductivity by Michot et al. (2008). Free quartz
 * by recipe is 15 to 40 % of a raw body and 10 to 25 % of stoneware; cristobalite is a guess. */
const ks_body_state ks_raw_clay = {"raw clay", 8e9, 2e6, 6e-6, 0.2, 0.5, 1800, 1000, 0.30, 0};
const ks_body_state ks_bisque = {"bisque", 15e9, 8e6, 6.5e-6, 0.2, 0.7, 1850, 1000, 0.30, 0};
const ks_body_state ks_vitrified = {"fired ware", 50e9, 40e6, 6e-6, 0.2,
                                    1.3,          2300, 1050, 0.15, 0.05};

static double diffusivity(const ks_body_state *body)
{
    return body->conductivity / (body->density * body->heat);
}

double ks_ramp_lag_k(const ks_body_state *body, double half_m, double rate_k_h)
{
    return rate_k_h / S_PER_H * half_m * half_m / (2 * diffusivity(body));
}

/* Quartz expands by 14e-6 to 300 C as the rest of the body's own figure has it; more above, and by
 * 0.46 % over the last 25 K below its inversion at 574 C: mean slopes of a Landau law that fits
 * diffraction (Acta Cryst. B); upper bound, for grains that have come loose give less. */
static double quartz_excess_k(double temp_c)
{
    if (temp_c < 300 || temp_c > 574)
        return 0;
    return temp_c < 500 ? 8e-6 : temp_c < 549 ? 27e-6 : 0.0046 / 25;
}

/* 1.3 +- 0.4 % of length between 200 and 270 C. */
static double cristobalite_excess_k(double temp_c)
{
    return temp_c >= 200 && temp_c <= 270 ? 0.013 / 70 : 0;
}

double ks_expansion_at(const ks_body_state *body, double temp_c)
{
    return body->expansion_k + body->quartz * quartz_excess_k(temp_c) +
           body->cristobalite * cristobalite_excess_k(temp_c);
}

double ks_ramp_tension_pa(const ks_body_state *body, double half_m, double rate_k_h, bool cooling,
                          double temp_c)
{
    double face_to_mean_k = ks_ramp_lag_k(body, half_m, rate_k_h) * 2 / 3;
    return body->e_pa * ks_expansion_at(body, temp_c) * face_to_mean_k / (1 - body->poisson) *
           (cooling ? 1 : 0.5);
}

double ks_bears_rate_k_h(const ks_body_state *body, double half_m, double temp_c, bool cooling)
{
    return body->strength_pa / BODY_SAFETY / ks_ramp_tension_pa(body, half_m, 1, cooling, temp_c);
}

/* A free disc with a parabolic profile. */
double ks_bears_across_k(const ks_body_state *body, double temp_c)
{
    return 2 * body->strength_pa / BODY_SAFETY / (body->e_pa * ks_expansion_at(body, temp_c));
}

#define SHELF_J_M3_K (1950 * 1050.0) /* cordierite about 300 C */
#define SHELF_EXCHANGE 0.74          /* two faces of emissivity 0.85 */
#define SHELF_AIR_W_M2_K 5.0

double ks_shelf_lag_h(double shelf_m, double temp_c)
{
    double film =
        4 * SHELF_EXCHANGE * STEFAN_BOLTZMANN * pow(temp_c + ZERO_C_IN_K, 3) + SHELF_AIR_W_M2_K;
    return shelf_m * SHELF_J_M3_K / film / S_PER_H;
}

/* Crank, The Mathematics of Diffusion, ch. 4: both faces at equilibrium from the start. */
double ks_slab_left(double fourier)
{
    double sum = 0;
    if (fourier < 0.02)
        return 1 - 2 * sqrt(fourier / PI);
    for (int n = 0; n < 12; n++) {
        double odd = (2 * n + 1) * PI / 2;
        sum += 2 / (odd * odd) * exp(-odd * odd * fourier);
    }
    return sum;
}

double ks_slab_fourier(double left)
{
    double low = 0, high = 20;
    for (int i = 0; i < 60; i++) {
        double middle = 0.5 * (low + high);
        if (ks_slab_left(middle) > left)
            low = middle;
        else
            high = middle;
    }
    return high;
}

static double water_viscosity(double temp_c)
{
    return 2.414e-5 * pow(10, 247.8 / (temp_c + ZERO_C_IN_K - 140));
}

#define LIQUID_AT_40C 3e-9 /* 5e-10 to 1e-8 in the drying literature: a factor of 3, one sigma */

double ks_liquid_diffusivity(double temp_c)
{
    double t_k = temp_c + ZERO_C_IN_K;
    return LIQUID_AT_40C * t_k / 313.15 * water_viscosity(40) / water_viscosity(temp_c);
}

#define VAPOUR_RESISTANCE 8.0 /* of unfired earth, 3 to 12 */
#define DRY_DENSITY 1800.0
#define SORPTION_SLOPE 0.025 /* kg/kg for relative humidity 0 to 1, low end */

double ks_hygroscopic_diffusivity(double temp_c)
{
    double t_k = temp_c + ZERO_C_IN_K;
    double p_sat = 610.94 * exp(17.625 * temp_c / (temp_c + 243.04)); /* Magnus */
    double vapour = p_sat * 0.018015 / (GAS_J_MOL * t_k);
    double free_air = 2.5e-5 * pow(t_k / 298, 1.81);
    return free_air / VAPOUR_RESISTANCE * vapour / (DRY_DENSITY * SORPTION_SLOPE);
}

#define LEATHER_HARD_WATER 0.15
#define CRITICAL_WATER 0.12 /* shrinking and the even rate end here: 0.10 to 0.16 */
#define WATER_DIFFERENCE                                                                           \
    0.02 /* mean less face: half a per cent of shrinkage a per cent, 1 % bears */

/* The face's flux N keeps mean less face = N half / (3 rho D) at what is borne (Lykov 1968). */
double ks_shrinking_h(double half_m)
{
    return (LEATHER_HARD_WATER - CRITICAL_WATER) / (3 * WATER_DIFFERENCE) * half_m * half_m /
           ks_liquid_diffusivity(40) / S_PER_H;
}

#define PERMEABILITY_M2 1e-16 /* of dry clay: a factor of 10, one sigma */
#define STEAM_VISCOSITY 1.4e-5
#define STEAM_J_KG 1.954e5 /* gas constant x temperature at 150 C */
#define STEAM_PA                                                                                   \
    0.2e6 /* borne inside, absolute: 0.1 MPa over the air's; clay tears at 0.5 to 2                \
           */
#define AIR_PA 0.1013e6
#define STEAM_OVER_K 100.0 /* it leaves between 120 and 220 C */

double ks_bears_steam_k_h(double half_m, double water)
{
    return PERMEABILITY_M2 * (STEAM_PA * STEAM_PA - AIR_PA * AIR_PA) /
           (STEAM_VISCOSITY * STEAM_J_KG * DRY_DENSITY * water / STEAM_OVER_K * half_m * half_m) *
           S_PER_H;
}

/* Oxygen gets through the burnt layer (shrinking core), its pores of 0.1 um by Knudsen's and the
 * gas's own diffusion in series. */
double ks_burn_out_h(double half_m, double carbon, double oxygen, double temp_c)
{
    const double pore_share = 0.3, tortuosity = 3, pore_m = 0.1e-6, carbon_kg_mol = 0.012;
    double t_k = temp_c + ZERO_C_IN_K;
    double molecular = 2.0e-5 * pow(t_k / 293, 1.75), knudsen = 97 * pore_m * sqrt(t_k / 32);
    double de = pore_share / tortuosity / (1 / molecular + 1 / knudsen);
    double oxygen_mol_m3 = oxygen * 101325 / (GAS_J_MOL * t_k);
    return carbon * DRY_DENSITY * half_m * half_m / (2 * carbon_kg_mol * de * oxygen_mol_m3) /
           S_PER_H;
}
