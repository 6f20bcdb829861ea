/* asked.h: what the body of a call asks of a command. */
#ifndef KILNSTOW_WEB_ASKED_H
#define KILNSTOW_WEB_ASKED_H

#include "base/data/json.h"

/* A file that is sent along. */
typedef struct {
    const char *name, *text;
} ks_sent_file;

typedef struct {
    int n_args;
    const char **args; /* NULL behind the last */
    int n_files;
    ks_sent_file *files;
    const char *language; /* of what people read in the answer; NULL = English */
    const char *give;     /* the file to answer with; NULL = the command's own answer */
} ks_asked;

/* Reads {"args": […], "files": {…}, "give": …, "language": …}; KS_BAD_INPUT says what is wrong and
 * where. */
ks_status ks_asked_read(ks_bytes body, ks_arena *arena, ks_asked *out, ks_error *err);

/* The member "files" of a body; none where it is absent. */
ks_status ks_asked_files(const ks_json *files, ks_arena *arena, ks_asked *out, ks_error *err);

/* The member "language" of a body: a code that is spoken here; NULL where it is absent. */
ks_status ks_asked_language(const ks_json *code, const char **out, ks_error *err);

/* The whole body as a tree; it has to be an object. */
ks_status ks_asked_tree(ks_bytes body, ks_arena *arena, const ks_json **out, ks_error *err);

#endif
