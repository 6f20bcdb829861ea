#include "web/call.h"

#include "app/answers/answer.h"
#include "web/server.h"

#include <assert.h>
#include <string.h>

/* With every answer: the page may load its own files and ask its own server, and nothing else; no
 * other page may show it, read it or guess what it is. */
static const struct {
    const char *name, *value;
} always[] = {
    {"Content-Security-Policy",
     "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; "
     "connect-src 'self'; font-src 'self'; manifest-src 'self'; base-uri 'none'; "
     "form-action 'none'; frame-ancestors 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"X-Frame-Options", "DENY"},
    {"Referrer-Policy", "no-referrer"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
};

void ks_reply_header(ks_call *call, const char *name, const char *value)
{
    if (MHD_add_response_header(call->response, name, value) != MHD_YES)
        ks_no_memory();
}

static void head(ks_call *call, int status, const char *type, struct MHD_Response *response)
{
    assert(!call->response);
    if (!response)
        ks_no_memory();
    call->status = status;
    call->response = response;
    for (size_t i = 0; i < sizeof always / sizeof *always; i++)
        ks_reply_header(call, always[i].name, always[i].value);
    ks_reply_header(call, "Cache-Control",
                    call->route.kind == KS_ROUTE_PAGE ? "no-cache" : "no-store");
    if (type)
        ks_reply_header(call, "Content-Type", type);
}

void ks_reply(ks_call *call, int status, const char *type, ks_bytes bytes)
{
    head(call, status, type,
         MHD_create_response_from_buffer(bytes.length, (void *)(uintptr_t)bytes.bytes,
                                         MHD_RESPMEM_PERSISTENT));
}

void ks_reply_file(ks_call *call, const char *type, int fd, size_t length)
{
    head(call, 200, type, MHD_create_response_from_fd(length, fd));
}

void ks_reply_failure(ks_call *call, int status, const char *why)
{
    ks_error err = {.status = KS_BAD_USAGE, .count = 1};
    strncpy(err.text, why, sizeof err.text - 1);
    const char *text = ks_answer_failure("serve", &err, &call->arena);
    ks_reply(call, status, "application/json", (ks_bytes){text, strlen(text)});
    if (status == 405)
        ks_reply_header(call, "Allow", call->route.methods);
    if (status == 503)
        ks_reply_header(call, "Retry-After", "1");
}

void ks_call_wait(ks_call *call)
{
    ks_server *server = call->server;
    call->next_waiting = server->waiting;
    server->waiting = call;
    MHD_suspend_connection(call->connection);
}

void ks_call_wake(ks_call *call)
{
    ks_call **at = &call->server->waiting;
    while (*at && *at != call)
        at = &(*at)->next_waiting;
    if (*at)
        *at = call->next_waiting;
    call->give_up = NULL;
    MHD_resume_connection(call->connection);
}
