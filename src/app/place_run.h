/* place_run.h: from an order's file to a checked plan, and to the plan's file. */
#ifndef KILNSTOW_APP_PLACE_RUN_H
#define KILNSTOW_APP_PLACE_RUN_H

#include "app/child.h"
#include "app/costs/one_load_fewer.h"
#include "kilnstow/check.h"
#include "kilnstow/place.h"

#include <signal.h>

typedef struct {
    const char *order_path, *kiln_folder;
    const char *columns; /* of ware tables, as ks_order_read_columns takes them; NULL = none told */
    const char *plan_path; /* NULL = the plan is not written */
    const char *from_path; /* of an earlier plan to keep what it can of, NULL = none */
    const char *book_path; /* the studio's record, NULL = not asked */
    bool force;            /* replaces what stands at plan_path whatever it is */
    ks_place_options options;
    double seconds;                    /* infinity = until the rounds are used up */
    const volatile sig_atomic_t *stop; /* NULL = nobody interrupts */
    volatile sig_atomic_t *listens;    /* set when `stop` is looked at from now on; NULL = don't */
    void (*told)(const ks_progress *progress, double seconds, void *payload); /* may be NULL */
    void (*better)(const char *plan, size_t length, void *payload); /* each that passes our check;
                                                                     may be NULL */
    void *payload;
    double part_every_s; /* how often PLAN.part is kept; 0 = every 5 s */
    ks_child_work *work; /* that says its plans as place_child.h has it; NULL = planning */
} ks_place_job;

/* What a placing came to; the words are the contract's. */
typedef struct {
    ks_plan *plan;
    ks_check_report report;
    const char *status;         /* "proven", "best_found", "no_answer", "impossible" */
    int exit;                   /* 0, 1, 4, 5, 70 or 130 */
    const ks_load_saved *fewer; /* the plan with one load fewer, NULL = none is told */
    const char *written;        /* where the plan is, NULL = nowhere */
    int n_notes, room_notes;
    const char **notes; /* what did not go as it should, for the user */
    int stayed, stood;  /* with an earlier plan: pieces that stand where they stood, of how many */
    double free_worth;  /* were that plan's shelves not kept; NAN = they are not */
    double seconds;     /* it took; never part of the plan */
} ks_place_outcome;

/* Planning goes on in a process of its own; job.stop and job.seconds end it within a second, with
 * the best plan so far. Where that process dies the best that it handed up is written, with exit 4.
 */
ks_status ks_place_run(const ks_place_job *job, ks_arena *arena, ks_place_outcome *out,
                       ks_error *err);

#endif
