/* book_file.h: the record's file as SQLite has it, and its failures in our words. */
#ifndef KILNSTOW_BOOK_BOOK_FILE_H
#define KILNSTOW_BOOK_BOOK_FILE_H

#include "kilnstow/book.h"

#include <sqlite3.h>

enum { KS_BOOK_WAIT_MS = 10000 }; /* for other writers */

struct ks_book {
    sqlite3 *db;
    char *path; /* its own */
};

/* What SQLite's last failure means to whoever keeps the record. */
ks_status ks_book_fail(const ks_book *book, int code, ks_error *err);

/* Runs SQL that has nothing to bind and answers nothing. */
ks_status ks_book_do(ks_book *book, const char *sql, ks_error *err);

/* Writes between the two are all on disk after the second with KS_OK, or all undone. Whoever begins
 * waits here for other writers. */
ks_status ks_book_begin(ks_book *book, ks_error *err);
ks_status ks_book_settle(ks_book *book, ks_status status, ks_error *err);

/* A statement ready for ks_book_bind_*; finished by the caller. */
ks_status ks_book_prepare(ks_book *book, const char *sql, sqlite3_stmt **out, ks_error *err);

/* One row more: *more; KS_OK at the end too. */
ks_status ks_book_step(const ks_book *book, sqlite3_stmt *statement, bool *more, ks_error *err);

/* A column of text, copied; "" for NULL. */
const char *ks_book_text(sqlite3_stmt *statement, int column, ks_arena *arena);

#endif
