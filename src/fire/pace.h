/* pace.h: how fast a load may be fired, piece by piece. */
#ifndef KILNSTOW_FIRE_PACE_H
#define KILNSTOW_FIRE_PACE_H

#include "fire/physics/bears.h"

#include "kilnstow/fire.h"

/* What one piece asks of the schedule. */
typedef struct {
    int piece;        /* into order.pieces, -1 = ware known only in bulk */
    const char *name; /* for people */
    ks_stage stage;
    double wall_mm;   /* thickest wall; of raw ware nobody measured the thickest that is likely */
    bool wall_likely; /* it is only that */
    bool flat;        /* lies on its shelf: dries and warms from one side */
    bool wide;        /* a foot so wide that its rim and centre differ */
    double slab_mm;   /* its raw setter, 0 = none */
    bool wet_slab;    /* that setter is leather-hard */
} ks_need;

typedef struct {
    int n;
    ks_need *needs;
    const ks_firing *firing;
    const ks_display *display; /* for words */
    double water_kg;           /* free water in all of the ware */
    double air_m3_h;           /* through the chamber; 0 = not known */
    double shelf_mm;           /* thickest */
    int segments_most;         /* that the controller holds, 0 = any */
} ks_needs;

/* A wall of a piece, or the slab under it. */
typedef struct {
    const ks_need *need;
    const ks_body_state *body; /* as it enters */
    double mm, half_m;         /* half: of what bears.h says */
    bool is_raw, is_wet, is_slab;
} ks_wall;

enum { WALLS = 2 };
int ks_walls_of(const ks_need *need, ks_wall out[WALLS]);

/* "the 12 mm wall of jar", "the raw slab of 12 mm under form". */
const char *ks_wall_words(const ks_wall *wall, const ks_display *display, ks_arena *arena);

#define DRY_WATER 0.02 /* by mass, of a wall that is dry to the hand; 1 to 3 % */
#define LEATHER_WATER 0.15
#define BOUND_WATER 0.005    /* leaves only above boiling */
#define ORGANIC_CARBON 0.003 /* of dry raw clay; common practice, no source */

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
