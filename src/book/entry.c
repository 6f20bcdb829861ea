#include "book/entry.h"

#include "base/text.h"

#include <limits.h>
#include <math.h>
#include <string.h>

static void *at(void *base, size_t offset)
{
    return (char *)base + offset;
}

/* "n,edition,written,plan,..." */
static void add_names(ks_text *sql, const char *first, int n, const ks_book_column *columns)
{
    ks_text_add(sql, first);
    for (int i = 0; i < n; i++) {
        ks_text_add(sql, ",");
        ks_text_add(sql, columns[i].name);
    }
}

static const char *insert_sql(const char *table, const char *first, int n_first, int n,
                              const ks_book_column *columns, ks_arena *arena)
{
    ks_text sql = {.arena = arena};
    ks_text_add(&sql, ks_joined("INSERT INTO ", table, " (", arena));
    add_names(&sql, first, n, columns);
    ks_text_add(&sql, ") VALUES (?");
    for (int i = 1; i < n_first + n; i++)
        ks_text_add(&sql, ",?");
    ks_text_add(&sql, ")");
    return ks_text_end(&sql);
}

static void bind_text(sqlite3_stmt *statement, int place, const char *text)
{
    sqlite3_bind_text(statement, place, text ? text : "", -1, SQLITE_TRANSIENT);
}

static void bind_columns(sqlite3_stmt *statement, int first, int n, const ks_book_column *columns,
                         const void *row)
{
    for (int i = 0; i < n; i++) {
        const void *value = (const char *)row + columns[i].at;
        int place = first + i;
        if (columns[i].kind == KS_COLUMN_TEXT)
            bind_text(statement, place, *(const char *const *)value);
        else if (columns[i].kind == KS_COLUMN_WHOLE)
            sqlite3_bind_int(statement, place, *(const int *)value);
        else if (columns[i].kind == KS_COLUMN_MONEY)
            sqlite3_bind_int64(statement, place, *(const int64_t *)value);
        else if (isnan(*(const double *)value))
            sqlite3_bind_null(statement, place);
        else
            sqlite3_bind_double(statement, place, *(const double *)value);
    }
}

static void take_columns(sqlite3_stmt *statement, int first, int n, const ks_book_column *columns,
                         ks_arena *arena, void *row)
{
    for (int i = 0; i < n; i++) {
        void *value = at(row, columns[i].at);
        int place = first + i;
        if (columns[i].kind == KS_COLUMN_TEXT)
            *(const char **)value = ks_book_text(statement, place, arena);
        else if (columns[i].kind == KS_COLUMN_WHOLE)
            *(int *)value = sqlite3_column_int(statement, place);
        else if (columns[i].kind == KS_COLUMN_MONEY)
            *(int64_t *)value = sqlite3_column_int64(statement, place);
        else
            *(double *)value = sqlite3_column_type(statement, place) == SQLITE_NULL
                                   ? NAN
                                   : sqlite3_column_double(statement, place);
    }
}

/* The number after the last, and the edition after the last of this entry. */
static ks_status next_mark(ks_book *book, const ks_book_table *table, ks_book_mark *mark,
                           ks_arena *arena, ks_error *err)
{
    const char *sql =
        mark->n == 0
            ? ks_joined("SELECT coalesce(max(n), 0) + 1, 1 FROM ", table->name, "", arena)
            : ks_joined("SELECT ?1, max(edition) + 1 FROM ", table->name, " WHERE n = ?1", arena);
    sqlite3_stmt *statement = NULL;
    bool more = false;
    ks_status status = ks_book_prepare(book, sql, &statement, err);
    if (!status && mark->n > 0)
        sqlite3_bind_int(statement, 1, mark->n);
    if (!status)
        status = ks_book_step(book, statement, &more, err);
    if (!status && more) {
        mark->n = sqlite3_column_int(statement, 0);
        mark->edition = sqlite3_column_int(statement, 1);
    }
    sqlite3_finalize(statement);
    if (!status && mark->edition == 0)
        return ks_fail(err, KS_BAD_USAGE, "%s: has no entry %d to mend", book->path, mark->n);
    return status;
}

static ks_status write_row(ks_book *book, const ks_book_table *table, const void *entry,
                           ks_arena *arena, ks_error *err)
{
    const ks_book_mark *mark = entry;
    const char *sql =
        insert_sql(table->name, "n,edition,written", 3, table->n_columns, table->columns, arena);
    sqlite3_stmt *statement = NULL;
    bool more;
    ks_status status = ks_book_prepare(book, sql, &statement, err);
    if (!status) {
        sqlite3_bind_int(statement, 1, mark->n);
        sqlite3_bind_int(statement, 2, mark->edition);
        bind_text(statement, 3, mark->written);
        bind_columns(statement, 4, table->n_columns, table->columns, entry);
        status = ks_book_step(book, statement, &more, err);
    }
    sqlite3_finalize(statement);
    return status;
}

