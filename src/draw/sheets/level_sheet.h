/* level_sheet.h: what the sheets of a level, whole and in larger parts, have in common. */
#ifndef KILNSTOW_DRAW_SHEETS_LEVEL_SHEET_H
#define KILNSTOW_DRAW_SHEETS_LEVEL_SHEET_H

#include "draw/sheets/flow.h"

/* Room round the chamber on paper. */
#define KS_LEVEL_AROUND 8.0 /* wall, left and right together */
#define KS_LEVEL_ABOVE 11.0 /* wall and the name of the back */
#define KS_LEVEL_BELOW 13.0 /* wall and FRONT */

/* More leaders than this on one drawing are a tangle: parts of it are drawn larger instead. */
enum { KS_MOST_LEADERS = 16 };

ks_heading ks_level_heading(ks_sheets *sheets, const ks_facts *facts, const ks_level_facts *level);
void ks_level_lost(ks_sheets *sheets, const ks_level_facts *level, int lost);

/* The list of a level's pieces; see level_list.c. */
bool ks_level_list(ks_scene *scene, const ks_facts *facts, const ks_level_facts *level, double y);
void ks_level_lists(ks_sheets *sheets, const ks_facts *facts, const bool *listed);

/* Parts of the level at the scale after 1:`under`, or the next one, until all numbers find a place.
 */
void ks_level_larger(ks_sheets *sheets, const ks_facts *facts, const ks_level_facts *level,
                     int under);

#endif
