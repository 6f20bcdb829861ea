/* plan_file.h: what the readers and writers of pieces and of plans share. */
#ifndef KILNSTOW_STUDIO_FILES_PLAN_FILE_H
#define KILNSTOW_STUDIO_FILES_PLAN_FILE_H

#include "studio/reading/reading.h"
#include "studio/reading/writing.h"

#include "kilnstow/plan.h"

/* One block of a piece: `{"kind", "from", "to", "outline"}`. */
void ks_part_read(ks_reading *reading, const ks_json *node, void *part);
void ks_parts_write(ks_json_out *out, const char *key, int n, const ks_part *parts);

/* One load of a plan. */
void ks_load_read(ks_reading *reading, const ks_json *node, void *load);

/* A member that must be there; NULL after noting that it is not. */
const ks_json *ks_needed(ks_reading *reading, const ks_json *node, const char *key,
                         const char *remedy);

#endif
