/* more_sheets.h: sheets that come from simulation and costing: firing curves, costs, shares. */
#ifndef KILNSTOW_APP_MORE_SHEETS_H
#define KILNSTOW_APP_MORE_SHEETS_H

#include "app/cost_run.h"
#include "kilnstow/draw.h"

/* Fires every load and adds a chart of each to the options. */
ks_status ks_sheets_add_firing(ks_plan *plan, ks_draw_options *options, ks_arena *arena,
                               ks_error *err);

/* Fires every load and tells its overview the schedule and the times. */
ks_status ks_sheets_add_notes(ks_plan *plan, ks_draw_options *options, ks_arena *arena,
                              ks_error *err);

/* Costs the plan and adds its tables: pieces with their prices, and who owes what. */
ks_status ks_sheets_add_costs(ks_plan *plan, ks_draw_options *options, ks_arena *arena,
                              ks_error *err);

#endif
