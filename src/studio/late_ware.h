/* late_ware.h: which dated ware of a plan is not in time: the lid of its load can be opened by
 * 18:00 on the day that it is due, by the studio's clock. */
#ifndef KILNSTOW_STUDIO_LATE_WARE_H
#define KILNSTOW_STUDIO_LATE_WARE_H

#include "kilnstow/plan.h"

enum { KS_DUE_BY_MIN = 18 * 60 }; /* of its day */

/* Copies of a piece in a load that opens too late. */
typedef struct {
    int piece; /* into order.pieces */
    int load;  /* into plan.loads */
    int copies;
} ks_late_ware;

/* Whether what is in a load with these times is in time for that day; true where either is not
 * told. */
bool ks_is_in_time(const ks_load_times *times, int due_day);

/* By load, then in the order's order. Loads without times have none. */
int ks_late_ware_find(const ks_plan *plan, ks_arena *arena, ks_late_ware **out);

/* "3 x bowl, due by 2026-12-08 18:00, opens by 2026-12-09 05:00; in time if switched on by
 * 2026-12-05 21:00". */
const char *ks_late_ware_words(const ks_plan *plan, const ks_late_ware *late, ks_arena *arena);

#endif
