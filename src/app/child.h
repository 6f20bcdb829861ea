/* child.h: work done in a process of its own, which hands up messages: whatever becomes of it, we
 * go on with what it has said. */
#ifndef KILNSTOW_APP_CHILD_H
#define KILNSTOW_APP_CHILD_H

#include "kilnstow/arena.h"
#include "kilnstow/error.h"

#include <stdbool.h>
#include <sys/types.h>

/* In the child: the work, which says what it finds to `up`. When it returns the child ends. */
typedef void ks_child_work(int up, void *payload);

/* In the child: hands up one message, whole; `kind` is the work's own number, from 1. Two parts, so
 * that a text need not be copied behind its head. False when nobody listens any more. */
typedef struct {
    const void *bytes;
    size_t length;
} ks_saying;
bool ks_child_say(int up, int kind, ks_saying head, ks_saying text);

/* In the child: what to call when it is asked to stop. Called in a signal handler, so that it
 * may do little more than set a flag. */
void ks_child_on_hurry(void (*call)(void *payload), void *payload);

typedef struct {
    pid_t pid;
    int from; /* the end of the pipe that we read */
    char *bytes;
    size_t have, room, taken; /* of bytes: read, allocated, and of the message heard last */
    bool silent;              /* its end was heard */
} ks_child;

/* Forks, so call it before any thread or foreign library has started; the child dies with us, and
 * (with the thread that calls), and heeds neither interrupt, hang-up nor SIGTERM: what they mean is
 * ours to tell it. */
ks_status ks_child_start(ks_child *child, ks_child_work *work, void *payload, ks_error *err);

typedef struct {
    int kind;
    const char *bytes; /* until the next is heard; aligned for any type, a NUL behind them */
    size_t length;
} ks_message;

typedef enum { KS_HEARD_NOTHING, KS_HEARD_MESSAGE, KS_HEARD_END } ks_heard;

/* Waits up to so long for the next message; a signal to us ends the waiting. The end is heard once
 * the child can say no more, what it had begun to say is then dropped. */
ks_heard ks_child_hear(ks_child *child, double seconds, ks_message *message);

/* Asks it to come to an end soon. */
void ks_child_hurry(const ks_child *child);

/* Ends it at once, unless it has ended; frees all. NULL when it had ended as it should, or was
 * still alive, else in words how it died. Accepts a child that was never started. */
const char *ks_child_finish(ks_child *child, ks_arena *arena);

#endif
