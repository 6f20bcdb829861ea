/* start_advice.h: cheaper hours to switch a load on; advice only, no bill changes by asking. */
#ifndef KILNSTOW_APP_START_ADVICE_H
#define KILNSTOW_APP_START_ADVICE_H

#include "app/calendar_outcome.h"

enum { KS_STARTS_ADVISED = 3 };

/* Of one load, within a week of its own start: inside its kiln's free hours and the studio's
 * opening hours, and so that no dated ware gets late, or later. */
typedef struct {
    int load;        /* into plan.loads */
    int64_t told_s;  /* UTC */
    int n;           /* 0 = no such hour is cheaper */
    bool is_watched; /* someone may be there at the end of each */
    struct ks_cheaper_start {
        int64_t on_s;
        int64_t saves_minor;     /* > 0 */
    } starts[KS_STARTS_ADVISED]; /* the cheapest first, the earliest of equal ones only */
} ks_start_advice;

typedef struct {
    ks_zone_rule zone;
    int n;
    ks_start_advice *loads; /* electric ones whose price depends on the time */
} ks_start_advices;

/* `fired` has every load's firing as it was costed. */
ks_status ks_starts_advise(const char *path, ks_plan *plan, const ks_fire_outcome *fired,
                           ks_arena *arena, ks_start_advices *out, ks_error *err);

#endif
