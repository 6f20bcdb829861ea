#include "web/port.h"

#include <errno.h>
#include <netinet/in.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

enum { WAITING_MOST = 128 };

/* -1 with errno when it cannot be had. */
static int listen_at(int port)
{
    int yes = 1;
    struct sockaddr_in here = {.sin_family = AF_INET, .sin_port = htons((in_port_t)port)};
    here.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    int fd = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
    if (fd < 0)
        return -1;
    (void)setsockopt(fd, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    if (bind(fd, (const struct sockaddr *)&here, sizeof here) == 0 && listen(fd, WAITING_MOST) == 0)
        return fd;
    int why = errno;
    (void)close(fd);
    errno = why;
    return -1;
}

static int port_of(int fd)
{
    struct sockaddr_in here;
    socklen_t length = sizeof here;
    return getsockname(fd, (struct sockaddr *)&here, &length) == 0 ? ntohs(here.sin_port) : -1;
}

ks_status ks_port_listen(int wanted, int *port, int *fd, ks_error *err)
{
    *fd = listen_at(wanted < 0 ? KS_PORT_USUAL : wanted);
    if (*fd < 0 && wanted < 0 && errno == EADDRINUSE)
        *fd = listen_at(KS_PORT_ANY);
    if (*fd < 0)
        return ks_fail(err, KS_SYSTEM,
                       "serve: port %d of this machine cannot be had: %s; leave out --port, or "
                       "name another",
                       wanted < 0 ? KS_PORT_USUAL : wanted, strerror(errno));
    *port = port_of(*fd);
    return KS_OK;
}
