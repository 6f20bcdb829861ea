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

/* A plan between two of our processes that have the same order: without it, and without what each
 * piece is made of. */
const char *ks_plan_brief(const ks_plan *plan, ks_arena *arena);
ks_status ks_plan_brief_parse(const char *text, const ks_order *order, ks_arena *arena,
                              ks_plan **out, ks_error *err);

/* The text of a plan as ks_plan_json() wrote it, with version, seed, rounds and what stopped it as
 * they are in `plan`, which may be brief. */
const char *ks_plan_retold(const ks_plan *plan, const char *text, ks_arena *arena);

/* A member that must be there; NULL after noting that it is not. */
const ks_json *ks_needed(ks_reading *reading, const ks_json *node, const char *key,
                         const char *remedy);

#endif