static ks_status write_list(ks_book *book, const ks_book_list *list, const void *entry,
                            ks_arena *arena, ks_error *err)
{
    const ks_book_mark *mark = entry;
    int n = *(const int *)((const char *)entry + list->n_at);
    const char *items = *(char *const *)((const char *)entry + list->items_at);
    const char *sql =
        insert_sql(list->name, "n,edition,place", 3, list->n_columns, list->columns, arena);
    sqlite3_stmt *statement = NULL;
    bool more;
    ks_status status = n > 0 ? ks_book_prepare(book, sql, &statement, err) : KS_OK;
    for (int i = 0; i < n && !status; i++) {
        sqlite3_bind_int(statement, 1, mark->n);
        sqlite3_bind_int(statement, 2, mark->edition);
        sqlite3_bind_int(statement, 3, i + 1);
        bind_columns(statement, 4, list->n_columns, list->columns, items + (size_t)i * list->size);
        status = ks_book_step(book, statement, &more, err);
        sqlite3_reset(statement);
    }
    sqlite3_finalize(statement);
    return status;
}

ks_status ks_entry_write(ks_book *book, const ks_book_table *table, void *entry, bool as_told,
                         ks_error *err)
{
    ks_arena arena = {0};
    ks_status status = as_told ? KS_OK : next_mark(book, table, entry, &arena, err);
    if (!status)
        status = write_row(book, table, entry, &arena, err);
    for (int i = 0; i < table->n_lists && !status; i++)
        status = write_list(book, &table->lists[i], entry, &arena, err);
    ks_arena_finish(&arena);
    return status;
}

static bool has_column(const ks_book_table *table, const char *name)
{
    for (int i = 0; i < table->n_columns; i++)
        if (strcmp(table->columns[i].name, name) == 0)
            return true;
    return false;
}

/* A condition and the text or number it compares with. */
typedef struct {
    ks_text sql;
    int n;
    const char *texts[16]; /* NULL = a number */
    int numbers[16];
} question;

static void ask_text(question *q, const char *condition, const char *text)
{
    if (!text)
        return;
    ks_text_add(&q->sql, condition);
    q->texts[q->n++] = text;
}

static void ask_number(question *q, const char *condition, int number)
{
    if (number == 0)
        return;
    ks_text_add(&q->sql, condition);
    q->numbers[q->n++] = number;
}

static void ask(question *q, const ks_book_table *table, const ks_book_asked *asked)
{
    ks_arena *arena = q->sql.arena;
    ks_text_add(&q->sql, "SELECT n,edition,written");
    add_names(&q->sql, "", table->n_columns, table->columns);
    ks_text_add(&q->sql, ks_joined(" FROM ", table->name, " AS t WHERE 1", arena));
    if (!asked->editions)
        ks_text_add(&q->sql, ks_joined(" AND edition = (SELECT max(edition) FROM ", table->name,
                                       " WHERE n = t.n)", arena));
    if (!asked->struck)
        ks_text_add(&q->sql, " AND struck = ''");
    if (has_column(table, "kiln"))
        ask_text(q, " AND kiln = ?", asked->kiln);
    if (has_column(table, "plan"))
        ask_text(q, " AND plan = ?", asked->plan);
    if (has_column(table, "member"))
        ask_text(q, " AND member = ?", asked->member);
    if (has_column(table, "load"))
        ask_number(q, " AND load = ?", asked->load);
    ask_number(q, " AND n = ?", asked->n);
    ask_number(q, " AND edition = ?", asked->edition);
    ask_text(q, " AND written = ?", asked->written);
    ask_text(q, ks_joined(" AND ", table->when, " >= ?", arena), asked->from);
    if (asked->to) /* to the end of that day */
        ask_text(q, ks_joined(" AND ", table->when, " < ?", arena),
                 ks_joined(asked->to, " ", "24", arena));
    ks_text_add(&q->sql, asked->editions ? " ORDER BY n, edition"
                                         : ks_joined(" ORDER BY ", table->when, ", n", arena));
}

static ks_status read_rows(ks_book *book, const ks_book_table *table, sqlite3_stmt *statement,
                           ks_arena *arena, ks_entries *out, ks_error *err)
{
    int room = 0;
    bool more;
    for (;;) {
        ks_status status = ks_book_step(book, statement, &more, err);
        if (status || !more)
            return status;
        out->entries = ks_arena_grow(arena, out->entries, out->n, &room, table->size);
        void *entry = at(out->entries, (size_t)out->n++ * table->size);
        memset(entry, 0, table->size);
        *(ks_book_mark *)entry =
            (ks_book_mark){sqlite3_column_int(statement, 0), sqlite3_column_int(statement, 1),
                           ks_book_text(statement, 2, arena)};
        take_columns(statement, 3, table->n_columns, table->columns, arena, entry);
    }
}

