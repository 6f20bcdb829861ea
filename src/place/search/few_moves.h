/* few_moves.h: what waits let into an earlier plan, while all but a few stay where they stand. */
#ifndef KILNSTOW_PLACE_SEARCH_FEW_MOVES_H
#define KILNSTOW_PLACE_SEARCH_FEW_MOVES_H

#include "place/search/rounds.h"

/* Piece by piece, by laying out anew the one level where most stays of what stood there; nothing
 * that is in goes out. */
void ks_let_in_by_few_moves(ks_run *run, ks_draft *draft, ks_arena *arena);

#endif
