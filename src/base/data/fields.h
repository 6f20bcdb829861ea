/* fields.h: reads the members of a JSON object (or a spreadsheet's row) into a struct, by a table.
 */
#ifndef KILNSTOW_BASE_DATA_FIELDS_H
#define KILNSTOW_BASE_DATA_FIELDS_H

#include "base/data/json.h"
#include "base/units.h"

#include <stddef.h>

typedef enum {
    KS_FIELD_LENGTH,   /* double, mm */
    KS_FIELD_MASS,     /* double, kg */
    KS_FIELD_TEMP,     /* double, degrees C */
    KS_FIELD_RATE,     /* double, C/h */
    KS_FIELD_TIME,     /* double, s */
    KS_FIELD_POWER,    /* double, kW */
    KS_FIELD_NUMBER,   /* double */
    KS_FIELD_WHOLE,    /* int */
    KS_FIELD_BOOL,     /* bool */
    KS_FIELD_TEXT,     /* const char * */
    KS_FIELD_NAME,     /* const char *, not empty, no control characters: an id or a name */
    KS_FIELD_DATE,     /* int, days since 1970-01-01 */
    KS_FIELD_MONEY,    /* int64_t, minor units; ks_field_reader.minor_digits */
    KS_FIELD_WORD,     /* int (or an enum): place in `words` */
    KS_FIELD_ELSEWHERE /* known, but left to other code; ks_json ** when `at` is told, else nothing
                        */
} ks_field_kind;

#define KS_FIELD_NOWHERE ((size_t)-1)

typedef struct {
    const char *key;
    ks_field_kind kind;
    bool required;
    size_t at; /* offsetof the place to fill */
    double least,
        most; /* both in the kind's own unit; 0, 0 = any finite. For TEXT and NAME: of bytes */
    const char *words; /* WORD: "top|front"; of a TEXT: it must be one of them */
    const char *unit;  /* of a bare number, where not that of the file: "kW", "mm" */
} ks_field;

/* KS_FIELD(LENGTH, struct thing, height_mm, "height", .least = 1, .most = 2000) */
#define KS_FIELD(sort, type, member, ...)                                                          \
    {                                                                                              \
        .kind = KS_FIELD_##sort, .at = offsetof(type, member), .key = __VA_ARGS__                  \
    }
/* A key that other code reads. */
#define KS_FIELD_KNOWN(name)                                                                       \
    {                                                                                              \
        .key = name, .kind = KS_FIELD_ELSEWHERE, .at = KS_FIELD_NOWHERE                            \
    }

typedef struct {
    ks_units units;   /* what a bare number means */
    int minor_digits; /* of the currency */
    ks_arena *arena;
    ks_error *err;
} ks_field_reader;

/* Fills `into` from `object` by the table. Fields that are absent are left as they are. Refused
 * are: a node that is no object, unknown keys, a required field absent, wrong kinds, units that
 * are unknown or missing, values outside least to most. All slips of the object are noted, each
 * once; KS_OK if there were none. */
ks_status ks_fields_read(const ks_json *object, const ks_field *fields, int n_fields,
                         const ks_field_reader *reader, void *into);
#define KS_FIELDS_READ(object, table, reader, into)                                                \
    ks_fields_read((object), (table), (int)(sizeof(table) / sizeof(table)[0]), (reader), (into))

/* One node into the place `into`, for lists and mixed values; `field->key` and `at` are ignored. */
ks_status ks_field_value(const ks_json *node, const ks_field *field, const ks_field_reader *reader,
                         void *into);

/* Refuses a node that is no array, or has not least to most elements; NULL counts as empty. */
ks_status ks_array_check(const ks_json *node, int least, int most, ks_error *err);

/* Reads `"units": {"length": ..., "mass": ..., "temperature": ...}`; absent = no unit declared.
 * After a slip in it the usual ones stand in, so that not every number is refused as well. */
ks_status ks_units_read(const ks_json *file, ks_units *out, ks_error *err);

/* Refuses a file whose "format" is not `format` ("kilnstow-order/1"). */
ks_status ks_format_check(const ks_json *file, const char *format, ks_error *err);

#endif
