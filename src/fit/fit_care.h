/* fit_care.h: what a heavy form asks of shelf and back; estimates, for caution. */
#ifndef KILNSTOW_FIT_FIT_CARE_H
#define KILNSTOW_FIT_FIT_CARE_H

#include "fit/fit_ask.h"

/* Recommended limit for lifting with hands `reach_mm` in front of the ankles and `hands_mm` above
 * the ground, from the kiln's own height to it, twisting none: T. R. Waters, V. Putz-Anderson, A.
 * Garg, L. J. Fine, Revised NIOSH equation for the design and evaluation of manual lifting tasks,
 * Ergonomics 36 (1993). 0 where the equation allows no lift (reach beyond 635 mm). */
double ks_lifting_limit_kg(double reach_mm, double hands_mm, double lifted_by_mm);

/* Greatest bending stress of a shelf under a load spread over it, MPa: a disc of radius a simply
 * held at its rim has 3 (3 + nu) / 8 q a^2 / h^2, nu = 0.2; on three posts twice that; a rectangle
 * is taken as a strip 0.8 of its length between supports, 0.75 q L^2 / h^2 (W. C. Young and R. G.
 * Budynas, Roark's Formulas for Stress and Strain, from memory). `mass_kg` includes the shelf. */
double ks_shelf_stress_mpa(const ks_shelf_kind *shelf, double mass_kg);

/* What a shelf of this material should bear for long at this cone, MPa: creep decides, so a tenth
 * of its hot strength at cone 6, a twentieth at cone 10 (common practice, no source). 0 = unknown.
 */
double ks_shelf_allowed_mpa(const char *material, const char *cone);

/* What one may stand on it besides its own weight: as told, or from the two above; 0 = unknown. */
double ks_shelf_bears_kg(const ks_shelf_kind *shelf, const char *cone);

void ks_fit_care_of(const ks_fit_question *q, const ks_fit_way *way, ks_fit_care *out);
void ks_fit_setting_of(const ks_fit_question *q, ks_fit_setting *out);

#endif
