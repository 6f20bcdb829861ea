/* json.h: a JSON file, read strictly, as a tree whose nodes know where they stand. */
#ifndef KILNSTOW_BASE_DATA_JSON_H
#define KILNSTOW_BASE_DATA_JSON_H

#include "base/data/json_scan.h"
#include "base/file.h"
#include "kilnstow/arena.h"
#include "kilnstow/error.h"

#include <stdbool.h>

typedef enum {
    KS_JSON_NULL,
    KS_JSON_BOOL,
    KS_JSON_NUMBER,
    KS_JSON_TEXT,
    KS_JSON_ARRAY,
    KS_JSON_OBJECT
} ks_json_kind;

typedef struct ks_json {
    ks_json_kind kind;
    bool truth;     /* of a BOOL */
    bool from_cell; /* a text out of a spreadsheet, where numbers and yes/no are written as text */
    int line, column; /* from 1; where the value, or its key if it has one, starts */
    const char *file; /* as named in messages */
    const char *key;  /* in an object, else NULL */
    const char *text; /* of a TEXT its value, of a NUMBER its digits as written; else NULL */
    double number;    /* of a NUMBER; always finite */
    int at;           /* which of its parent's members or elements in the file, from 1 */
    int n;            /* members or elements */
    struct ks_json *items;
    const struct ks_json *parent; /* NULL at the top */
} ks_json;

/* Reads the file at `path`; "-" is no special name here. KS_SYSTEM when it cannot be read,
 * KS_BAD_INPUT with "file:line:column: ..." when it is not JSON (RFC 8259) or is beyond the limits
 * above; also for a key given twice, a lone surrogate, or a number too large to hold. */
ks_status ks_json_read(const char *path, ks_arena *arena, const ks_json **out, ks_error *err);

/* The same for text in memory; `name` stands for the file in messages. */
ks_status ks_json_parse(const char *name, const char *text, size_t length, ks_arena *arena,
                        const ks_json **out, ks_error *err);

/* Both with another limit than KS_JSON_LARGEST, for files that are made by programs. */
ks_status ks_json_read_most(const char *path, size_t most, ks_arena *arena, const ks_json **out,
                            ks_error *err);
ks_status ks_json_parse_most(const char *name, ks_bytes text, size_t most, ks_arena *arena,
                             const ks_json **out, ks_error *err);

/* The same for what one program sends another, in which a text may be a whole file. */
ks_status ks_json_parse_body(const char *name, ks_bytes text, ks_arena *arena, const ks_json **out,
                             ks_error *err);

/* The member called `key`, letter case and all; NULL if absent, or if `object` is not an object
 * (or is NULL). */
const ks_json *ks_json_get(const ks_json *object, const char *key);

/* Where the node stands, for people: "ware[3].height"; "the file" at the top
 * ("this row" of a spreadsheet). Counted from 1. */
const char *ks_json_path(const ks_json *node, ks_arena *arena);

/* What stands there, for people: `"tall"`, `12.5`, `true`, `an array`; long texts are cut. Use it
 * in the same expression: ks_json_found(node).words. */
typedef struct {
    char words[72];
} ks_found;
ks_found ks_json_found(const ks_json *node);

/* Notes "file:line: path: " and the message as KS_BAD_INPUT, which it returns. */
ks_status ks_json_fail(const ks_json *node, ks_error *err, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* The same about a member that is absent: the path ends in `key`. */
ks_status ks_json_lacks(const ks_json *object, const char *key, ks_error *err, const char *remedy);

/* Refuses this member, naming the nearest of the keys that may stand there. */
ks_status ks_json_unknown(const ks_json *member, const char *const *keys, int n_keys,
                          ks_error *err);

/* Refuses members of `object` whose key is not among `keys`, naming the nearest that is. */
ks_status ks_json_only(const ks_json *object, const char *const *keys, int n_keys, ks_error *err);

/* An object or text that stands in no JSON file but is to be read as if it did: a spreadsheet's
 * row and its cells. Room for `most` members is taken at once. */
ks_json *ks_json_row(const char *file, int line, int most, ks_arena *arena);
ks_json *ks_json_cell(ks_json *row, const char *key, const char *text, int line, int column);

#endif
