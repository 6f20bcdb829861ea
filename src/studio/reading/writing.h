/* writing.h: what all writers of this room share: records by their field tables, outlines. */
#ifndef KILNSTOW_STUDIO_READING_WRITING_H
#define KILNSTOW_STUDIO_READING_WRITING_H

#include "base/data/fields.h"
#include "base/data/json_out.h"
#include "kilnstow/shape.h"

/* The fields of `from` as its reader's table names them, in mm, kg, degrees C; what was not told
 * (NAN, NULL, "", KS_NO_DAY, KS_NO_MONEY) is left out, and so are fields read ELSEWHERE. */
void ks_fields_write(ks_json_out *out, const ks_field *fields, int n_fields, int minor_digits,
                     const void *from);
#define KS_FIELDS_WRITE(out, table, minor_digits, from)                                            \
    ks_fields_write((out), (table), (int)(sizeof(table) / sizeof(table)[0]), (minor_digits), (from))

/* {"circle": ...} or {"polygon": ..., "round": ...} on one line, on the plan's grid. */
void ks_outline_write(ks_json_out *out, const char *key, const ks_outline *outline);

void ks_points_write(ks_json_out *out, const char *key, const ks_point *points, int n);

/* A length on the plan's grid. */
void ks_length_write(ks_json_out *out, const char *key, double mm);

#endif
