/* measured_table.h: a recorder's file as rows of one moment and some temperatures, in its own
 * units. */
#ifndef KILNSTOW_APP_MEASURED_MEASURED_TABLE_H
#define KILNSTOW_APP_MEASURED_MEASURED_TABLE_H

#include "app/measured/measured_cells.h"
#include "app/measured/measured_columns.h"
#include "kilnstow/arena.h"
#include "kilnstow/error.h"

/* What is said about the file, in the order in which it was found. */
typedef struct {
    ks_arena *arena;
    int n, room;
    const char **at;
} ks_measured_notes;
void ks_measured_note(ks_measured_notes *notes, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

typedef struct {
    int line;
    ks_moment at;
    double *temp;  /* one for each column, as it stands; NAN = none */
    char *degrees; /* the unit that stands behind it, NUL = none */
} ks_recorded_row;

typedef struct {
    const char *file;
    ks_recorded_heading time;
    int n_columns; /* of temperatures */
    const char **names;
    char *degrees; /* of each, by its heading; NUL = not told */
    int n_rows;
    ks_recorded_row *rows; /* all with a moment of one kind, as they stand in the file */
} ks_recorded;

ks_status ks_recorded_parse(const char *name, const char *bytes, size_t length,
                            ks_measured_notes *notes, ks_arena *arena, ks_recorded *out,
                            ks_error *err);

#endif
