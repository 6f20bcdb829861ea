/* one_load_fewer.h: what firing one load fewer would save, and what would wait for it. */
#ifndef KILNSTOW_APP_COSTS_ONE_LOAD_FEWER_H
#define KILNSTOW_APP_COSTS_ONE_LOAD_FEWER_H

#include "kilnstow/error.h"
#include "kilnstow/plan.h"

typedef struct {
    const ks_plan *plan; /* the one with a load fewer */
    double kwh, hours;   /* saved: from the meter, and of firing, all loads together */
    bool costed;         /* false = the order's prices do not tell what a firing costs */
    int64_t bill_minor;  /* saved */
} ks_load_saved;

/* Both plans fired and billed. A failure means that a load can't be simulated. */
ks_status ks_load_saved_find(const ks_plan *best, const ks_plan *fewer, ks_arena *arena,
                             ks_load_saved *out, ks_error *err);

#endif
