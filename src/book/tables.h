/* tables.h: what an entry of the record is made of: one list for SQL, JSON and mending. */
#ifndef KILNSTOW_BOOK_TABLES_H
#define KILNSTOW_BOOK_TABLES_H

#include "kilnstow/book.h"

#include <stddef.h>

typedef enum {
    KS_COLUMN_TEXT,   /* const char *, never NULL once read */
    KS_COLUMN_NUMBER, /* double, NAN = NULL in SQL */
    KS_COLUMN_WHOLE,  /* int */
    KS_COLUMN_MONEY   /* int64_t */
} ks_column_kind;

typedef struct {
    const char *name;
    ks_column_kind kind;
    size_t at;
    bool later; /* the first version had it not: then as if nobody had told it */
} ks_book_column;

/* A table whose rows are the elements of a list in an entry. */
typedef struct {
    const char *name;
    size_t size; /* of an element */
    int n_columns;
    const ks_book_column *columns;
    size_t n_at, items_at; /* an int and a pointer, in the entry */
    int asked_by;          /* its KS_LIST_... */
    bool later;            /* as of a column */
} ks_book_list;

/* A table whose rows are editions of entries; each begins with its ks_book_mark. */
typedef struct {
    const char *name;
    size_t size;
    int n_columns;
    const ks_book_column *columns;
    int n_lists;
    const ks_book_list *lists;
    const char *when; /* the column by which entries are ordered */
    bool later;       /* as of a column */
} ks_book_table;

extern const ks_book_table ks_book_table_firing, ks_book_table_payment, ks_book_table_upkeep,
    ks_book_table_fate;

/* All of them, for whoever treats them alike. */
enum { KS_BOOK_TABLES = 4 };
extern const ks_book_table *const ks_book_tables[KS_BOOK_TABLES];

#endif
