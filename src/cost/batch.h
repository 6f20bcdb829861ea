/* batch.h: glaze by weight: what a kilogram of a recipe costs, and what a piece carries of it. */
#ifndef KILNSTOW_COST_BATCH_H
#define KILNSTOW_COST_BATCH_H

#include "kilnstow/cost.h"

/* Price of a kilogram of the dry glaze. Additions are per cent of the base, so 100 parts of base
 * with 5 % of a stain make 105. 0 for a glaze without a recipe. */
ks_fine ks_glaze_per_kg(const ks_order *order, const ks_glaze *glaze);

/* Dry grams of a glaze on one copy of a piece: surface x coats x grams laid down. A piece that
 * carries several glazes carries them on equal parts of its surface. */
double ks_glaze_on_piece_g(const ks_glaze *glaze, const ks_piece *piece);

#endif
