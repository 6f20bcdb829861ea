/* server.h: what the server has in hand while it serves. */
#ifndef KILNSTOW_WEB_SERVER_H
#define KILNSTOW_WEB_SERVER_H

#include "web/errand.h"
#include "web/gate.h"
#include "web/client.h"

#include <microhttpd.h>

typedef struct ks_server {
    const char *folder; /* the opened one: its real path */
    ks_gate_keys keys;
    struct MHD_Daemon *daemon;
    ks_errands errands;
    ks_clients clients;
    struct ks_call *waiting;  /* calls that are answered later */
    int commands;             /* that run */
    struct ks_plan_job *jobs; /* the newest first */
    int jobs_begun, jobs_running;
    struct ks_drag_desk *desk; /* where drags are judged; NULL until the first */
} ks_server;

#endif
