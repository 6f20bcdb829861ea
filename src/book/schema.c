#include "book/schema.h"

#include "book/schema_steps.h"

/* "kiln" in ASCII: what `file` and SQLite know the record by. */
enum { APPLICATION_ID = 0x6b696c6e };

static ks_status ask_number(ks_book *book, const char *pragma, int *answer, ks_error *err)
{
    sqlite3_stmt *statement = NULL;
    bool more = false;
    *answer = 0;
    ks_status status = ks_book_prepare(book, pragma, &statement, err);
    if (!status)
        status = ks_book_step(book, statement, &more, err);
    if (!status && more)
        *answer = sqlite3_column_int(statement, 0);
    sqlite3_finalize(statement);
    return status;
}

static ks_status look(ks_book *book, int *version, ks_error *err)
{
    int id, tables;
    ks_status status = ask_number(book, "PRAGMA application_id", &id, err);
    if (!status)
        status = ask_number(book, "PRAGMA user_version", version, err);
    if (!status)
        status = ask_number(book, "SELECT count(*) FROM sqlite_schema", &tables, err);
    if (status)
        return status;
    if (id != APPLICATION_ID && (tables > 0 || *version > 0))
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: is an SQLite file, but no record of kilnstow; --book names another",
                       book->path);
    if (*version > KS_SCHEMA_TODAY)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: is a record of version %d; this program knows up to %d: use the newer "
                       "program that wrote it",
                       book->path, *version, KS_SCHEMA_TODAY);
    return KS_OK;
}

/* Again once it is ours alone: another program may have done it meanwhile. */
static ks_status bring_up(ks_book *book, ks_error *err)
{
    int version = 0;
    ks_status status = ks_book_begin(book, err);
    if (status)
        return status;
    status = look(book, &version, err);
    for (; version < KS_SCHEMA_TODAY && !status; version++)
        status = ks_book_do(book, ks_schema_steps[version], err);
    char pragma[64];
    (void)sqlite3_snprintf(sizeof pragma, pragma, "PRAGMA user_version = %d", KS_SCHEMA_TODAY);
    if (!status)
        status = ks_book_do(book, pragma, err);
    return ks_book_settle(book, status, err);
}

ks_status ks_book_schema(ks_book *book, bool may_write, ks_error *err)
{
    int version = 0;
    ks_status status = ks_book_do(book, "PRAGMA foreign_keys = ON", err);
    if (!status && may_write) /* what is said to be written is on disk */
        status = ks_book_do(book, "PRAGMA synchronous = FULL", err);
    if (!status)
        status = look(book, &version, err);
    if (status || version == KS_SCHEMA_TODAY)
        return status;
    if (version == 0 && !may_write)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: is an empty file; the first \"kilnstow log add\" makes a record of it",
                       book->path);
    if (sqlite3_db_readonly(book->db, "main"))
        return ks_fail(err, KS_SYSTEM,
                       "%s: is a record of an older version, and may not be written: give it write "
                       "permission once, to bring it to today's version",
                       book->path);
    return bring_up(book, err);
}
