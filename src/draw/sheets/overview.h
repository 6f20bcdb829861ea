/* overview.h: parts of the overview sheet. */
#ifndef KILNSTOW_DRAW_SHEETS_OVERVIEW_H
#define KILNSTOW_DRAW_SHEETS_OVERVIEW_H

#include "draw/sheets/flow.h"

#define KS_OVERVIEW_ROW 5.4

/* The shelves and posts to have ready, in a column from x0 to x1; returns where it ends. */
double ks_overview_furniture(ks_flow *flow, double x0, double x1, double y);

/* The load from the side, between x0 and x1; returns where it ends. */
double ks_overview_side(ks_flow *flow, double x0, double x1, double y);

/* Words in a column: a heading, or a line with or without a box to tick; where the next begins. */
double ks_overview_title(ks_flow *flow, double x0, double x1, double y, const char *words);
double ks_overview_line(ks_flow *flow, bool tick, double x0, double x1, double y,
                        const char *words);

void ks_overview_cautions(ks_flow *flow);

#endif
