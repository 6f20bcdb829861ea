/* json_out.h: writes JSON text, the same text for the same values on every machine. */
#ifndef KILNSTOW_BASE_DATA_JSON_OUT_H
#define KILNSTOW_BASE_DATA_JSON_OUT_H

#include "base/text.h"

#include <stdint.h>

/* {.text.arena = a} is ready. One member or element stands on each line, indented by two, but for
 * what is opened between ks_out_flat() and its end: that goes on one line. In an object `key` is
 * needed, in an array and at the top it is NULL; asserted. */
typedef struct {
    ks_text text;
    int depth;
    int flat_from;          /* depth at which one line began, 0 = none */
    bool follows;           /* something stands before in this array or object */
    unsigned char kind[64]; /* '{' or '[' of each depth */
} ks_json_out;

void ks_out_object(ks_json_out *out, const char *key);
void ks_out_object_flat(ks_json_out *out, const char *key); /* all of it on one line */
void ks_out_array(ks_json_out *out, const char *key);
void ks_out_array_flat(ks_json_out *out, const char *key);
void ks_out_end(ks_json_out *out); /* of the innermost that is open */

void ks_out_text(ks_json_out *out, const char *key, const char *text); /* NULL is written as null */
void ks_out_number(ks_json_out *out, const char *key, double number);  /* not finite: null */
void ks_out_whole(ks_json_out *out, const char *key, int64_t number);
void ks_out_bool(ks_json_out *out, const char *key, bool truth);
void ks_out_null(ks_json_out *out, const char *key);
void ks_out_money(ks_json_out *out, const char *key, int64_t minor, int digits); /* 12.50 */

/* Text already JSON, such as another writer's, indented to its place. */
void ks_out_json(ks_json_out *out, const char *key, const char *json);

/* The text, ended by a newline; all that was opened must be closed. */
const char *ks_out_done(ks_json_out *out);

#endif
