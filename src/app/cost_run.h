/* cost_run.h: from a plan's file to bills, prices and shares, and what was asked besides. */
#ifndef KILNSTOW_APP_COST_RUN_H
#define KILNSTOW_APP_COST_RUN_H

#include "app/additions.h"
#include "app/costs/kilns_compared.h"
#include "app/fire_run.h"
#include "app/start_advice.h"

/* What a spreadsheet of some locale takes: "," and ".", or ";" and ",". */
typedef struct {
    char separator, decimal;
} ks_csv_style;

typedef enum { KS_TABLE_PIECES, KS_TABLE_SHARES, KS_TABLE_BILLS } ks_cost_table;

typedef struct {
    const char *plan_path;
    const char *csv_path; /* one row for each placed copy, NULL = not written */
    ks_cost_table table;  /* what csv_path is to hold */
    ks_csv_style csv;
    bool force;            /* replaces what stands there whatever it is */
    const char *book_path; /* the studio's record, by which each kiln is tuned; NULL = none */
    const char *rule;      /* a sharing rule's name, NULL = the order's */
    const char *explain;   /* a piece's id whose sum is asked for, NULL = none */
    const char *what_if;   /* a piece's id whose price after changes is asked for, NULL = none */
    const char *additions; /* "tin white=5,10" or "tin white:tin oxide=5,10", NULL = none */
    const char *statement; /* a member's id or name, "studio" or "all", NULL = none */
    const char *kilns; /* in which one load is to be compared, see ks_kilns_compare; NULL = none */
    const char *kiln_folder; /* where built-in kilns lie */
    int load;                /* which load, from 0 */
    bool best_start;         /* cheaper hours to start are asked for */
    ks_cost_options options;
} ks_cost_job;

typedef struct {
    ks_plan *plan;
    ks_fire_outcome fire;    /* each load fired as planned, without ranges */
    ks_cost_options options; /* as the job's, its rule and the record's losses found */
    ks_losses lost;          /* by the record; none without one */
    ks_costing costing;
    const ks_piece_cost *explained; /* its first copy, NULL = not asked for */
    int n_what_if;
    ks_what_if *what_if;
    const ks_additions *additions;     /* NULL = not asked for */
    const ks_kilns_compared *compared; /* NULL = not asked for */
    const ks_start_advices *starts;    /* NULL = not asked for */
    int n_statements;
    const char **statements;
} ks_cost_outcome;

/* KS_BAD_USAGE when an option names what the plan has not. */
ks_status ks_cost_run(const ks_cost_job *job, ks_arena *arena, ks_cost_outcome *out, ks_error *err);

/* Separated values (RFC 4180, but for the style's separator). A row for each piece: load, level,
 * id, copy, owner, name, litres of its box, its share of the energy, glaze, and amounts in major
 * units; one for each line of each share; one for each line of each bill. Cells that a spreadsheet
 * would take for a formula are led in by an apostrophe. */
const char *ks_cost_csv(const ks_cost_outcome *outcome, const ks_csv_style *style, ks_arena *arena);
const char *ks_shares_csv(const ks_cost_outcome *outcome, const ks_csv_style *style,
                          ks_arena *arena);
const char *ks_bills_csv(const ks_cost_outcome *outcome, const ks_csv_style *style,
                         ks_arena *arena);

#endif
