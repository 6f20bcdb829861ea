/* load_times.h: when a planned load is in its kiln, in a plan's file. */
#ifndef KILNSTOW_STUDIO_READING_LOAD_TIMES_H
#define KILNSTOW_STUDIO_READING_LOAD_TIMES_H

#include "kilnstow/plan.h"
#include "studio/reading/reading.h"
#include "studio/reading/writing.h"

/* A text like "2026-11-28 18:00" as minutes of the studio's clock since 1970; false, and noted,
 * where it is none. */
bool ks_clock_time_read(ks_reading *reading, const ks_json *node, int64_t *local_min);

/* `node` may be NULL: no times are told. */
void ks_load_times_read(ks_reading *reading, const ks_json *node, ks_load_times *times);

/* As the member "times", unless none are told. */
void ks_load_times_write(ks_json_out *out, const ks_load_times *times);

#endif
