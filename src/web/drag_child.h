/* drag_child.h: what a process that judges drags does, and the messages by which it answers. */
#ifndef KILNSTOW_WEB_DRAG_CHILD_H
#define KILNSTOW_WEB_DRAG_CHILD_H

#include "web/asked.h"

enum { KS_DRAG_SECONDS = 10 };

typedef struct {
    const char *folder; /* its real path */
    int asks;      /* where it hears bodies, one after another; -1 = it has only the one below */
    ks_bytes body; /* as sent */
} ks_drag_work;

enum {
    KS_DRAG_ANSWER = 1, /* JSON */
    KS_DRAG_REFUSED,    /* why what was sent cannot be used */
};

/* The work of a child (payload: a ks_drag_work); it says one message to each body. */
void ks_drag_in_child(int up, void *payload);

#endif
