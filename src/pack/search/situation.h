/* situation.h: what kind of question a level is; which strategies suit it depends on that. */
#ifndef KILNSTOW_PACK_SEARCH_SITUATION_H
#define KILNSTOW_PACK_SEARCH_SITUATION_H

#include "pack/search/layout_search.h"

/* Whether it is rectangles in a rectangle, sides parallel. */
bool ks_is_tiling(const ks_shelf_search *search);

/* A kind's first way to stand that is square, upright or on its side; -1 = none. */
double ks_square_turn(const ks_item_type *kind, bool on_side);

/* Whether all that is on offer might go in together, by area, and does not yet. */
bool ks_may_all_fit(const ks_shelf_search *search);

/* Whether there is much to choose from, and chance has something to turn over. */
bool ks_has_choice(const ks_shelf_search *search);

#endif
