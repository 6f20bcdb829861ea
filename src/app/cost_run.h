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
    ks_fire_outcome fire;    /* each load fired as planned, without ranges */
    ks_cost_options options; /* as the job's, its rule found */
    ks_costing costing;
} ks_cost_outcome;

ks_status ks_cost_run(const ks_cost_job *job, ks_arena *arena, ks_cost_outcome *out, ks_error *err);

/* A glaze at several levels of one addition. */
enum { KS_ADDITIONS_MOST = 8 };
typedef struct {
    int glaze, line; /* into order.glazes, and its lines */
    int n;
    ks_addition_level levels[KS_ADDITIONS_MOST];
} ks_additions;

/* From "tin white=5,10" or "tin white:tin oxide=5,10"; KS_BAD_USAGE names the slip. */
ks_status ks_additions_read(const ks_order *order, const char *told, ks_arena *arena,
                            ks_additions *out, ks_error *err);

/* Dry grams of that glaze on a costed copy; 0 when it carries another. */
double ks_additions_on_piece_g(const ks_cost_outcome *outcome, const ks_additions *additions,
                               int place);

/* Comma-separated values, RFC 4180: load, level, id, copy, owner and amounts in major units. Cells
 * that a spreadsheet would take for a formula are led in by an apostrophe. */
const char *ks_cost_csv(const ks_cost_outcome *outcome, ks_arena *arena);

#endif
