/* limit.h: the most that one level can earn at given gains, proven. */
#ifndef KILNSTOW_PLACE_LIMIT_H
#define KILNSTOW_PLACE_LIMIT_H

#include "place/level.h"

/* What is true of every level of one bay and support, with posts or without. */
typedef struct {
    const ks_job *job;
    const ks_load_kind *kind;
    double room_mm2; /* area for grown cross-sections at the shelf */
    int n_rows;      /* other heights looked at */
    double at_mm[4], row_room_mm2[4];
    double *need_mm2; /* [good], at the shelf; infinity = does not fit at all */
    double *row_need_mm2[4];
    double *inner_mm; /* radius of a disc within each good's foot or body at the shelf */
    double reach_mm;  /* radius of a circle around where ware may be */
    double *table;    /* for each of job.heights_mm as the tallest ware */
} ks_limit;

/* `level` is any level of the bay and support. */
void ks_limit_init(ks_limit *limit, const ks_job *job, const ks_load_kind *kind,
                   const ks_stack_level *level, ks_arena *arena);

/* Works out the most a level can earn for each tallest ware, at these gains of one copy. */
void ks_limit_gain(ks_limit *limit, const double *gain, ks_arena *arena);

/* That for ware up to heights_mm[height]. */
double ks_limit_of(const ks_limit *limit, int height);

#endif
