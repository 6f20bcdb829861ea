/* film.h: heat from a surface to the room: natural convection of air, and radiation. */
#ifndef KILNSTOW_FIRE_PHYSICS_FILM_H
#define KILNSTOW_FIRE_PHYSICS_FILM_H

#define STEFAN_BOLTZMANN 5.670374e-8 /* W/(m2 K4) */
#define ZERO_C_IN_K 273.15
#define GRAVITY 9.80665

typedef struct {
    double conductivity; /* W/(m K) */
    double viscosity;    /* kinematic, m2/s */
    double diffusivity;  /* m2/s */
    double prandtl;
} ks_gas_properties;

/* Air at one atmosphere: Incropera & DeWitt, table A.4, from memory, as powers of temperature. */
ks_gas_properties ks_air_at(double temp_c);

double ks_air_heat(double temp_c); /* J/(kg K) */

#define AIR_DENSITY_20C 1.204 /* kg/m3 */

double ks_rayleigh(const ks_gas_properties *air, double film_k, double difference_k,
                   double length_m);

/* Nusselt numbers of a plate: upright (Churchill & Chu), hot and facing up or down (McAdams). */
double ks_nusselt_upright(double rayleigh, double prandtl);
double ks_nusselt_facing_up(double rayleigh);
double ks_nusselt_facing_down(double rayleigh);

typedef enum { KS_UPRIGHT_FILM, KS_UP_FILM, KS_DOWN_FILM } ks_film_kind;

typedef struct {
    ks_film_kind kind;
    double length_m; /* height, or area / perimeter of a flat one */
    double emissivity;
    double room_c;
} ks_film;

/* W/m2 lost by a surface at this temperature; air's properties at the mean of surface and room. */
double ks_film_loss(const ks_film *film, double surface_c);
double ks_film_convection(const ks_film *film, double surface_c); /* the convective part */

#endif
