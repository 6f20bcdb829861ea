/* cover.h: parts of the cover sheet. */
#ifndef KILNSTOW_DRAW_SHEETS_COVER_H
#define KILNSTOW_DRAW_SHEETS_COVER_H

#include "draw/sheets/flow.h"

#define KS_COVER_ROW 5.4

void ks_cover_furniture(ks_flow *flow); /* the shelves and posts to have ready */
void ks_cover_cautions(ks_flow *flow);

#endif
