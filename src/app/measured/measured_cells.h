/* measured_cells.h: what stands in a cell of a recorder's file: a number or a moment. */
#ifndef KILNSTOW_APP_MEASURED_MEASURED_CELLS_H
#define KILNSTOW_APP_MEASURED_MEASURED_CELLS_H

#include <stdbool.h>

/* A number with a point or a comma for decimals and perhaps the other between thousands; *rest is
 * what stands behind it ("" or a unit). `commas_part_cells`: a lone comma before three figures then
 * parts thousands. */
bool ks_measured_number(const char *text, bool commas_part_cells, double *number,
                        const char **rest);

typedef enum {
    KS_MOMENT_NONE,
    KS_MOMENT_NUMBER,
    KS_MOMENT_CLOCK, /* h:mm or h:mm:ss, also of more than a day, also with AM and PM */
    KS_MOMENT_DATE   /* with or without a clock behind it */
} ks_moment_kind;

/* KS_MOMENT_NUMBER: both as it stands. Else seconds, of a date since 1970: where the month is
 * taken to stand first, and where the day is; NAN where that is no date. An offset from Greenwich
 * is not looked at: it is the same from row to row. */
typedef struct {
    ks_moment_kind kind;
    double month_first, day_first;
} ks_moment;
ks_moment ks_measured_moment(const char *text, bool commas_part_cells);

#endif
