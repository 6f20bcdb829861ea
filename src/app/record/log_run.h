/* log_run.h: the commands on the studio's record, each from its files to its answer. */
#ifndef KILNSTOW_APP_RECORD_LOG_RUN_H
#define KILNSTOW_APP_RECORD_LOG_RUN_H

#include "app/record/log_entry.h"
#include "studio/files/ware_table.h"

/* The record's file: `told`, or kilnstow.book in the current folder. */
const char *ks_book_path(const char *told);

typedef struct {
    const char *book_path; /* NULL = the usual one */
    const char *plan_path; /* of a new entry */
    int load;              /* into its loads, -1 = the only one */
    bool again;            /* the record may have an entry of this load already */
    int n;                 /* the entry to mend; 0 = a new one */
    const char *take_out;  /* the order whose tables of ware are lowered; NULL = none is */
    ks_log_told told;
} ks_log_job;

typedef struct {
    const char *book_path;
    ks_book_firing entry;
    ks_log_notes notes;
    ks_ware_lowered lowered; /* tables of ware */
    const char *statement;   /* how its bill is shared; "" = no bill */
} ks_log_outcome;

/* Now, in UTC, as entries tell when they were written. */
const char *ks_log_now(ks_arena *arena);

/* Of the record's last bill; KS_BAD_USAGE where there is none yet. */
ks_status ks_log_currency(ks_book *book, ks_arena *arena, const char **currency, int *digits,
                          ks_error *err);

/* Adds an entry, or mends one. */
ks_status ks_log_write(const ks_log_job *job, ks_arena *arena, ks_log_outcome *out, ks_error *err);

/* What is asked of the record, and its answer. */
typedef struct {
    const char *book_path;
    int n;
    ks_book_firing *firings;
} ks_log_listed;
ks_status ks_log_list(const char *book_path, const ks_book_asked *asked, ks_arena *arena,
                      ks_log_listed *out, ks_error *err);

/* A payment by its member's id or name; `amount` in the currency of the record's last bill. */
ks_status ks_log_pay(const char *book_path, const char *member, const char *amount, const char *day,
                     const char *note, ks_arena *arena, ks_book_payment *out, ks_error *err);

/* To a file: .json is all of the record, .csv one row for each firing as it now stands. */
ks_status ks_log_export(const char *book_path, const char *path, bool force, ks_arena *arena,
                        ks_error *err);
const char *ks_log_csv(int n, const ks_book_firing *firings, ks_arena *arena);

#endif
