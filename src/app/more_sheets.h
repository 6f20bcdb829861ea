/* more_sheets.h: sheets that come from simulation and costing: firing curves, costs, shares. */
#ifndef KILNSTOW_APP_MORE_SHEETS_H
#define KILNSTOW_APP_MORE_SHEETS_H

#include "app/cost_run.h"
#include "kilnstow/draw.h"

/* Fires the loads that the sheets tell of, once for all of them; `costs` needs every load. */
ks_status ks_sheets_fire(ks_plan *plan, const ks_draw_options *options, bool firing, bool costs,
                         ks_arena *arena, ks_fire_outcome *out, ks_error *err);

/* Adds a chart of each load to the options. */
void ks_sheets_add_firing(const ks_fire_outcome *fired, ks_draw_options *options, ks_arena *arena);

/* Tells each load's overview the schedule and the times; `fired` NULL: why there are none. */
ks_status ks_sheets_add_notes(ks_plan *plan, const ks_fire_outcome *fired, const ks_error *why,
                              ks_draw_options *options, ks_arena *arena, ks_error *err);

/* Costs the plan and adds its tables: pieces with their prices, and who owes what. */
typedef struct {
    bool tables; /* what pieces cost, who owes what */
    bool prices; /* the price list and its tags */
} ks_cost_sheets;
ks_status ks_sheets_add_costs(const ks_fire_outcome *fired, ks_cost_sheets wanted,
                              ks_draw_options *options, ks_arena *arena, ks_error *err);

#endif