ks_status ks_entries_read(ks_book *book, const ks_book_table *table, const ks_book_asked *asked,
                          ks_arena *arena, ks_entries *out, ks_error *err)
{
    question q = {.sql.arena = arena};
    sqlite3_stmt *statement = NULL;
    *out = (ks_entries){0};
    ask(&q, table, asked);
    ks_status status = ks_book_prepare(book, ks_text_end(&q.sql), &statement, err);
    for (int i = 0; i < q.n && !status; i++)
        if (q.texts[i])
            bind_text(statement, i + 1, q.texts[i]);
        else
            sqlite3_bind_int(statement, i + 1, q.numbers[i]);
    if (!status)
        status = read_rows(book, table, statement, arena, out, err);
    sqlite3_finalize(statement);
    return status;
}

/* Entries by number: where the first edition of each stands. */
typedef struct {
    const ks_book_table *table;
    const ks_entries *entries;
    int least, most;
    void **first; /* by n - least, NULL = not among them */
} by_number;

static by_number ordered(const ks_book_table *table, const ks_entries *entries, ks_arena *arena)
{
    by_number found = {table, entries, INT_MAX, 0, NULL};
    for (int i = 0; i < entries->n; i++) {
        const ks_book_mark *mark = at(entries->entries, (size_t)i * table->size);
        found.least = mark->n < found.least ? mark->n : found.least;
        found.most = mark->n > found.most ? mark->n : found.most;
    }
    if (entries->n == 0)
        return found;
    found.first = KS_TAKE(arena, found.most - found.least + 1, void *);
    for (int i = entries->n - 1; i >= 0; i--) {
        ks_book_mark *mark = at(entries->entries, (size_t)i * table->size);
        found.first[mark->n - found.least] = mark;
    }
    return found;
}

/* NULL where it is not among them. */
static void *edition_of(const by_number *of, int n, int edition)
{
    char *entry = of->first[n - of->least];
    const char *end = at(of->entries->entries, (size_t)of->entries->n * of->table->size);
    for (; entry && entry < end && ((ks_book_mark *)entry)->n == n; entry += of->table->size)
        if (((ks_book_mark *)entry)->edition == edition)
            return entry;
    return NULL;
}

/* The rows of one entry follow each other, so that one room serves all. */
static ks_status read_items(ks_book *book, const ks_book_list *list, sqlite3_stmt *statement,
                            const by_number *of, ks_arena *arena, ks_error *err)
{
    int room = 0;
    bool more;
    ks_status status;
    while (!(status = ks_book_step(book, statement, &more, err)) && more) {
        void *entry =
            edition_of(of, sqlite3_column_int(statement, 0), sqlite3_column_int(statement, 1));
        if (!entry)
            continue;
        int *n = at(entry, list->n_at);
        void **items = at(entry, list->items_at);
        room = *n == 0 ? 0 : room;
        *items = ks_arena_grow(arena, *items, *n, &room, list->size);
        void *item = at(*items, (size_t)(*n)++ * list->size);
        memset(item, 0, list->size);
        take_columns(statement, 2, list->n_columns, list->columns, arena, item);
    }
    return status;
}

/* One reading serves all entries. */
static ks_status read_list(ks_book *book, const ks_book_list *list, const by_number *of,
                           ks_arena *arena, ks_error *err)
{
    ks_text sql = {.arena = arena};
    ks_text_add(&sql, "SELECT n,edition");
    add_names(&sql, "", list->n_columns, list->columns);
    ks_text_add(&sql, ks_joined(" FROM ", list->name,
                                " WHERE n BETWEEN ?1 AND ?2 ORDER BY n, edition, place", arena));
    sqlite3_stmt *statement = NULL;
    ks_status status = ks_book_prepare(book, ks_text_end(&sql), &statement, err);
    if (!status) {
        sqlite3_bind_int(statement, 1, of->least);
        sqlite3_bind_int(statement, 2, of->most);
        status = read_items(book, list, statement, of, arena, err);
    }
    sqlite3_finalize(statement);
    return status;
}

ks_status ks_entries_lists(ks_book *book, const ks_book_table *table, const ks_entries *entries,
                           int lists, ks_arena *arena, ks_error *err)
{
    by_number of = ordered(table, entries, arena);
    ks_status status = KS_OK;
    for (int i = 0; i < table->n_lists && entries->n > 0 && !status; i++)
        if (lists & table->lists[i].asked_by)
            status = read_list(book, &table->lists[i], &of, arena, err);
    return status;
}

ks_status ks_entry_keep_plan(ks_book *book, const char *hash, const char *text, ks_error *err)
{
    sqlite3_stmt *statement = NULL;
    bool more;
    ks_status status = ks_book_prepare(
        book, "INSERT OR IGNORE INTO plan (hash, text) VALUES (?, ?)", &statement, err);
    if (!status) {
        bind_text(statement, 1, hash);
        bind_text(statement, 2, text);
        status = ks_book_step(book, statement, &more, err);
    }
    sqlite3_finalize(statement);
    return status;
}
