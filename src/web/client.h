/* client.h: the connections that are open, each with the time it has left. */
#ifndef KILNSTOW_WEB_CLIENT_H
#define KILNSTOW_WEB_CLIENT_H

#include <microhttpd.h>

/* Whoever sends a byte now and then, or takes none, holds a connection no longer than this. */
#define KS_HEAD_SECONDS 20.0 /* for the head of a request, counted from the end of the last */
#define KS_BODY_SECONDS 60.0 /* for its body, and again for taking the answer */

typedef struct ks_client {
    int fd;
    double until; /* by ks_watch_now() */
    struct ks_client *next;
} ks_client;

typedef struct {
    ks_client *first;
} ks_clients;

/* For MHD_OPTION_NOTIFY_CONNECTION; `clients` is a ks_clients. */
void ks_client_notice(void *clients, struct MHD_Connection *connection, void **context,
                      enum MHD_ConnectionNotificationCode what);

/* This connection now has so many seconds left. */
void ks_client_allow(struct MHD_Connection *connection, double seconds);

/* Ends those whose time is over; returns how many seconds the next has left, infinity for none. */
double ks_clients_sweep(ks_clients *clients);

#endif
