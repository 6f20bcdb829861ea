#include "kilnstow/book.h"

#include "book/entry.h"
#include "book/schema.h"
#include "base/file.h"
#include "base/opened.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/* A file of another kind is never touched; one that is to be made must have a place. */
static ks_status look_at_place(const char *path, ks_book_use use, ks_error *err)
{
    if (use == KS_BOOK_MAKE && ks_path_is_free(path))
        return ks_file_try(path, err);
    if (ks_path_is_free(path))
        return ks_fail(err, KS_SYSTEM,
                       "%s: there is no such record; the first \"kilnstow log add\" makes it, and "
                       "--book names another",
                       path);
    return KS_OK;
}

ks_status ks_book_open(const char *path, ks_book_use use, ks_book **out, ks_error *err)
{
    *out = NULL;
    ks_status status = ks_opened_look(path, use != KS_BOOK_LOOK, err);
    if (!status)
        status = look_at_place(path, use, err);
    if (status)
        return status;
    ks_book *book = calloc(1, sizeof *book);
    if (!book || !(book->path = strdup(path)))
        ks_no_memory();
    /* Also who only looks: what a killed writer has left half done is undone by the next one who
     * opens the file. Where the file may not be written SQLite opens it for reading by itself. */
    int flags = SQLITE_OPEN_READWRITE | (use == KS_BOOK_MAKE ? SQLITE_OPEN_CREATE : 0);
    int code = sqlite3_open_v2(path, &book->db, flags | SQLITE_OPEN_NOMUTEX, NULL);
    if (!book->db)
        ks_no_memory();
    sqlite3_busy_timeout(book->db, KS_BOOK_WAIT_MS);
    status = code == SQLITE_OK ? ks_book_schema(book, use != KS_BOOK_LOOK, err)
                               : ks_book_fail(book, code, err);
    if (status)
        ks_book_close(book);
    else
        *out = book;
    return status;
}

void ks_book_close(ks_book *book)
{
    if (!book)
        return;
    (void)sqlite3_close(book->db);
    free(book->path);
    free(book);
}

static ks_status write_entry(ks_book *book, const ks_book_table *table, ks_book_mark *mark,
                             const char *hash, const char *plan_text, ks_error *err)
{
    assert(mark->written);
    ks_book_mark before = *mark;
    ks_status status = ks_book_begin(book, err);
    if (status)
        return status;
    if (plan_text)
        status = ks_entry_keep_plan(book, hash, plan_text, err);
    if (!status)
        status = ks_entry_write(book, table, mark, false, err);
    status = ks_book_settle(book, status, err);
    if (status)
        *mark = before;
    return status;
}

ks_status ks_book_write_firing(ks_book *book, ks_book_firing *firing, const char *plan_text,
                               ks_error *err)
{
    return write_entry(book, &ks_book_table_firing, &firing->mark, firing->plan, plan_text, err);
}

ks_status ks_book_write_payment(ks_book *book, ks_book_payment *payment, ks_error *err)
{
    return write_entry(book, &ks_book_table_payment, &payment->mark, NULL, NULL, err);
}

ks_status ks_book_write_upkeep(ks_book *book, ks_book_upkeep *upkeep, ks_error *err)
{
    return write_entry(book, &ks_book_table_upkeep, &upkeep->mark, NULL, NULL, err);
}

ks_status ks_book_write_fate(ks_book *book, ks_book_fate *fate, ks_error *err)
{
    return write_entry(book, &ks_book_table_fate, &fate->mark, NULL, NULL, err);
}

ks_status ks_book_firings(ks_book *book, const ks_book_asked *asked, ks_arena *arena, int *n,
                          ks_book_firing **out, ks_error *err)
{
    ks_entries found;
    ks_status status = ks_entries_read(book, &ks_book_table_firing, asked, arena, &found, err);
    *n = found.n;
    *out = found.entries;
    return status ? status
                  : ks_entries_lists(book, &ks_book_table_firing, &found, asked->lists, arena, err);
}

ks_status ks_book_payments(ks_book *book, const ks_book_asked *asked, ks_arena *arena, int *n,
                           ks_book_payment **out, ks_error *err)
{
    ks_entries found;
    ks_status status = ks_entries_read(book, &ks_book_table_payment, asked, arena, &found, err);
    *n = found.n;
    *out = found.entries;
    return status;
}

ks_status ks_book_upkeeps(ks_book *book, const ks_book_asked *asked, ks_arena *arena, int *n,
                          ks_book_upkeep **out, ks_error *err)
{
    ks_entries found;
    ks_status status = ks_entries_read(book, &ks_book_table_upkeep, asked, arena, &found, err);
    *n = found.n;
    *out = found.entries;
    return status;
}

ks_status ks_book_fates(ks_book *book, const ks_book_asked *asked, ks_arena *arena, int *n,
                        ks_book_fate **out, ks_error *err)
{
    ks_entries found;
    ks_status status = ks_entries_read(book, &ks_book_table_fate, asked, arena, &found, err);
    *n = found.n;
    *out = found.entries;
    return status;
}

ks_status ks_book_plan(ks_book *book, const char *hash, ks_arena *arena, const char **text,
                       ks_error *err)
{
    sqlite3_stmt *statement = NULL;
    bool more = false;
    ks_status status =
        ks_book_prepare(book, "SELECT text FROM plan WHERE hash = ?1", &statement, err);
    if (!status) {
        sqlite3_bind_text(statement, 1, hash, -1, SQLITE_STATIC);
        status = ks_book_step(book, statement, &more, err);
    }
    if (!status && more)
        *text = ks_book_text(statement, 0, arena);
    sqlite3_finalize(statement);
    if (!status && !more)
        return ks_fail(err, KS_BAD_INPUT, "%s: has no plan %.8s", book->path, hash);
    return status;
}

ks_status ks_book_plan_read(ks_book *book, const char *hash, ks_arena *arena, ks_plan **out,
                            ks_error *err)
{
    const char *text;
    ks_status status = ks_book_plan(book, hash, arena, &text, err);
    return status ? status
                  : ks_plan_parse(ks_arena_print(arena, "plan %.8s of the record", hash), text,
                                  strlen(text), arena, out, err);
}
