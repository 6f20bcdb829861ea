#include "web/drag.h"

#include "app/watch.h"
#include "web/drag_child.h"
#include "web/server.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* A process that judges drags. One that stays is asked again and again; the call of one that does
 * not brings its own plan along. */
typedef struct ks_drag_desk {
    ks_errand errand; /* first, so that it can be told from it */
    ks_server *server;
    ks_call *call; /* that is under way; NULL = none, or nobody waits for it any more */
    bool busy;
    ks_drag_work work;
    int asks; /* where it is asked; -1 = it answers one call and ends */
    ks_child child;
} desk;

static void close_desk(desk *d)
{
    ks_arena arena = {0};
    ks_errands_remove(&d->server->errands, &d->errand);
    (void)ks_child_finish(&d->child, &arena);
    ks_arena_finish(&arena);
    if (d->asks >= 0)
        (void)close(d->asks);
    if (d->server->desk == d)
        d->server->desk = NULL;
    free(d);
}

static void give_back(desk *d)
{
    ks_call *call = d->call;
    d->call = NULL;
    d->busy = false;
    d->errand.until = INFINITY;
    if (call)
        ks_call_wake(call);
}

static void reply_message(const desk *d, const ks_message *message)
{
    if (!d->call)
        return;
    if (message->kind == KS_DRAG_ANSWER)
        ks_reply(d->call, 200, "application/json",
                 (ks_bytes){ks_arena_text_n(&d->call->arena, message->bytes, message->length),
                            message->length});
    else
        ks_reply_failure(d->call, 400, message->bytes);
}

static void hear(ks_errand *errand, bool is_late)
{
    desk *d = (desk *)errand;
    ks_message message;
    ks_heard heard = ks_child_hear(&d->child, 0, &message);
    if (heard == KS_HEARD_NOTHING && !is_late)
        return;
    if (heard == KS_HEARD_MESSAGE)
        reply_message(d, &message);
    else if (d->call && is_late)
        ks_reply_failure(d->call, 504, "the plan could not be judged in time");
    else if (d->call)
        ks_reply_failure(d->call, 500, "the plan could not be judged: it was too much");
    give_back(d);
    if (heard != KS_HEARD_MESSAGE || d->asks < 0)
        close_desk(d);
}

/* Nobody waits any more: what it still says of this call is not passed on. */
static void give_up(ks_call *call)
{
    desk *d = call->errand;
    ks_reply_failure(call, 503, "the server is ending");
    d->call = NULL;
    ks_call_wake(call);
    if (d->asks < 0)
        close_desk(d);
}

static ks_status open_desk(ks_server *server, ks_bytes body, bool stays, desk **out, ks_error *err)
{
    int ends[2] = {-1, -1};
    if (stays && pipe2(ends, O_CLOEXEC) != 0)
        return ks_fail(err, KS_SYSTEM, "no pipe to be had to work with: %s", strerror(errno));
    desk *d = calloc(1, sizeof *d);
    if (!d)
        ks_no_memory();
    *d = (desk){.server = server, .work = {server->folder, ends[0], body}, .asks = ends[1]};
    ks_status status = ks_child_start(&d->child, ks_drag_in_child, &d->work, err);
    if (stays)
        (void)close(ends[0]);
    d->errand = (ks_errand){d->child.from, INFINITY, hear, NULL};
    *out = d;
    if (!status)
        ks_errands_add(&server->errands, &d->errand);
    else
        close_desk(d);
    return status;
}

/* Nobody who stays is asked what the pipe would not take whole, so that we never wait for it. */
static bool suits_desk(const ks_call *call)
{
    const desk *d = call->server->desk;
    return call->length <= PIPE_BUF / 2 && !(d && d->busy);
}

static ks_status ask(ks_call *call, desk **out, ks_error *err)
{
    ks_server *server = call->server;
    ks_bytes body = {call->length > 0 ? call->body : "", call->length};
    if (!suits_desk(call))
        return open_desk(server, body, false, out, err);
    ks_status status =
        server->desk ? KS_OK : open_desk(server, (ks_bytes){"", 0}, true, &server->desk, err);
    *out = server->desk;
    if (!status && !ks_child_say(server->desk->asks, 1, (ks_saying){0},
                                 (ks_saying){body.bytes, body.length})) {
        close_desk(server->desk);
        status = ks_fail(err, KS_SYSTEM, "the process that judges drags has ended; ask once more");
    }
    return status;
}

void ks_drag_call(ks_call *call)
{
    ks_error err = {0};
    desk *d = NULL;
    if (ask(call, &d, &err)) {
        ks_reply_failure(call, 503, err.text);
        return;
    }
    d->call = call;
    d->busy = true;
    d->errand.until = ks_watch_now() + KS_DRAG_SECONDS;
    call->errand = d;
    call->give_up = give_up;
    ks_call_wait(call);
}

void ks_drag_desk_close(ks_server *server)
{
    if (server->desk)
        close_desk(server->desk);
}
