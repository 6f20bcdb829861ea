/* Whether the record's file is whole, and what can be saved of one that is not. */
#include "book/entry.h"

#include "base/file.h"
#include "base/opened.h"
#include "base/text.h"

#include <stdlib.h>
#include <string.h>

static ks_status open_raw(const char *path, ks_book *out, ks_error *err)
{
    *out = (ks_book){.path = (char *)path};
    ks_status kept = ks_opened_look(path, true, err);
    if (kept)
        return kept;
    int code = sqlite3_open_v2(path, &out->db, SQLITE_OPEN_READWRITE, NULL);
    if (!out->db)
        ks_no_memory();
    return code == SQLITE_OK ? KS_OK : ks_book_fail(out, code, err);
}

/* The first of SQLite's complaints; "" when it has none. */
static const char *complaint(ks_book *book, ks_arena *arena)
{
    sqlite3_stmt *statement = NULL;
    const char *says = "";
    int code = sqlite3_prepare_v2(book->db, "PRAGMA integrity_check(1)", -1, &statement, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_step(statement);
    if (code == SQLITE_ROW)
        says = ks_book_text(statement, 0, arena);
    else
        says = ks_arena_text(arena, sqlite3_errmsg(book->db));
    sqlite3_finalize(statement);
    return strcmp(says, "ok") == 0 ? "" : says;
}

/* One statement that copies rows from `from` as long as they can be read, column by column. */
static int copy_rows(ks_book *from, ks_book *to, const char *read_sql, const char *write_sql,
                     int *lost)
{
    sqlite3_stmt *reading = NULL, *writing = NULL;
    int n = 0, code = sqlite3_prepare_v2(from->db, read_sql, -1, &reading, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_prepare_v2(to->db, write_sql, -1, &writing, NULL);
    while (code == SQLITE_OK || code == SQLITE_ROW) {
        code = sqlite3_step(reading);
        if (code != SQLITE_ROW)
            break;
        for (int i = 0; i < sqlite3_column_count(reading); i++)
            sqlite3_bind_value(writing, i + 1, sqlite3_column_value(reading, i));
        if (sqlite3_step(writing) == SQLITE_DONE)
            n++;
        else
            (*lost)++;
        sqlite3_reset(writing);
    }
    *lost += code != SQLITE_DONE;
    sqlite3_finalize(reading);
    sqlite3_finalize(writing);
    return n;
}

static int copy_table(ks_book *from, ks_book *to, const char *name, const char *columns, int *lost,
                      ks_arena *arena)
{
    ks_text marks = {.arena = arena};
    ks_text_add(&marks, "?");
    for (const char *c = columns; *c; c++)
        if (*c == ',')
            ks_text_add(&marks, ",?");
    ks_text read = {.arena = arena}, write = {.arena = arena};
    ks_text_add(&read, ks_joined("SELECT ", columns, ks_joined(" FROM ", name, "", arena), arena));
    ks_text_add(&write, ks_joined("INSERT OR IGNORE INTO ", name, " (", arena));
    ks_text_add(&write, ks_joined(columns, ") VALUES (", ks_text_end(&marks), arena));
    ks_text_add(&write, ")");
    return copy_rows(from, to, ks_text_end(&read), ks_text_end(&write), lost);
}

static const char *names_of(const char *first, int n, const ks_book_column *columns,
                            ks_arena *arena)
{
    ks_text names = {.arena = arena};
    ks_text_add(&names, first);
    for (int i = 0; i < n; i++)
        ks_text_add(&names, ks_joined(",", columns[i].name, "", arena));
    return ks_text_end(&names);
}

static int copy_entries(ks_book *from, ks_book *to, const ks_book_table *table, int *lost,
                        ks_arena *arena)
{
    int n = copy_table(from, to, table->name,
                       names_of("n,edition,written", table->n_columns, table->columns, arena), lost,
                       arena);
    for (int i = 0; i < table->n_lists; i++) {
        const ks_book_list *list = &table->lists[i];
        (void)copy_table(from, to, list->name,
                         names_of("n,edition,place", list->n_columns, list->columns, arena), lost,
                         arena);
    }
    return n;
}

/* What refers to a plan or an entry that is gone is kept all the same: it is told as lost nowhere
 * else. */
static ks_status save(ks_book *from, const char *to_path, ks_arena *arena, ks_book_health *out,
                      ks_error *err)
{
    ks_book *to;
    int copied[KS_BOOK_TABLES];
    ks_status status = ks_book_open(to_path, KS_BOOK_MAKE, &to, err);
    if (!status)
        status = ks_book_do(to, "PRAGMA foreign_keys = OFF", err);
    if (!status)
        status = ks_book_begin(to, err);
    if (!status) {
        (void)copy_table(from, to, "plan", "hash,text", &out->lost, arena);
        for (int i = 0; i < KS_BOOK_TABLES; i++)
            copied[i] = copy_entries(from, to, ks_book_tables[i], &out->lost, arena);
        out->firings = copied[0];
        out->payments = copied[1];
        status = ks_book_settle(to, KS_OK, err);
    }
    ks_book_close(to);
    out->saved_to = status ? NULL : to_path;
    return status;
}

static int count_rows(ks_book *book, const char *table, ks_arena *arena)
{
    sqlite3_stmt *statement = NULL;
    int n = 0;
    const char *sql = ks_joined("SELECT count(*) FROM ", table, "", arena);
    if (sqlite3_prepare_v2(book->db, sql, -1, &statement, NULL) == SQLITE_OK &&
        sqlite3_step(statement) == SQLITE_ROW)
        n = sqlite3_column_int(statement, 0);
    sqlite3_finalize(statement);
    return n;
}

ks_status ks_book_sound(const char *path, const char *saved_to, ks_arena *arena,
                        ks_book_health *out, ks_error *err)
{
    *out = (ks_book_health){.says = ""};
    if (ks_path_is_free(path))
        return ks_fail(err, KS_SYSTEM, "%s: there is no such record", path);
    if (saved_to && !ks_path_is_free(saved_to))
        return ks_fail(err, KS_BAD_USAGE,
                       "%s: is there already; what is saved never replaces a "
                       "file",
                       saved_to);
    ks_book book;
    ks_status status = open_raw(path, &book, err);
    if (!status) {
        out->says = complaint(&book, arena);
        if (*out->says && saved_to) {
            status = save(&book, saved_to, arena, out, err);
        } else if (!*out->says) {
            out->firings = count_rows(&book, ks_book_table_firing.name, arena);
            out->payments = count_rows(&book, ks_book_table_payment.name, arena);
        }
    }
    (void)sqlite3_close(book.db);
    return status;
}
