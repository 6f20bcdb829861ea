/* csv_out.h: writes a table for spreadsheets of any locale. */
#ifndef KILNSTOW_BASE_DATA_CSV_OUT_H
#define KILNSTOW_BASE_DATA_CSV_OUT_H

#include "base/text.h"

/* {.text.arena = a, .separator = ',', .decimal = '.'} is ready. */
typedef struct {
    ks_text text;
    char separator, decimal;
    bool begun; /* the row has a cell */
} ks_csv_out;

/* Quoted always: ids may hold commas, quotes and line breaks. What a spreadsheet would take for a
 * formula has an apostrophe before it. */
void ks_csv_quoted(ks_csv_out *out, const char *cell);

/* As it is, but for the decimal point: a number, a heading, "" for an empty cell. */
void ks_csv_plain(ks_csv_out *out, const char *cell);

/* "load", "what": a cell for each; `headings` ends in NULL. */
void ks_csv_heads(ks_csv_out *out, const char *const *headings);

void ks_csv_end_row(ks_csv_out *out);

#endif
