/* draw_child.h: a drawing made in a process of its own, so that a library which ends the program
 * for want of memory ends only that. */
#ifndef KILNSTOW_APP_DRAW_CHILD_H
#define KILNSTOW_APP_DRAW_CHILD_H

#include "kilnstow/draw.h"

typedef struct {
    ks_status (*make)(void *payload, ks_arena *arena, ks_drawing *out, ks_error *err);
    void *payload;
} ks_draw_work;

/* Has it made there, and the drawing handed up into `arena`. */
ks_status ks_draw_in_child(const ks_draw_work *work, ks_arena *arena, ks_drawing *out,
                           ks_error *err);

#endif
