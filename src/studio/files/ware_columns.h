/* ware_columns.h: what the columns of a ware table may be called, and how their cells are read. */
#ifndef KILNSTOW_STUDIO_FILES_WARE_COLUMNS_H
#define KILNSTOW_STUDIO_FILES_WARE_COLUMNS_H

#include "base/data/csv.h"
#include "studio/reading/reading.h"

/* How a cell is understood. */
typedef enum {
    KS_CELL_TEXT,
    KS_CELL_NUMBER,
    KS_CELL_LENGTH,
    KS_CELL_MASS,
    KS_CELL_HANDLE,
    KS_CELL_PROFILE,
    KS_CELL_LIST,
    KS_CELL_CONES,
    KS_CELL_STAGE,
    KS_CELL_SIZE,
    KS_CELL_LABOUR
} ks_cell_sort;

/* A column of the table at hand. */
typedef struct {
    const char *key; /* in JSON; NULL = passed over */
    ks_cell_sort sort;
    const char *unit; /* from the heading, NULL = none */
    const char *step; /* of labour, where its column tells one; NULL = none */
} ks_told_column;

typedef struct {
    int n;
    ks_told_column *told;   /* one for each cell of the heading */
    const ks_csv_row *last; /* row of the heading; ware stands below it */
} ks_column_heading;

/* "Durchmesser=diameter,Notiz=none": other words for columns, added to those of the reading.
 * KS_BAD_USAGE names a column that is not known. */
ks_status ks_columns_parse(ks_reading *reading, const char *text);

/* The same from the order's `"columns": {"Durchmesser": "diameter"}`. */
void ks_columns_read(ks_reading *reading, const ks_json *node);

/* Finds the heading, below a title if there is one, and what its columns tell. False after noting
 * what is wrong: no known column, none that tells sizes, one told twice, a slip. */
bool ks_heading_read(ks_reading *reading, const ks_csv *csv, const ks_json *named_at,
                     ks_column_heading *out);

/* Whether the key tells how large a piece is. */
bool ks_column_tells_size(const char *key);

#endif
