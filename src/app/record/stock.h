/* stock.h: what is left of a kiln's furniture, and how old its parts are, by the record. */
#ifndef KILNSTOW_APP_RECORD_STOCK_H
#define KILNSTOW_APP_RECORD_STOCK_H

#include "kilnstow/book.h"

/* A kind of shelf or post. */
typedef struct {
    const char *item;
    int listed; /* in the kiln's file */
    int broken, bought;
    int left; /* listed - broken + bought, never below 0 */
} ks_stock_line;

/* Elements, thermocouple, wash of the shelves. */
typedef struct {
    const char *part, *since; /* since "" = no renewal is told: by all firings of the record */
    int firings;
} ks_part_age;

enum { KS_PARTS = 3 };
typedef struct {
    const ks_kiln *kiln;
    const char *since; /* broken and bought count from this day on, "" = all of the record */
    int n;
    ks_stock_line *lines;
    ks_part_age parts[KS_PARTS];
} ks_kiln_stock;

ks_status ks_kiln_stock_of(ks_book *book, const ks_kiln *kiln, ks_arena *arena, ks_kiln_stock *out,
                           ks_error *err);

/* The same of a kiln by its id or file, as a command names it. */
ks_status ks_stock_look(const char *book_path, const char *kiln, ks_arena *arena,
                        ks_kiln_stock *out, ks_error *err);

/* Takes from the kilns of an order what is broken by the record, and adds what was bought; words
 * say what was. */
ks_status ks_stock_count_out(const char *book_path, ks_order *order, ks_arena *arena, int *n_words,
                             const char ***words, ks_error *err);

/* An entry on a kiln's furniture or parts; KS_BAD_USAGE names what is not known. */
ks_status ks_upkeep_write(const char *book_path, const char *kiln, ks_book_upkeep *upkeep,
                          ks_arena *arena, ks_error *err);

#endif
