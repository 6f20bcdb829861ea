/* gas.h: how much of a fuel's heat stays in the chamber. */
#ifndef KILNSTOW_FIRE_PHYSICS_GAS_H
#define KILNSTOW_FIRE_PHYSICS_GAS_H

typedef struct {
    const char *name;
    double hhv_kj_mol;
    double carbon, hydrogen; /* atoms in a molecule */
    double hhv_kwh_m3;       /* at 15 C */
    double hhv_kwh_kg;
} ks_fuel;

const ks_fuel *ks_fuel_find(const char *name); /* NULL = unknown */

/* Fraction of the higher heating value that is left when the flue gas leaves at this temperature,
 * without preheating the air: 1 - (sensible heat of the products + latent heat of their water) /
 * HHV. Negative when the burner cannot reach the temperature. Short of air (excess_air < 0, down to
 * -0.4) the flue gas holds carbon monoxide and hydrogen in the balance of the water-gas reaction,
 * and their heating value is lost with it. Enthalpies: NIST Shomate, from memory. */
double ks_available_heat(const ks_fuel *fuel, double excess_air, double flue_c);

/* What a dry flue gas holds when it is short of air, as fractions. */
typedef struct {
    double carbon_monoxide, hydrogen;
    double unburnt; /* of the higher heating value, what leaves with the two */
} ks_flue_gas;
ks_flue_gas ks_flue_gas_of(const ks_fuel *fuel, double excess_air, double flue_c);

#endif
