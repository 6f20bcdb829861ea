/* batch.h: glaze by weight: what a kilogram of a recipe costs, and what a piece carries of it. */
#ifndef KILNSTOW_COST_BATCH_H
#define KILNSTOW_COST_BATCH_H

#include "kilnstow/cost.h"

/* Price of a kilogram of the dry glaze. Additions are per cent of the base, so 100 parts of base
 * with 5 % of a stain make 105. 0 for a glaze without a recipe. */
ks_fine ks_glaze_per_kg(const ks_order *order, const ks_glaze *glaze);

/* A line of the recipe as a part of the glaze as a whole, additions and all. */
double ks_recipe_part(const ks_glaze *glaze, int line);

#endif
