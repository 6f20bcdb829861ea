/* pace.h: how fast a load may be fired, piece by piece. */
#ifndef KILNSTOW_FIRE_PACE_H
#define KILNSTOW_FIRE_PACE_H

#include "kilnstow/fire.h"

/* What one piece asks of the schedule. */
typedef struct {
    int piece;        /* into order.pieces, -1 = ware known only in bulk */
    const char *name; /* for people */
    ks_stage stage;
    double wall_mm; /* thickest wall */
    double slab_mm; /* its raw setter, 0 = none */
    bool wet_slab;  /* that setter is leather-hard */
} ks_need;

typedef struct {
    int n;
    ks_need *needs;
    const ks_firing *firing;
} ks_needs;

void ks_needs_of_load(const ks_plan *plan, int load, ks_arena *arena, ks_needs *out);
void ks_needs_of_bulk(const ks_bulk_load *bulk, ks_arena *arena, ks_needs *out);

/* Fails with KS_BAD_INPUT for a style that is not in ks_schedule_styles, or a cone not in the row.
 */
ks_status ks_schedule_for(const ks_needs *needs, const char *style, ks_arena *arena,
                          ks_worked_schedule *out, ks_error *err);

/* The needs without those of one piece. */
ks_needs ks_needs_without(const ks_needs *needs, int piece, ks_arena *arena);

double ks_schedule_top_c(const ks_schedule *schedule);
double ks_schedule_hours(const ks_schedule *schedule); /* as asked, from 20 C */

#endif
