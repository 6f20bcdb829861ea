/* A copy of the record with the files of its folder, as an archive of SQLite's own kind: a table
 * "sqlar" of names and bytes (sqlite.org/sqlar.html, none of them packed), which its shell lists
 * and takes out too. */
#include "book/book_file.h"

#include "base/file.h"
#include "base/opened.h"
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { PLAIN_FILE = 0100644 };

static ks_status add_file(ks_book *book, const ks_book_along *file, ks_error *err)
{
    sqlite3_stmt *statement = NULL;
    bool more;
    ks_status status =
        ks_book_prepare(book, "INSERT INTO sqlar VALUES (?1, ?2, ?3, ?4, ?5)", &statement, err);
    if (!status) {
        sqlite3_bind_text(statement, 1, file->name, -1, SQLITE_STATIC);
        sqlite3_bind_int(statement, 2, PLAIN_FILE);
        sqlite3_bind_int64(statement, 3, file->changed_s);
        sqlite3_bind_int64(statement, 4, (sqlite3_int64)file->length);
        sqlite3_bind_blob64(statement, 5, file->bytes, file->length, SQLITE_STATIC);
        status = ks_book_step(book, statement, &more, err);
    }
    sqlite3_finalize(statement);
    return status;
}

static ks_status add_all(ks_book *copy, int n, const ks_book_along *files, ks_error *err)
{
    ks_status status = ks_book_begin(copy, err);
    if (status)
        return status;
    status = ks_book_do(copy, "DROP TABLE IF EXISTS sqlar", err); /* of an earlier copy */
    if (!status && n > 0)
        status = ks_book_do(copy,
                            "CREATE TABLE sqlar(name TEXT PRIMARY KEY, mode INT, mtime INT, "
                            "sz INT, data BLOB)",
                            err);
    for (int i = 0; i < n && !status; i++)
        status = add_file(copy, &files[i], err);
    status = ks_book_settle(copy, status, err);
    return status ? status : ks_book_do(copy, "VACUUM", err);
}

static ks_status copy_record(ks_book *book, const char *path, ks_error *err)
{
    sqlite3_stmt *statement = NULL;
    bool more;
    ks_status status = ks_book_prepare(book, "VACUUM INTO ?1", &statement, err);
    if (!status) {
        sqlite3_bind_text(statement, 1, path, -1, SQLITE_STATIC);
        status = ks_book_step(book, statement, &more, err);
    }
    sqlite3_finalize(statement);
    return status;
}

static ks_status write_part(ks_book *book, const char *part, int n, const ks_book_along *files,
                            ks_error *err)
{
    ks_book *copy = NULL;
    ks_status status = copy_record(book, part, err);
    if (!status)
        status = ks_book_open(part, KS_BOOK_EDIT, &copy, err);
    if (!status)
        status = add_all(copy, n, files, err);
    ks_book_close(copy);
    return status;
}

ks_status ks_book_copy(ks_book *book, const char *path, int n, const ks_book_along *files,
                       ks_error *err)
{
    if (!ks_path_is_free(path))
        return ks_fail(err, KS_BAD_USAGE, "%s: is there already; a copy never replaces a file",
                       path);
    ks_arena scratch = {0};
    const char *part = ks_joined(path, ".part", "", &scratch);
    ks_status status = ks_opened_look(path, true, err);
    if (!status)
        status = ks_file_try(path, err);
    if (!status)
        (void)unlink(part); /* of a copy that was broken off */
    if (!status)
        status = write_part(book, part, n, files, err);
    if (!status && rename(part, path) != 0)
        status = ks_fail(err, KS_SYSTEM, "%s: the copy cannot be put there", path);
    if (status)
        (void)unlink(part);
    ks_arena_finish(&scratch);
    return status;
}

static bool has_files(ks_book *book, ks_error *err)
{
    sqlite3_stmt *statement = NULL;
    bool more = false;
    if (!ks_book_prepare(book, "SELECT 1 FROM sqlite_schema WHERE name = 'sqlar'", &statement, err))
        (void)ks_book_step(book, statement, &more, err);
    sqlite3_finalize(statement);
    return more;
}

static ks_status take_file(ks_book *book, sqlite3_stmt *statement, ks_arena *arena,
                           ks_book_along *out, ks_error *err)
{
    const char *bytes = sqlite3_column_blob(statement, 3);
    out->name = ks_book_text(statement, 0, arena);
    out->changed_s = sqlite3_column_int64(statement, 1);
    out->length = (size_t)sqlite3_column_bytes(statement, 3);
    if (sqlite3_column_int64(statement, 2) != (sqlite3_int64)out->length)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: its file %s is packed or cut short; log copy packs none: take it out "
                       "with SQLite's own shell",
                       book->path, out->name);
    out->bytes = ks_arena_text_n(arena, bytes ? bytes : "", out->length);
    return KS_OK;
}

ks_status ks_book_files(ks_book *book, ks_arena *arena, int *n, ks_book_along **files,
                        ks_error *err)
{
    sqlite3_stmt *statement = NULL;
    int room = 0;
    bool more = true;
    *n = 0;
    *files = NULL;
    if (!has_files(book, err))
        return KS_OK;
    ks_status status = ks_book_prepare(
        book, "SELECT name, mtime, sz, data FROM sqlar ORDER BY name", &statement, err);
    while (!status && !(status = ks_book_step(book, statement, &more, err)) && more) {
        *files = KS_GROW(arena, *files, *n, &room, ks_book_along);
        status = take_file(book, statement, arena, &(*files)[(*n)++], err);
    }
    sqlite3_finalize(statement);
    return status;
}
