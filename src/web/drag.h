/* drag.h: POST /api/drag: what a piece would touch, stood elsewhere. */
#ifndef KILNSTOW_WEB_DRAG_H
#define KILNSTOW_WEB_DRAG_H

#include "web/call.h"

/* Answered by a process that stays, and has the plan in hand. */
void ks_drag_call(ks_call *call);

/* At the server's end. */
void ks_drag_desk_close(struct ks_server *server);

#endif
