/* schema.h: the record's tables as SQLite keeps them, by version. */
#ifndef KILNSTOW_BOOK_SCHEMA_H
#define KILNSTOW_BOOK_SCHEMA_H

#include "book/book_file.h"

/* Asks the file what it is, and brings an older one to today's version, whoever opens it; an empty
 * one only where it may be written. */
ks_status ks_book_schema(ks_book *book, bool may_write, ks_error *err);

#endif
