/* json_scan.h: decides whether a text is JSON, and notes where each value stands. */
#ifndef KILNSTOW_BASE_DATA_JSON_SCAN_H
#define KILNSTOW_BASE_DATA_JSON_SCAN_H

#include "kilnstow/arena.h"
#include "kilnstow/error.h"

#include <stddef.h>

enum {
    KS_JSON_DEEPEST = 64,              /* arrays and objects within each other */
    KS_JSON_LARGEST = 8 * 1024 * 1024, /* bytes of a file */
    KS_JSON_LONGEST_TEXT = 4 * 1024,   /* bytes of one number as written, and of a file's texts */
};

/* A value's place, in the order in which values start in the text. */
typedef struct {
    int line, column;   /* from 1, columns in characters: of the key, or of the value without one */
    const char *digits; /* of a number as written, else NULL */
    double number;
} ks_json_place;

/* `text`, in which no text is longer than `longest`, is scanned, and each number in it overwritten
 * by `0` and blanks: whoever parses it next takes the numbers from the places. KS_BAD_INPUT with
 * "name:line:column: ..." if it is no JSON by RFC 8259 or is beyond the limits above. */
ks_status ks_json_scan(const char *name, char *text, size_t length, size_t longest, ks_arena *arena,
                       ks_json_place **places, int *n_places, ks_error *err);

#endif
