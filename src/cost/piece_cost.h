/* piece_cost.h: everything that went into one copy of a piece, and what it must then be sold for.
 */
#ifndef KILNSTOW_COST_PIECE_COST_H
#define KILNSTOW_COST_PIECE_COST_H

#include "kilnstow/cost.h"

/* Fills lines, total and prices of a copy whose share of the firing (`firing`) and losses are
 * known; `firing_how` says how it was found. */
void ks_piece_costed(const ks_plan *plan, const char *firing_how, ks_piece_cost *cost,
                     ks_arena *arena);

/* Glaze on one copy, at the studio's price. */
ks_fine ks_piece_glaze(const ks_order *order, const ks_piece *piece);

#endif
