/* target.h: where an output goes: tried before the work for it, and never put in place of a file
 * that was read, or of one of another kind. */
#ifndef KILNSTOW_APP_TARGET_H
#define KILNSTOW_APP_TARGET_H

#include "kilnstow/order.h"

#include <stdbool.h>

/* The files that a run has read, which its outputs spare. */
typedef struct {
    ks_arena *arena;
    int n, room;
    const char **paths;
} ks_inputs;

void ks_inputs_add(ks_inputs *inputs, const char *path);            /* NULL adds nothing */
void ks_inputs_add_order(ks_inputs *inputs, const ks_order *order); /* and its kilns and tables */

typedef enum {
    KS_TARGET_PLAN,
    KS_TARGET_PDF,
    KS_TARGET_SVG,
    KS_TARGET_PNG,
    KS_TARGET_HTML,
    KS_TARGET_CALENDAR,
    KS_TARGET_COSTS, /* a table of pieces */
    KS_TARGET_SUMS,  /* a table of shares or bills */
    KS_TARGET_CURVE_TABLE,
    KS_TARGET_CURVE,
    KS_TARGET_LOG,       /* all of a record */
    KS_TARGET_LOG_TABLE, /* a row for each of its firings */
    KS_TARGET_PROBLEM,   /* of choosing levels, for another solver */
} ks_target_kind;

/* The kind that a drawing's ending stands for. */
ks_target_kind ks_target_draw(const char *path);

/* Whether this path can be written, and may be: KS_SYSTEM when its folder is missing or refuses, or
 * no plain file can stand there; KS_BAD_USAGE when the file there is one of the inputs (by device
 * and inode, whatever it is called) or holds something of another kind, unless `force`. An empty
 * file may always be replaced. NULL and "-", standard output, are not looked at. */
ks_status ks_target_try(const char *path, ks_target_kind kind, const ks_inputs *inputs, bool force,
                        ks_error *err);

/* Writes under a name not taken yet what could not be written to `path`: beside it, in the current
 * folder or in that for temporary files. Returns where, NULL when nowhere. */
const char *ks_target_rescue(const char *path, const char *text, size_t length, ks_arena *arena);

#endif
