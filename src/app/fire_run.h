/* fire_run.h: from a plan's file to the firings of its loads, and their curves on disk. */
#ifndef KILNSTOW_APP_FIRE_RUN_H
#define KILNSTOW_APP_FIRE_RUN_H

#include "app/measured/measured.h"
#include "kilnstow/learn.h"

typedef struct {
    const char *plan_path;
    const char *schedule;       /* an id of the order, a style, or a file; NULL = each load's own */
    const char *materials_path; /* the user's own materials, NULL = those built in */
    const char *curve_path;     /* .csv, .json, .pdf, .svg or .png; NULL = not written */
    const char *book_path;      /* the studio's record, by which each kiln is tuned; NULL = none */
    const char *measured_path;  /* the recorder's own curve of one load, NULL = none */
    bool force;                 /* replaces what stands at curve_path whatever it is */
    int load;                   /* into plan.loads, -1 = all */
    /* Temperatures that replace those of the options, as "68 F" or, without a unit, in the order's;
     * NULL = as the options have them. */
    const char *room, *vent_off, *cool_from;
    ks_fire_options options;
} ks_fire_job;

typedef struct {
    ks_plan *plan;
    int n_loads;
    int *loads; /* into plan.loads */
    ks_firing_result *fired;
    ks_learnt *learnt;       /* of each load's kiln; NULL when no record was told */
    const char **curves;     /* files written, one for each load; NULL when none was asked for */
    ks_comparison *measured; /* of the one load, NULL when none was asked for */
} ks_fire_outcome;

ks_status ks_fire_run(const ks_fire_job *job, ks_arena *arena, ks_fire_outcome *out, ks_error *err);

/* The same for a plan already read: fires its loads, writes nothing. */
ks_status ks_fire_loads(const ks_fire_job *job, ks_plan *plan, ks_arena *arena,
                        ks_fire_outcome *out, ks_error *err);

bool ks_fire_all_reached(const ks_fire_outcome *outcome);
/* Whether no load rises or falls faster than its ware bears. */
bool ks_fire_all_borne(const ks_fire_outcome *outcome);

#endif
