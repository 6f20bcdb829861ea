/* entry.h: editions of entries between memory and the record, whatever they are made of. */
#ifndef KILNSTOW_BOOK_ENTRY_H
#define KILNSTOW_BOOK_ENTRY_H

#include "book/book_file.h"
#include "book/tables.h"

/* Writes the entry as its next edition (a new one where mark.n is 0) and sets its mark; between
 * ks_book_begin and ks_book_settle. With `as_told` its mark is kept as it is. */
ks_status ks_entry_write(ks_book *book, const ks_book_table *table, void *entry, bool as_told,
                         ks_error *err);

/* An array of the table's entries: the last edition of each, or all of them. */
typedef struct {
    int n;
    void *entries;
} ks_entries;
ks_status ks_entries_read(ks_book *book, const ks_book_table *table, const ks_book_asked *asked,
                          ks_arena *arena, ks_entries *out, ks_error *err);

/* Those of the entries' lists that are asked for (KS_LIST_...); the others stay empty. Editions of
 * one entry stand together, by number. */
ks_status ks_entries_lists(ks_book *book, const ks_book_table *table, const ks_entries *entries,
                           int lists, ks_arena *arena, ks_error *err);

/* Keeps a plan's text once, whoever tells of it. */
ks_status ks_entry_keep_plan(ks_book *book, const char *hash, const char *text, ks_error *err);

#endif
