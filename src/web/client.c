#include "web/client.h"

#include "app/watch.h"
#include "kilnstow/arena.h"

#include <math.h>
#include <stdlib.h>
#include <sys/socket.h>

static void open_client(ks_clients *clients, struct MHD_Connection *connection, void **context)
{
    ks_client *client = calloc(1, sizeof *client);
    if (!client)
        ks_no_memory();
    client->fd = MHD_get_connection_info(connection, MHD_CONNECTION_INFO_CONNECTION_FD)->connect_fd;
    client->until = ks_watch_now() + KS_HEAD_SECONDS;
    client->next = clients->first;
    clients->first = client;
    *context = client;
}

static void close_client(ks_clients *clients, ks_client *client)
{
    ks_client **at = &clients->first;
    while (*at && *at != client)
        at = &(*at)->next;
    if (*at)
        *at = client->next;
    free(client);
}

void ks_client_notice(void *clients, struct MHD_Connection *connection, void **context,
                      enum MHD_ConnectionNotificationCode what)
{
    if (what == MHD_CONNECTION_NOTIFY_STARTED)
        open_client(clients, connection, context);
    else
        close_client(clients, *context);
}

void ks_client_allow(struct MHD_Connection *connection, double seconds)
{
    ks_client *client =
        MHD_get_connection_info(connection, MHD_CONNECTION_INFO_SOCKET_CONTEXT)->socket_context;
    client->until = ks_watch_now() + seconds;
}

double ks_clients_sweep(ks_clients *clients)
{
    double now = ks_watch_now(), next = INFINITY;
    for (ks_client *client = clients->first; client; client = client->next) {
        if (client->until <= now) {
            (void)shutdown(client->fd, SHUT_RDWR); /* its end is then noticed like any other */
            client->until = INFINITY;
        }
        next = fmin(next, client->until - now);
    }
    return next;
}
