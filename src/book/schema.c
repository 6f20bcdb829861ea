#include "book/schema.h"

/* "kiln" in ASCII: what `file` and SQLite know the record by. */
enum { APPLICATION_ID = 0x6b696c6e };

/* One step for each version; what a version has once brought is never changed here. A record is
 * never rewritten, so its rows refuse to change. */
static const char *const steps[] = {
    "PRAGMA application_id = 1802071150;"
    "CREATE TABLE plan (hash TEXT PRIMARY KEY, text TEXT NOT NULL);"
    "CREATE TABLE firing (n INTEGER NOT NULL, edition INTEGER NOT NULL, written TEXT NOT NULL,"
    " plan TEXT NOT NULL REFERENCES plan, load INTEGER NOT NULL, kiln TEXT NOT NULL,"
    " title TEXT NOT NULL, started TEXT NOT NULL, ended TEXT NOT NULL, kwh REAL, meter_from REAL,"
    " meter_to REAL, meter_unit TEXT NOT NULL, minutes REAL, currency TEXT NOT NULL,"
    " digits INTEGER NOT NULL, bill_minor INTEGER NOT NULL, note TEXT NOT NULL,"
    " struck TEXT NOT NULL, PRIMARY KEY (n, edition));"
    "CREATE TABLE payment (n INTEGER NOT NULL, edition INTEGER NOT NULL, written TEXT NOT NULL,"
    " day TEXT NOT NULL, member TEXT NOT NULL, currency TEXT NOT NULL, digits INTEGER NOT NULL,"
    " minor INTEGER NOT NULL, note TEXT NOT NULL, struck TEXT NOT NULL, PRIMARY KEY (n, edition));"
    "CREATE TABLE cone (n INTEGER NOT NULL, edition INTEGER NOT NULL, place INTEGER NOT NULL,"
    " level TEXT NOT NULL, side TEXT NOT NULL, cone TEXT NOT NULL,"
    " PRIMARY KEY (n, edition, place), FOREIGN KEY (n, edition) REFERENCES firing);"
    "CREATE TABLE loss (n INTEGER NOT NULL, edition INTEGER NOT NULL, place INTEGER NOT NULL,"
    " piece TEXT NOT NULL, copies INTEGER NOT NULL, why TEXT NOT NULL,"
    " PRIMARY KEY (n, edition, place), FOREIGN KEY (n, edition) REFERENCES firing);"
    "CREATE TABLE photo (n INTEGER NOT NULL, edition INTEGER NOT NULL, place INTEGER NOT NULL,"
    " file TEXT NOT NULL,"
    " PRIMARY KEY (n, edition, place), FOREIGN KEY (n, edition) REFERENCES firing);"
    "CREATE TABLE reading (n INTEGER NOT NULL, edition INTEGER NOT NULL, place INTEGER NOT NULL,"
    " curve TEXT NOT NULL, time_h REAL NOT NULL, temp_c REAL NOT NULL,"
    " PRIMARY KEY (n, edition, place), FOREIGN KEY (n, edition) REFERENCES firing);"
    "CREATE TABLE charge (n INTEGER NOT NULL, edition INTEGER NOT NULL, place INTEGER NOT NULL,"
    " member TEXT NOT NULL, name TEXT NOT NULL, pieces INTEGER NOT NULL, minor INTEGER NOT NULL,"
    " PRIMARY KEY (n, edition, place), FOREIGN KEY (n, edition) REFERENCES firing);"
    "CREATE TABLE waited (n INTEGER NOT NULL, edition INTEGER NOT NULL, place INTEGER NOT NULL,"
    " member TEXT NOT NULL, piece TEXT NOT NULL, name TEXT NOT NULL, why TEXT NOT NULL,"
    " copies INTEGER NOT NULL,"
    " PRIMARY KEY (n, edition, place), FOREIGN KEY (n, edition) REFERENCES firing);"
    "CREATE INDEX firing_started ON firing (started);"
    "CREATE INDEX firing_kiln ON firing (kiln);"
    "CREATE INDEX firing_written ON firing (written);"
    "CREATE INDEX payment_written ON payment (written);"
    "CREATE INDEX payment_day ON payment (day);"
    "CREATE TRIGGER firing_stays BEFORE UPDATE ON firing BEGIN"
    " SELECT RAISE(ABORT, 'an entry is never rewritten'); END;"
    "CREATE TRIGGER firing_is_kept BEFORE DELETE ON firing BEGIN"
    " SELECT RAISE(ABORT, 'an entry is never taken out'); END;"
    "CREATE TRIGGER payment_stays BEFORE UPDATE ON payment BEGIN"
    " SELECT RAISE(ABORT, 'an entry is never rewritten'); END;"
    "CREATE TRIGGER payment_is_kept BEFORE DELETE ON payment BEGIN"
    " SELECT RAISE(ABORT, 'an entry is never taken out'); END;",
};
enum { TODAY = sizeof steps / sizeof *steps };

static ks_status ask(ks_book *book, const char *pragma, int *answer, ks_error *err)
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
    ks_status status = ask(book, "PRAGMA application_id", &id, err);
    if (!status)
        status = ask(book, "PRAGMA user_version", version, err);
    if (!status)
        status = ask(book, "SELECT count(*) FROM sqlite_schema", &tables, err);
    if (status)
        return status;
    if (id != APPLICATION_ID && (tables > 0 || *version > 0))
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: is an SQLite file, but no record of kilnstow; --book names another",
                       book->path);
    if (*version > TODAY)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: is a record of version %d; this program knows up to %d: use the newer "
                       "program that wrote it",
                       book->path, *version, (int)TODAY);
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
    for (; version < TODAY && !status; version++)
        status = ks_book_do(book, steps[version], err);
    char pragma[64];
    (void)sqlite3_snprintf(sizeof pragma, pragma, "PRAGMA user_version = %d", (int)TODAY);
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
    if (status || version == TODAY)
        return status;
    if (!may_write)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: %s; \"kilnstow log add\" brings it to today's version", book->path,
                       version == 0 ? "is an empty file" : "is a record of an older version");
    return bring_up(book, err);
}
