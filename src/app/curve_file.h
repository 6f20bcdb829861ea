/* curve_file.h: the curve of a firing as a table, an object or a picture. */
#ifndef KILNSTOW_APP_CURVE_FILE_H
#define KILNSTOW_APP_CURVE_FILE_H

#include "app/curve_chart.h"
#include "app/machine/target.h"

/* What the path's ending asks for; KS_BAD_USAGE when it is none known. */
ks_status ks_curve_kind(const char *path, ks_target_kind *kind, ks_error *err);

/* Writes it in the format that the path's ending names. */
ks_status ks_curve_write(const char *path, const ks_fired_curve *of, ks_arena *arena,
                         ks_error *err);

/* Comma-separated values, RFC 4180, with a header: time_h, set_c, chamber_c, power_kw, casing_c,
 * then edge and middle of each level, then measured_c, and where there is more than one, each
 * thermocouple of the record. */
const char *ks_curve_csv(const ks_fired_curve *of, ks_arena *arena);

#endif
