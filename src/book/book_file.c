#include "book/book_file.h"

static ks_status damaged(const ks_book *book, ks_error *err)
{
    return ks_fail(err, KS_BAD_INPUT,
                   "%s: is damaged or no record of kilnstow: %s; if it is your record, \"kilnstow "
                   "log sound --book %s\" saves what can be read",
                   book->path, sqlite3_errmsg(book->db), book->path);
}

ks_status ks_book_fail(const ks_book *book, int code, ks_error *err)
{
    switch (code & 0xff) {
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_FORMAT:
        return damaged(book, err);
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return ks_fail(err, KS_SYSTEM,
                       "%s: another program is writing to it and has not ended in %d s; try again",
                       book->path, KS_BOOK_WAIT_MS / 1000);
    case SQLITE_FULL:
        return ks_fail(err, KS_SYSTEM, "%s: the disk is full; nothing was written", book->path);
    case SQLITE_READONLY:
        return ks_fail(err, KS_SYSTEM, "%s: must not be written to: %s; nothing was written",
                       book->path, sqlite3_errmsg(book->db));
    case SQLITE_NOMEM:
        ks_no_memory();
    default:
        return ks_fail(err, KS_SYSTEM, "%s: %s; nothing was written", book->path,
                       sqlite3_errmsg(book->db));
    }
}

ks_status ks_book_do(ks_book *book, const char *sql, ks_error *err)
{
    int code = sqlite3_exec(book->db, sql, NULL, NULL, NULL);
    return code == SQLITE_OK ? KS_OK : ks_book_fail(book, code, err);
}

ks_status ks_book_begin(ks_book *book, ks_error *err)
{
    return ks_book_do(book, "BEGIN IMMEDIATE", err);
}

ks_status ks_book_settle(ks_book *book, ks_status status, ks_error *err)
{
    if (!status)
        status = ks_book_do(book, "COMMIT", err);
    if (status && !sqlite3_get_autocommit(book->db))
        (void)sqlite3_exec(book->db, "ROLLBACK", NULL, NULL, NULL);
    return status;
}

ks_status ks_book_prepare(ks_book *book, const char *sql, sqlite3_stmt **out, ks_error *err)
{
    int code = sqlite3_prepare_v2(book->db, sql, -1, out, NULL);
    return code == SQLITE_OK ? KS_OK : ks_book_fail(book, code, err);
}

ks_status ks_book_step(const ks_book *book, sqlite3_stmt *statement, bool *more, ks_error *err)
{
    int code = sqlite3_step(statement);
    *more = code == SQLITE_ROW;
    return code == SQLITE_ROW || code == SQLITE_DONE ? KS_OK : ks_book_fail(book, code, err);
}

const char *ks_book_text(sqlite3_stmt *statement, int column, ks_arena *arena)
{
    const unsigned char *text = sqlite3_column_text(statement, column);
    if (!text)
        return "";
    return ks_arena_text_n(arena, (const char *)text,
                           (size_t)sqlite3_column_bytes(statement, column));
}
