/* port.h: a place to listen at, on this machine's own address and no other. */
#ifndef KILNSTOW_WEB_PORT_H
#define KILNSTOW_WEB_PORT_H

#include "kilnstow/error.h"

/* What a page keeps in the browser belongs to its address, so the port is the same each time. */
enum { KS_PORT_USUAL = 7464, KS_PORT_ANY = 0 };

/* Listens on 127.0.0.1. `wanted`: a port; KS_PORT_ANY; or -1, the usual one and any where another
 * program has that. KS_SYSTEM when it cannot be had. */
ks_status ks_port_listen(int wanted, int *port, int *fd, ks_error *err);

#endif
