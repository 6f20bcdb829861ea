/* bears.h: what a wall of clay bears while it is heated and cooled: water, steam, burning carbon,
 * and the stress of its own temperature differences. Plane walls; half_m is half the thickness
 * where both faces are free, and all of it where one is shut (a slab on its bed, a tile on its
 * shelf). */
#ifndef KILNSTOW_FIRE_PHYSICS_BEARS_H
#define KILNSTOW_FIRE_PHYSICS_BEARS_H

#include <stdbool.h>

/* A body in one of its states; strength as bars break, before the factor of safety. */
typedef struct {
    const char *name;
    double e_pa, strength_pa, expansion_k, poisson;
    double conductivity, density, heat;
    double quartz, cristobalite; /* free, by volume */
} ks_body_state;
extern const ks_body_state ks_raw_clay, ks_bisque, ks_vitrified;

#define BODY_SAFETY 3.0 /* on strength: pieces are weaker than bars */

/* Steady ramp: how far the middle (or the shut face) is behind the open face, K. */
double ks_ramp_lag_k(const ks_body_state *body, double half_m, double rate_k_h);

/* Largest tension, Pa: of the face while cooling, of the middle (half as much) while heating. */
double ks_ramp_tension_pa(const ks_body_state *body, double half_m, double rate_k_h, bool cooling,
                          double temp_c);

/* Expansion at this temperature with the quartz in it, 1/K. */
double ks_expansion_at(const ks_body_state *body, double temp_c);

/* The fastest change of temperature it bears there, K/h. */
double ks_bears_rate_k_h(const ks_body_state *body, double half_m, double temp_c, bool cooling);

/* The greatest difference from rim to centre of a flat foot that it bears there, K. */
double ks_bears_across_k(const ks_body_state *body, double temp_c);

/* How long a shelf of this thickness takes to follow, hours: by radiation from below, for what
 * stands on it covers it. */
double ks_shelf_lag_h(double shelf_m, double temp_c);

/* What is left, as a fraction, of what has to leave a wall by diffusion; fourier = D t / half^2. */
double ks_slab_left(double fourier);
double ks_slab_fourier(double left); /* the other way */

double ks_liquid_diffusivity(double temp_c);      /* of water in wet clay, m2/s */
double ks_hygroscopic_diffusivity(double temp_c); /* of the last 1 to 3 %, m2/s */

/* Hours at 40 C in damp air until a leather-hard wall has shrunk, its face never so much drier than
 * its middle that it tears. */
double ks_shrinking_h(double half_m);

/* The fastest rise at 150 C, K/h, with this mass of water (by dry mass) still to leave as steam. */
double ks_bears_steam_k_h(double half_m, double water);

/* Hours until carbon (by dry mass) has burnt out of a wall; oxygen as a fraction of the air around.
 */
double ks_burn_out_h(double half_m, double carbon, double oxygen, double temp_c);

#endif
