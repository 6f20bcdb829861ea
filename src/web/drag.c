#include "web/drag.h"

#include "app/watch.h"
#include "web/drag_child.h"
#include "web/server.h"

#include <string.h>

/* A drag that is under way. In the call's arena. */
typedef struct {
    ks_errand errand; /* first, so that it can be told from it */
    ks_call *call;
    ks_drag_work work;
    ks_child child;
} drag;

static void end_drag(drag *d)
{
    ks_errands_remove(&d->call->server->errands, &d->errand);
    (void)ks_child_finish(&d->child, &d->call->arena);
    ks_call_wake(d->call);
}

static void hear(ks_errand *errand, bool is_late)
{
    drag *d = (drag *)errand;
    ks_message message;
    ks_heard heard = ks_child_hear(&d->child, 0, &message);
    if (heard == KS_HEARD_MESSAGE && message.kind == KS_DRAG_ANSWER)
        ks_reply(d->call, 200, "application/json",
                 (ks_bytes){ks_arena_text_n(&d->call->arena, message.bytes, message.length),
                            message.length});
    else if (heard == KS_HEARD_MESSAGE)
        ks_reply_failure(d->call, 400, message.bytes);
    else if (is_late)
        ks_reply_failure(d->call, 504, "the plan could not be judged in time");
    else if (heard == KS_HEARD_END)
        ks_reply_failure(d->call, 500, "the plan could not be judged: it was too much");
    else
        return;
    end_drag(d);
}

static void give_up(ks_call *call)
{
    ks_reply_failure(call, 503, "the server is ending");
    end_drag(call->errand);
}

void ks_drag_call(ks_call *call)
{
    ks_error err = {0};
    drag *d = KS_TAKE(&call->arena, 1, drag);
    *d = (drag){.call = call, .work = {call->server->folder, {"", 0}}};
    if (call->length > 0)
        d->work.body = (ks_bytes){call->body, call->length};
    if (ks_child_start(&d->child, ks_drag_in_child, &d->work, &err)) {
        ks_reply_failure(call, 503, err.text);
        return;
    }
    d->errand = (ks_errand){d->child.from, ks_watch_now() + KS_DRAG_SECONDS, hear, NULL};
    call->errand = d;
    call->give_up = give_up;
    ks_call_wait(call);
    ks_errands_add(&call->server->errands, &d->errand);
}
