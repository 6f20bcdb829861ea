/* drag.h: POST /api/drag: what a piece would touch, stood elsewhere. */
#ifndef KILNSTOW_WEB_DRAG_H
#define KILNSTOW_WEB_DRAG_H

#include "web/call.h"

/* Reading the plan and judging it is done in a process of its own, within limits. */
void ks_drag_call(ks_call *call);

#endif
