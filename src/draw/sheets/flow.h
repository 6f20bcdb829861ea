/* flow.h: a sheet filled from above; what no longer fits goes on to a further sheet. */
#ifndef KILNSTOW_DRAW_SHEETS_FLOW_H
#define KILNSTOW_DRAW_SHEETS_FLOW_H

#include "draw/sheets/sheets.h"

typedef struct {
    ks_sheets *sheets;
    const ks_facts *facts;
    ks_heading heading;
    ks_frame frame;
    int page;
    ks_scene *scene;
    double y; /* where the next thing begins */
} ks_flow;

ks_flow ks_flow_begin(ks_sheets *sheets, const ks_facts *facts, ks_heading heading);
ks_flow ks_flow_begin_framed(ks_sheets *sheets, const ks_facts *facts, ks_heading heading,
                             ks_frame frame);
double ks_flow_bottom(const ks_flow *flow);

/* Sees to it that `height_mm` are left on the sheet. */
void ks_flow_need(ks_flow *flow, double height_mm);

/* A heading within the sheet, kept with at least `below_mm` of what follows. */
void ks_flow_title(ks_flow *flow, const char *words, double below_mm);

/* A paragraph; `indent_mm` from the left edge. */
void ks_flow_words(ks_flow *flow, ks_look look, double indent_mm, const char *words);

/* One row of cells, `pitch_mm` high, with a hairline under it. */
void ks_flow_row(ks_flow *flow, const ks_column *columns, int n, const char *const *cells,
                 double pitch_mm);

#endif
