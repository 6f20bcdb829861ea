/* run_job.h: what one firing is run from. */
#ifndef KILNSTOW_FIRE_RUN_JOB_H
#define KILNSTOW_FIRE_RUN_JOB_H

#include "fire/network_build.h"

#include "kilnstow/cone.h"

/* What a run is made from. `out` gets the curve, segments, levels, energy, hours and verdict data;
 * what concerns more than one run (range, pace, cautions) is left to others. */
typedef struct {
    ks_model_parts parts;
    const ks_schedule *schedule;
    const char **reasons;      /* one for each segment, NULL = none */
    int end_cone;              /* place in the row: ends when it is down; -1 = by temperature */
    int wanted_cone;           /* should be down in the end, -1 = none asked for */
    const ks_display *display; /* for words */
    bool by_hand;              /* no controller: its switches are turned, the schedule is a limit */
    int n_turns;               /* as told; 0 = found on the way */
    const ks_turn *turns;
    const bool *minded; /* by segment: switched off and on all along; NULL = none */
    bool reduces;       /* the firing's atmosphere */
    bool cooling;
    bool curve; /* keep points and levels */
} ks_run_job;

/* Short of air from where bodies and glazes take reduction up; common practice, no source. */
#define REDUCES_FROM_C 900.0
#define REDUCES_BY 0.08

#define OPEN_AT_C 60.0     /* 52-66 C by habit of those who unload */
#define PROPPED_AT_C 100.0 /* cristobalite is past, glaze long hard; common practice, no source */

#endif
