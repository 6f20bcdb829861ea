/* shelf_strength.h: what a shelf bears in the fire. */
#ifndef KILNSTOW_STUDIO_SHELF_STRENGTH_H
#define KILNSTOW_STUDIO_SHELF_STRENGTH_H

#include "kilnstow/plan.h"

/* How a shelf of a load bends on the posts that stand right under it, as ks_plate_bending has it; 0
 * = it lies on the floor. */
double ks_shelf_bending(const ks_load *load, int level, int shelf, ks_arena *arena);

/* Greatest stress on the underside of a shelf under a load spread over it, MPa; `mass_kg` includes
 * the shelf. */
double ks_shelf_stress_mpa(const ks_shelf_kind *shelf, double bending, double mass_kg);

/* What a shelf of this material should bear for long in this firing, MPa: creep decides long before
 * it breaks, so of its hot strength an oxide shelf bears a tenth, and a twentieth from cone 8;
 * silicon carbide, which hardly creeps, a fifth (common practice, no source). 0 = unknown. At a
 * tenth, 0.98 MPa, cordierite of the published creep of 0.5 % in 100 h at 1250 C (its test load 0.2
 * MPa, from memory) would sag by about a millimetre in an hour there, so that no more than this may
 * be laid on it. */
double ks_shelf_allowed_mpa(const char *material, const ks_firing *firing);

/* What may stand on it besides its own weight, kg: as its `safe_load` tells, or from the two above;
 * half the stress if its condition begins with "worn", "warped" or "chipped", nothing if with
 * "cracked" (common practice, no source). `strength` is how strong its material is, of what it is
 * thought to be. Infinity where nothing is known, and for a shelf that lies on the kiln's floor
 * (bending 0) and has no `safe_load`. */
double ks_shelf_bears_kg(const ks_shelf_kind *shelf, const ks_firing *firing, double bending,
                         double strength);

/* Hot strength is not known better than this, either way (common practice, no source). */
extern const double ks_shelf_doubt;

/* More than this no shelf carries in any plan: what it bears if its material is as strong as it is
 * thought to be. The packer, the checker and the question whether a form fits go by this alone. */
double ks_shelf_limit_kg(const ks_shelf_kind *shelf, const ks_firing *firing, double bending);

#endif
