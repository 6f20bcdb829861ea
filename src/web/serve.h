/* serve.h: the local page's server: one process, one thread, on this machine's own address. */
#ifndef KILNSTOW_WEB_SERVE_H
#define KILNSTOW_WEB_SERVE_H

#include "kilnstow/error.h"

#include <signal.h>

typedef struct {
    const char *folder;                /* that is opened; nothing outside it is read or written */
    int port;                          /* 0 = any that is free; -1 = the usual one, else any */
    const volatile sig_atomic_t *stop; /* set when the server is to end */
    void (*told)(const char *address, void *payload); /* once it answers */
    void *payload;
} ks_serve_job;

/* Serves until it is told to stop. KS_SYSTEM where the port or the folder cannot be had. */
ks_status ks_serve(const ks_serve_job *job, ks_error *err);

#endif
