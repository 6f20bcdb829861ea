/* The record as JSON and back: every edition, every plan, nothing lost. */
#include "book/entry.h"

#include "base/data/fields.h"
#include "base/data/json_out.h"
#include "base/hash.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char format[] = "kilnstow-book/1";
enum { CHUNK = 2000, LARGEST = 1 << 30 };

static void out_columns(ks_json_out *out, int n, const ks_book_column *columns, const void *row)
{
    for (int i = 0; i < n; i++) {
        const void *value = (const char *)row + columns[i].at;
        if (columns[i].kind == KS_COLUMN_TEXT)
            ks_out_text(out, columns[i].name, *(const char *const *)value);
        else if (columns[i].kind == KS_COLUMN_WHOLE)
            ks_out_whole(out, columns[i].name, *(const int *)value);
        else if (columns[i].kind == KS_COLUMN_MONEY)
            ks_out_whole(out, columns[i].name, *(const int64_t *)value);
        else
            ks_out_number(out, columns[i].name, *(const double *)value);
    }
}

static void out_list(ks_json_out *out, const ks_book_list *list, const void *entry)
{
    int n = *(const int *)((const char *)entry + list->n_at);
    const char *items = *(char *const *)((const char *)entry + list->items_at);
    ks_out_array(out, list->name);
    for (int i = 0; i < n; i++) {
        ks_out_object_flat(out, NULL);
        out_columns(out, list->n_columns, list->columns, items + (size_t)i * list->size);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static ks_status out_table(ks_json_out *out, ks_book *book, const ks_book_table *table,
                           ks_error *err)
{
    ks_entries found;
    ks_status status =
        ks_entries_read(book, table, &(ks_book_asked){.editions = true, .struck = true},
                        out->text.arena, &found, err);
    ks_out_array(out, table->name);
    if (!status)
        status = ks_entries_lists(book, table, &found, KS_LISTS_ALL, out->text.arena, err);
    for (int i = 0; i < found.n && !status; i++) {
        const void *entry = (char *)found.entries + (size_t)i * table->size;
        const ks_book_mark *mark = entry;
        ks_out_object(out, NULL);
        ks_out_whole(out, "n", mark->n);
        ks_out_whole(out, "edition", mark->edition);
        ks_out_text(out, "written", mark->written);
        out_columns(out, table->n_columns, table->columns, entry);
        for (int l = 0; l < table->n_lists; l++)
            out_list(out, &table->lists[l], entry);
        ks_out_end(out);
    }
    ks_out_end(out);
    return status;
}

/* A text in pieces that a JSON reader of ours takes; no character is cut. */
static void out_pieces(ks_json_out *out, const char *key, const char *text)
{
    ks_out_array(out, key);
    for (size_t left = strlen(text), n; left > 0; left -= n, text += n) {
        n = left < CHUNK ? left : CHUNK;
        while (n < left && ((unsigned char)text[n] & 0xc0) == 0x80)
            n--;
        ks_out_text(out, NULL, ks_arena_text_n(out->text.arena, text, n));
    }
    ks_out_end(out);
}

static ks_status out_plans(ks_json_out *out, ks_book *book, ks_error *err)
{
    sqlite3_stmt *statement = NULL;
    bool more = true;
    ks_status status =
        ks_book_prepare(book, "SELECT hash, text FROM plan ORDER BY hash", &statement, err);
    ks_out_array(out, "plan");
    while (!status && !(status = ks_book_step(book, statement, &more, err)) && more) {
        ks_out_object(out, NULL);
        ks_out_text(out, "hash", ks_book_text(statement, 0, out->text.arena));
        out_pieces(out, "text", ks_book_text(statement, 1, out->text.arena));
        ks_out_end(out);
    }
    ks_out_end(out);
    sqlite3_finalize(statement);
    return status;
}

ks_status ks_book_export(ks_book *book, ks_arena *arena, const char **json, ks_error *err)
{
    ks_json_out out = {.text.arena = arena};
    ks_status status = ks_book_do(book, "BEGIN", err); /* one moment's state */
    if (status)
        return status;
    ks_out_object(&out, NULL);
    ks_out_text(&out, "format", format);
    status = out_plans(&out, book, err);
    for (int i = 0; i < KS_BOOK_TABLES && !status; i++)
        status = out_table(&out, book, ks_book_tables[i], err);
    ks_out_end(&out);
    *json = ks_out_done(&out);
    return ks_book_settle(book, status, err);
}

/* An entry that the record has already, by the hash of what its first edition tells. */
typedef struct {
    char told[65];
    int n;
} known_entry;

/* What reading the other way needs. */
typedef struct {
    ks_book *book;
    ks_arena *arena;
    ks_error *err;
    int added;
    int n_known; /* of the table that is being read, as it was before, by `told` */
    known_entry *known;
} import;

static ks_status never_told(const ks_book_column *column, void *value)
{
    if (column->kind == KS_COLUMN_TEXT)
        *(const char **)value = "";
    else if (column->kind == KS_COLUMN_NUMBER)
        *(double *)value = NAN;
    return KS_OK; /* rows begin as zeros */
}

static ks_status one_column(const import *in, const ks_json *object, const ks_book_column *column,
                            void *row)
{
    const ks_json *node = ks_json_get(object, column->name);
    void *value = (char *)row + column->at;
    bool text = column->kind == KS_COLUMN_TEXT, number = column->kind == KS_COLUMN_NUMBER;
    if (!node && column->later)
        return never_told(column, value);
    if (!node)
        return ks_json_lacks(object, column->name, in->err, "every column of the record is told");
    if (text && node->kind == KS_JSON_TEXT)
        *(const char **)value = node->text;
    else if (number && node->kind == KS_JSON_NULL)
        *(double *)value = NAN;
    else if (text || node->kind != KS_JSON_NUMBER)
        return ks_json_fail(node, in->err, "must be a %s, not %s", text ? "text" : "number",
                            ks_json_found(node).words);
    else if (number)
        *(double *)value = node->number;
    else if (node->number != floor(node->number) || fabs(node->number) > 9e15 ||
             (column->kind == KS_COLUMN_WHOLE && fabs(node->number) > 2e9))
        return ks_json_fail(node, in->err, "must be a whole number, not %s",
                            ks_json_found(node).words);
    else if (column->kind == KS_COLUMN_WHOLE)
        *(int *)value = (int)node->number;
    else
        *(int64_t *)value = (int64_t)node->number;
    return KS_OK;
}

static ks_status all_columns(const import *in, const ks_json *object, int n,
                             const ks_book_column *columns, void *row)
{
    ks_status status = KS_OK;
    for (int i = 0; i < n && !status; i++)
        status = one_column(in, object, &columns[i], row);
    return status;
}

static ks_status array_of(const import *in, const ks_json *object, const char *key,
                          const ks_json **out)
{
    *out = ks_json_get(object, key);
    if (!*out)
        return ks_json_lacks(object, key, in->err, "it may be empty: []");
    return ks_array_check(*out, 0, 10000000, in->err);
}

static ks_status one_list(const import *in, const ks_json *object, const ks_book_list *list,
                          void *entry)
{
    const ks_json *array;
    if (list->later && !ks_json_get(object, list->name))
        return KS_OK;
    ks_status status = array_of(in, object, list->name, &array);
    if (status)
        return status;
    char *items = ks_arena_take(in->arena, (size_t)array->n, list->size);
    for (int i = 0; i < array->n && !status; i++)
        status = all_columns(in, &array->items[i], list->n_columns, list->columns,
                             items + (size_t)i * list->size);
    *(int *)((char *)entry + list->n_at) = array->n;
    *(char **)((char *)entry + list->items_at) = items;
    return status;
}

static ks_status read_mark(const import *in, const ks_json *object, ks_book_mark *mark)
{
    static const ks_book_column columns[] = {
        {"n", KS_COLUMN_WHOLE, offsetof(ks_book_mark, n), false},
        {"edition", KS_COLUMN_WHOLE, offsetof(ks_book_mark, edition), false},
        {"written", KS_COLUMN_TEXT, offsetof(ks_book_mark, written), false},
    };
    ks_status status = all_columns(in, object, 3, columns, mark);
    if (!status && (mark->n < 1 || mark->edition < 1))
        status = ks_json_fail(object, in->err, "entries and editions count from 1");
    return status;
}

/* The entry whose editions are being read: its number there, and here. */
typedef struct {
    int told, given;
} renumbered;

static const char *as_text(const ks_book_table *table, const void *entry, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_out_object(&out, NULL);
    ks_out_text(&out, "written", ((const ks_book_mark *)entry)->written);
    out_columns(&out, table->n_columns, table->columns, entry);
    for (int l = 0; l < table->n_lists; l++)
        out_list(&out, &table->lists[l], entry);
    ks_out_end(&out);
    return ks_out_done(&out);
}

static void hash_entry(const ks_book_table *table, const void *entry, char told[65])
{
    ks_arena scratch = {0};
    const char *text = as_text(table, entry, &scratch);
    ks_sha256(text, strlen(text), told);
    ks_arena_finish(&scratch);
}

static int by_told(const void *a, const void *b)
{
    return strcmp(((const known_entry *)a)->told, ((const known_entry *)b)->told);
}

/* Once for all entries of the table that are to come. */
static ks_status list_known(import *in, const ks_book_table *table)
{
    ks_entries found;
    const ks_book_asked first = {.edition = 1, .editions = true, .struck = true};
    ks_status status = ks_entries_read(in->book, table, &first, in->arena, &found, in->err);
    if (!status)
        status = ks_entries_lists(in->book, table, &found, KS_LISTS_ALL, in->arena, in->err);
    in->n_known = status ? 0 : found.n;
    in->known = KS_TAKE(in->arena, in->n_known, known_entry);
    for (int i = 0; i < in->n_known; i++) {
        const void *entry = (char *)found.entries + (size_t)i * table->size;
        hash_entry(table, entry, in->known[i].told);
        in->known[i].n = ((const ks_book_mark *)entry)->n;
    }
    if (in->n_known > 1)
        qsort(in->known, (size_t)in->n_known, sizeof *in->known, by_told);
    return status;
}

static const known_entry *find_known(const import *in, const ks_book_table *table,
                                     const void *entry)
{
    known_entry wanted;
    if (in->n_known == 0)
        return NULL;
    hash_entry(table, entry, wanted.told);
    return bsearch(&wanted, in->known, (size_t)in->n_known, sizeof wanted, by_told);
}

/* Of those asked for, the one that tells the same as `entry`, NULL if none; *n = how many. */
static ks_status find_same(const import *in, const ks_book_table *table, ks_book_asked asked,
                           const void *entry, int *n, const ks_book_mark **out)
{
    ks_entries found;
    asked.editions = asked.struck = true;
    ks_status status = ks_entries_read(in->book, table, &asked, in->arena, &found, in->err);
    if (!status)
        status = ks_entries_lists(in->book, table, &found, KS_LISTS_ALL, in->arena, in->err);
    const char *wanted = as_text(table, entry, in->arena);
    *n = found.n;
    *out = NULL;
    for (int i = 0; i < found.n && !status && !*out; i++) {
        const void *here = (char *)found.entries + (size_t)i * table->size;
        if (strcmp(as_text(table, here, in->arena), wanted) == 0)
            *out = here;
    }
    return status;
}

/* An entry is known again by what its first edition tells, not by its number. */
static ks_status first_edition(import *in, const ks_book_table *table, void *entry,
                               renumbered *last)
{
    ks_book_mark *mark = entry;
    const ks_book_mark *same;
    const known_entry *known = find_known(in, table, entry);
    int told = mark->n, n;
    if (known) {
        *last = (renumbered){told, known->n};
        return KS_OK;
    }
    ks_status status = find_same(in, table, (ks_book_asked){.n = told}, entry, &n, &same);
    bool free = n == 0;
    if (!free)
        mark->n = 0;
    if (!status)
        status = ks_entry_write(in->book, table, entry, free, in->err);
    *last = (renumbered){told, mark->n};
    in->added += !status;
    return status;
}

/* What was mended here and there after a copy was taken stands one after the other. */
static ks_status further_edition(import *in, const ks_book_table *table, void *entry,
                                 const renumbered *last)
{
    ks_book_mark *mark = entry;
    const ks_book_mark *same;
    int n;
    mark->n = last->given;
    ks_status status = find_same(in, table, (ks_book_asked){.n = mark->n, .written = mark->written},
                                 entry, &n, &same);
    if (status || same)
        return status;
    in->added++;
    return ks_entry_write(in->book, table, entry, false, in->err);
}

static ks_status one_entry(import *in, const ks_book_table *table, const ks_json *object,
                           renumbered *last)
{
    void *entry = ks_arena_take(in->arena, 1, table->size);
    ks_book_mark *mark = entry;
    ks_status status = read_mark(in, object, mark);
    if (!status)
        status = all_columns(in, object, table->n_columns, table->columns, entry);
    for (int l = 0; l < table->n_lists && !status; l++)
        status = one_list(in, object, &table->lists[l], entry);
    if (status)
        return status;
    if (mark->edition == 1)
        return first_edition(in, table, entry, last);
    if (last->told != mark->n)
        return ks_json_fail(object, in->err,
                            "edition %d of entry %d must stand after its first edition",
                            mark->edition, mark->n);
    return further_edition(in, table, entry, last);
}

static ks_status one_table(import *in, const ks_json *file, const ks_book_table *table)
{
    const ks_json *array;
    if (table->later && !ks_json_get(file, table->name))
        return KS_OK;
    ks_status status = array_of(in, file, table->name, &array);
    if (!status)
        status = list_known(in, table);
    renumbered last = {0, 0};
    for (int i = 0; !status && i < array->n; i++)
        status = one_entry(in, table, &array->items[i], &last);
    return status;
}

static ks_status one_plan(const import *in, const ks_json *object)
{
    const ks_json *hash = ks_json_get(object, "hash"), *pieces;
    ks_status status = array_of(in, object, "text", &pieces);
    ks_text text = {.arena = in->arena};
    if (!status && (!hash || hash->kind != KS_JSON_TEXT))
        return ks_json_lacks(object, "hash", in->err, "the plan's own");
    for (int i = 0; !status && i < pieces->n; i++)
        ks_text_add(&text, pieces->items[i].text ? pieces->items[i].text : "");
    return status ? status : ks_entry_keep_plan(in->book, hash->text, ks_text_end(&text), in->err);
}

ks_status ks_book_import(ks_book *book, const char *path, ks_arena *arena, int *added,
                         ks_error *err)
{
    const char *keys[2 + KS_BOOK_TABLES] = {"format", "plan"};
import in = {.book = book, .arena = arena, .err = err };
    const ks_json *file, *plans;
    for (int i = 0; i < KS_BOOK_TABLES; i++)
        keys[2 + i] = ks_book_tables[i]->name;
    ks_status status = ks_json_read_most(path, LARGEST, arena, &file, err);
    if (!status)
        status = ks_format_check(file, format, err);
    if (!status)
        status = ks_json_only(file, keys, 2 + KS_BOOK_TABLES, err);
    if (!status)
        status = array_of(&in, file, "plan", &plans);
    if (!status)
        status = ks_book_begin(book, err);
    if (status)
        return status;
    for (int i = 0; i < plans->n && !status; i++)
        status = one_plan(&in, &plans->items[i]);
    for (int i = 0; i < KS_BOOK_TABLES && !status; i++)
        status = one_table(&in, file, ks_book_tables[i]);
    status = ks_book_settle(book, status, err);
    *added = status ? 0 : in.added;
    return status;
}
