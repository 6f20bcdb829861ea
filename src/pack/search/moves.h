/* moves.h: pieces in, out and for one another: moves drawn by chance, and made in the trial.
 */
#ifndef KILNSTOW_PACK_SEARCH_MOVES_H
#define KILNSTOW_PACK_SEARCH_MOVES_H

#include "pack/search/layout_search.h"

/* Bodies of a packing that go, kinds that come in their place. */
typedef struct {
    int n_out, out[2];
    int n_in, in[2];
    double gain, growth_mm2; /* of worth, and of what the pieces take from the level */
} ks_move;

/* What moves start from, and the least and the most they are to gain. */
typedef struct {
    const ks_packing *packing;
    const int *count; /* of each kind in it */
    double least_gain, most_gain;
} ks_moves_from;

/* Of some moves drawn by chance that gain as is asked, one that asks for least room; false when
 * none is found. */
bool ks_move_choose(ks_shelf_search *search, const ks_moves_from *from, ks_move *best);

/* Makes the move in the trial, which is a copy of the packing it was drawn for: what comes in
 * stands where what goes out stood, or where chance finds it least in the way. False when a limit
 * of mass or company forbids it. */
bool ks_move_make(ks_shelf_search *search, const ks_move *move);

/* What the move takes out of the packing stays out for some moves. */
void ks_move_barred(ks_shelf_search *search, const ks_packing *packing, const ks_move *move);

#endif
