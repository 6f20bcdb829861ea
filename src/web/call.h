/* call.h: one request that was let in, and its answer. */
#ifndef KILNSTOW_WEB_CALL_H
#define KILNSTOW_WEB_CALL_H

#include "app/child.h"
#include "base/file.h"
#include "web/gate.h"

#include <microhttpd.h>

struct ks_server;

typedef struct ks_call {
    struct ks_server *server;
    struct MHD_Connection *connection;
    ks_arena arena; /* of all that the call needs, its answer too */
    ks_route route;
    const char *method, *if_match, *if_none_match; /* the latter two NULL where not sent */
    char *body;                                    /* a NUL behind it */
    size_t length, room;
    bool too_long;
    struct MHD_Response *response; /* NULL until it is answered */
    int status;
    struct ks_call *next_waiting; /* of those that are suspended until they are answered */
    void (*give_up)(
        struct ks_call *of); /* called when nobody waits any more; NULL = nothing to do */
    void *errand;            /* of whoever answers later */
} ks_call;

/* Makes the answer; its bytes live in the call's arena, or longer. Once for each call. */
void ks_reply(ks_call *call, int status, const char *type, ks_bytes bytes);
void ks_reply_header(ks_call *call, const char *name, const char *value);

/* The same with the rest of an open file, which is closed in the end. */
void ks_reply_file(ks_call *call, const char *type, int fd, size_t length);

/* A refusal or a failure of the server's own: the commands' envelope, with one error. */
void ks_reply_failure(ks_call *call, int status, const char *why);

/* The call waits: it is answered later, by ks_reply and then ks_call_wake. */
void ks_call_wait(ks_call *call);
void ks_call_wake(ks_call *call);

#endif
