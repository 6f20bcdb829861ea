/* cost_run.h: from a plan's file to bills, prices and shares. */
#ifndef KILNSTOW_APP_COST_RUN_H
#define KILNSTOW_APP_COST_RUN_H

#include "app/fire_run.h"
#include "kilnstow/cost.h"

typedef struct {
    const char *plan_path;
    const char *csv_path; /* one row for each placed copy, NULL = not written */
    const char *rule;     /* a sharing rule's name, NULL = the order's */
    ks_cost_options options;
} ks_cost_job;

typedef struct {
    ks_plan *plan;
    ks_fire_outcome fire; /* each load fired as planned, without ranges */
    ks_costing costing;
} ks_cost_outcome;

ks_status ks_cost_run(const ks_cost_job *job, ks_arena *arena, ks_cost_outcome *out, ks_error *err);

/* Comma-separated values, RFC 4180: load, level, id, copy, owner and amounts in major units. Cells
 * that a spreadsheet would take for a formula are led in by an apostrophe. */
const char *ks_cost_csv(const ks_cost_outcome *outcome, ks_arena *arena);

#endif
