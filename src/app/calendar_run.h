/* calendar_run.h: the firings of a plan as an iCalendar file. */
#ifndef KILNSTOW_APP_CALENDAR_RUN_H
#define KILNSTOW_APP_CALENDAR_RUN_H

#include "kilnstow/order.h"
#include "kilnstow/plan.h"

/* Text of the file: loading, firing and earliest opening of one load that starts at this minute of
 * the studio's clock ("2026-11-28 18:00"; NULL = on the load's own day, at the hour that the
 * order's costs tell, as in costing). KS_BAD_USAGE when neither tells one. */
ks_status ks_calendar_run(ks_plan *plan, int load, const char *start, ks_arena *arena,
                          const char **text, ks_error *err);

#endif
