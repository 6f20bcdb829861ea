/* csv.h: a spreadsheet's table, read from the text that spreadsheets really write. */
#ifndef KILNSTOW_BASE_DATA_CSV_H
#define KILNSTOW_BASE_DATA_CSV_H

#include "kilnstow/arena.h"
#include "kilnstow/error.h"

#include <stdbool.h>

enum {
    KS_CSV_LARGEST = 8 * 1024 * 1024, /* bytes of a file */
    KS_CSV_WIDEST = 1000,             /* cells of a row */
    KS_CSV_LONGEST = 4 * 1024         /* bytes of a cell */
};

typedef struct {
    const char *text; /* UTF-8, ended by a NUL; blanks at both ends of an unquoted cell taken off */
    int line, column; /* where it starts, from 1; columns in characters */
} ks_csv_cell;

typedef struct {
    int line; /* of its first cell */
    int n;    /* cells; rows may be shorter or longer than the header */
    ks_csv_cell *cells;
    const char *raw; /* where it stands in the table's text, its line end with it */
    size_t raw_length;
} ks_csv_row;

typedef struct {
    const char *file;   /* as named in messages */
    const char *text;   /* all of it as UTF-8, without the mark of that */
    char separator;     /* ',' ';' or '\t', found from the first row, or as a line "sep=;" says */
    bool decimal_comma; /* so with ';' and tab: "11,5" is a number */
    ks_csv_row header;
    int n_rows;
    ks_csv_row *rows;    /* those with a cell that is not empty */
    const char *warning; /* "" or what was odd about it (an old code page) */
} ks_csv;

/* RFC 4180, and: byte order marks, UTF-16, `;` and tabs, a first line "sep=;", any line ends (kept
 * as they are within a cell), blank lines, and a bare `"` within an unquoted cell, which is an inch
 * mark. Bytes that are no UTF-8 are taken as
 * Windows-1252, with a warning. KS_BAD_INPUT for a quote never closed, text after a closed quote,
 * control characters, no header, or what is beyond the limits. */
ks_status ks_csv_read(const char *path, ks_arena *arena, ks_csv *out, ks_error *err);
ks_status ks_csv_parse(const char *name, const char *bytes, size_t length, ks_arena *arena,
                       ks_csv *out, ks_error *err);

/* The same where lines may stand above the header or there is none: by this separator, and every
 * row is among the rows, out->header is empty. */
ks_status ks_csv_parse_rows(const char *name, const char *bytes, size_t length, char separator,
                            ks_arena *arena, ks_csv *out, ks_error *err);

#endif
