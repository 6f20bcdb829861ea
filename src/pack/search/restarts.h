/* restarts.h: where there is much to choose from, the search is led in lives: each begins with an
 * empty level, and of some that have lived as long the best goes on.
 *
 * Four lives make a heat; the winner lives on for twice as long and enters the next heat, where it
 * meets the winners of other heats. So most work goes into what has done well, none hangs on how
 * it happened to begin, and one that is ended early has a good answer at any time. */
#ifndef KILNSTOW_PACK_SEARCH_RESTARTS_H
#define KILNSTOW_PACK_SEARCH_RESTARTS_H

#include "pack/search/layout_search.h"

void ks_lives_init(ks_shelf_search *search, ks_arena *arena);

/* Begins the first life anew, with nothing yet. */
void ks_lives_forget(ks_shelf_search *search);

/* Takes notice of the layout that holds now. */
void ks_life_watched(ks_shelf_search *search);

/* Ends a life that is over and begins the next; returns how much work that has left. */
int64_t ks_lives_led(ks_shelf_search *search);

#endif
