/* draw_run.h: from a plan's file to sheets on disk. */
#ifndef KILNSTOW_APP_DRAW_RUN_H
#define KILNSTOW_APP_DRAW_RUN_H

#include "app/more_sheets.h"

typedef struct {
    const char *plan_path;
    const char *out_path;  /* its ending chooses the format, .ics too; where several files are made,
                            * what sets them apart goes before the ending */
    const char *font_path; /* for scripts the built-in font lacks; NULL = none */
    ks_draw_options options;
    bool firing;          /* sheets that are simulated first, */
    ks_cost_sheets costs; /* and those that are costed besides */
    bool force;           /* replaces what stands there whatever it is */
    const char
        *start; /* of an .ics file's firing, on the studio's clock; NULL = as the order tells */
} ks_draw_job;

typedef struct {
    const ks_plan *plan;
    const char *plan_hash;
    ks_drawing drawing;
    const char **paths; /* drawing.n_files of them */
} ks_draw_outcome;

/* Writes every file or says which it could not. */
ks_status ks_draw_run(ks_draw_job *job, ks_arena *arena, ks_draw_outcome *out, ks_error *err);

/* The same for a plan at hand; job.plan_path is not looked at. */
ks_status ks_draw_plan(ks_plan *plan, ks_draw_job *job, ks_arena *arena, ks_draw_outcome *out,
                       ks_error *err);

#endif
