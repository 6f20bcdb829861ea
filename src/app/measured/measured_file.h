/* measured_file.h: what a kiln's own recorder wrote: time and temperatures. */
#ifndef KILNSTOW_APP_MEASURED_MEASURED_FILE_H
#define KILNSTOW_APP_MEASURED_MEASURED_FILE_H

#include "kilnstow/arena.h"
#include "kilnstow/error.h"

/* One thermocouple; times rise, all temperatures are finite. */
typedef struct {
    const char *name; /* its heading, or "column 2" */
    int n;
    double *time_h; /* since the first reading of the file */
    double *temp_c;
    double gap_h; /* between readings further apart than this nothing is known */
} ks_measured_curve;

typedef struct {
    const char *file;
    int n_curves;
    ks_measured_curve *curves;
    ks_measured_curve mean; /* of those that read at that moment; of one, itself */
    int n_remarks;
    const char **remarks; /* what was guessed, left out or put in order */
} ks_measured;

/* What the firing is about, by which a unit that no heading tells is guessed. */
typedef struct {
    double hours, top_c;
} ks_measured_hint;

/* Reads a table parted by ; , or tab, with any columns in any order, lines above the heading,
 * headings repeated, times as numbers, clocks or dates. KS_BAD_INPUT where no column tells a time
 * or none a temperature, where fewer than two readings are there, or where its time starts over. */
ks_status ks_measured_read(const char *path, ks_measured_hint hint, ks_arena *arena,
                           ks_measured *out, ks_error *err);
ks_status ks_measured_parse(const char *name, const char *bytes, size_t length,
                            ks_measured_hint hint, ks_arena *arena, ks_measured *out,
                            ks_error *err);

/* Straight between readings; NAN before the first, after the last and in a gap. */
double ks_measured_at(const ks_measured_curve *curve, double time_h);

#endif
