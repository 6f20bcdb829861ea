/* log_entry.h: what is told of a firing on the command line, as an entry of the record. */
#ifndef KILNSTOW_APP_RECORD_LOG_ENTRY_H
#define KILNSTOW_APP_RECORD_LOG_ENTRY_H

#include "kilnstow/learn.h"

/* Texts told by an option that may be given again. */
typedef struct {
    int n;
    const char *const *texts;
} ks_log_texts;

/* What was told; NULL, NAN and none = not told, in a mending: as it was. */
typedef struct {
    double kwh;
    const char *meter[2]; /* readings before and after */
    const char *unit;     /* of the meter: "kWh", "m3" or "kg" */
    const char *start, *end;
    ks_log_texts cones;           /* "3=6", "3 left:back=5.5+0.4" */
    ks_log_texts lost;            /* "mug: cracked", "mug x 2: cracked" */
    ks_log_texts again;           /* the same of what is to be fired again */
    const char *loaded;           /* what the page on a telephone tells; NULL = nothing */
    ks_log_texts not_in, also_in; /* "mug x 2 on 3": where the load was other than its plan */
    ks_log_texts photos;
    const char *curve_path; /* a recorder's table */
    double minutes;
    const char *note;
    const char *strike; /* why the entry counts no more */
} ks_log_told;

/* Notes on what was assumed, or looks wrong, in an arena. */
typedef struct {
    int n;
    const char *texts[8];
} ks_log_notes;

/* A new entry for a load of a plan, with its bill by the meter where it has one. KS_BAD_USAGE names
 * the option, what was found and what would be right. */
ks_status ks_log_entry_make(const ks_plan *plan, int load, const ks_log_told *told, ks_arena *arena,
                            ks_book_firing *out, ks_log_notes *notes, ks_error *err);

/* What is told put in place of what the entry had; it is billed anew. */
ks_status ks_log_entry_mend(const ks_plan *plan, const ks_log_told *told, ks_arena *arena,
                            ks_book_firing *entry, ks_log_notes *notes, ks_error *err);

#endif
