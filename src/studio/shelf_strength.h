/* shelf_strength.h: what a shelf bears in the fire. */
#ifndef KILNSTOW_STUDIO_SHELF_STRENGTH_H
#define KILNSTOW_STUDIO_SHELF_STRENGTH_H

#include "kilnstow/order.h"

/* Greatest bending stress of a shelf under a load spread over it, MPa: a disc of radius a simply
 * held at its rim has 3 (3 + nu) / 8 q a^2 / h^2, nu = 0.2; on three posts twice that; a rectangle
 * is taken as a strip 0.8 of its length between supports, 0.75 q L^2 / h^2 (W. C. Young and R. G.
 * Budynas, Roark's Formulas for Stress and Strain, from memory). `mass_kg` includes the shelf. */
double ks_shelf_stress_mpa(const ks_shelf_kind *shelf, double mass_kg);

/* What a shelf of this material should bear for long in this firing, MPa: creep decides long before
 * it breaks, so of its hot strength an oxide shelf bears a tenth, and a twentieth from cone 8;
 * silicon carbide, which hardly creeps, a fifth (common practice, no source). 0 = unknown. */
double ks_shelf_allowed_mpa(const char *material, const ks_firing *firing);

/* What may stand on it besides its own weight, kg: as its `safe_load` tells, or from the two above;
 * half the stress if its condition begins with "worn", "warped" or "chipped", nothing if with
 * "cracked" (common practice, no source). `strength` is how strong its material is, of what it is
 * thought to be. Infinity where nothing is known. */
double ks_shelf_bears_kg(const ks_shelf_kind *shelf, const ks_firing *firing, double strength);

/* Hot strength is not known better than this, either way (common practice, no source). */
extern const double ks_shelf_doubt;

/* More than this no shelf carries in any plan: what it bears if its material is as strong as it may
 * be. A shelf that lies on the kiln's floor does not bend and has only the limit that is told. The
 * packer, the checker and the question whether a form fits go by this alone. */
double ks_shelf_limit_kg(const ks_shelf_kind *shelf, const ks_firing *firing, bool lies);

#endif
