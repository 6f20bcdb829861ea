/* strategies.h: the ways of looking for layouts, each in its own file. */
#ifndef KILNSTOW_PACK_SEARCH_STRATEGIES_H
#define KILNSTOW_PACK_SEARCH_STRATEGIES_H

#include "pack/search/layout_search.h"

/* Many pieces of one kind in tidy rows. */
bool ks_pack_rows_suits(const ks_shelf_search *search);
void ks_pack_rows(ks_shelf_search *search, int64_t work);

/* Pieces one after the other, worth for room first, where each stands free. */
bool ks_pack_fill_suits(const ks_shelf_search *search);
void ks_pack_fill(ks_shelf_search *search, int64_t work);

/* Pieces in, out and for one another, the others giving way. */
bool ks_pack_trade_suits(const ks_shelf_search *search);
void ks_pack_trade(ks_shelf_search *search, int64_t work);

/* Pieces worth more than the best layout, overlapping, in, out and about until they do not. */
bool ks_pack_crowd_suits(const ks_shelf_search *search);
void ks_pack_crowd(ks_shelf_search *search, int64_t work);

/* Rectangles in a rectangle, sides parallel. */
bool ks_pack_tiles_suits(const ks_shelf_search *search);
void ks_pack_tiles(ks_shelf_search *search, int64_t work);

/* Everything on offer at once, pressed in until nothing overlaps. */
bool ks_pack_press_suits(const ks_shelf_search *search);
void ks_pack_press(ks_shelf_search *search, int64_t work);

#endif
