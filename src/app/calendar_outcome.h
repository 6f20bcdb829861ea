/* calendar_outcome.h: what is asked of the studio's calendar, and what it then holds. */
#ifndef KILNSTOW_APP_CALENDAR_OUTCOME_H
#define KILNSTOW_APP_CALENDAR_OUTCOME_H

#include "app/fire_run.h"
#include "clock/occupation.h"
#include "clock/start.h"

typedef struct {
    int n_plans;
    const char *const *plan_paths;
    const char *out_path; /* .ics, .pdf, .svg or .png; NULL = not written */
    bool force;           /* replaces what stands there whatever it is */
    int load;             /* of each plan, -1 = all */
    const char *start;    /* of the only load: "2026-11-28 18:00"; NULL = as the order tells */
    const char *from;     /* first day proposed to loads without a date; NULL = tomorrow */
} ks_calendar_job;

typedef struct {
    const char *path;
    ks_plan *plan;
    const ks_fire_outcome *fired; /* with their cooling; NULL = they are fired for the calendar */
} ks_calendar_plan;

typedef struct {
    const ks_calendar_plan *of;
    int load; /* into its plan's loads */
    ks_start start;
    bool proposed; /* no date was told */
    bool clashes;
    ks_lengths lengths;
    ks_occupation at;
    bool is_planned;       /* its plan tells times for this start */
    ks_occupation planned; /* as the plan tells, for a full kiln: on, cone down, ended, open */
    const ks_firing_result *fired;
    const char *uid;
} ks_calendar_load;

/* Two loads of one kiln that cannot both be; places in the outcome's loads. */
typedef struct {
    int earlier, later;
    int64_t free_s; /* nearest start of the later one at which the kiln is free; KS_NO_TIME */
} ks_calendar_clash;

/* Copies of a dated piece in one load, or left out. */
typedef struct {
    const ks_calendar_plan *of;
    int piece;
    int load; /* into the outcome's loads, -1 = in none */
    int copies;
    int64_t due_s;   /* 18:00 on its day */
    int64_t opens_s; /* its load, simulated or as planned, whichever is later; KS_NO_TIME */
    bool late;
} ks_calendar_due;

typedef struct {
    const char *zone; /* POSIX rule, "" = not told */
    ks_zone_rule rule;
    ks_people people;
    int n_loads;
    ks_calendar_load *loads; /* by loading */
    int n_clashes;
    ks_calendar_clash *clashes;
    int n_dues;
    ks_calendar_due *dues;
    int n_notes;
    const char *notes[8]; /* what was taken for granted */
    int n_paths;
    const char **paths; /* written */
} ks_calendar_outcome;

#endif
