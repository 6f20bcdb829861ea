#include "web/errand.h"

#include "app/watch.h"
#include "kilnstow/arena.h"

#include <math.h>
#include <poll.h>
#include <stddef.h>

void ks_errands_add(ks_errands *errands, ks_errand *errand)
{
    errand->next = errands->first;
    errands->first = errand;
}

void ks_errands_remove(ks_errands *errands, ks_errand *errand)
{
    for (ks_errand **at = &errands->first; *at; at = &(*at)->next)
        if (*at == errand) {
            *at = errand->next;
            return;
        }
}

static bool is_among(const ks_errands *errands, const ks_errand *errand)
{
    const ks_errand *at = errands->first;
    while (at && at != errand)
        at = at->next;
    return at != NULL;
}

/* How long may be waited, for poll(). */
static int wait_ms(const ks_errands *errands, double seconds)
{
    double now = ks_watch_now();
    for (const ks_errand *at = errands->first; at; at = at->next)
        seconds = fmin(seconds, at->until - now);
    return seconds <= 0 ? 0 : (int)ceil(fmin(seconds, 3600) * 1000);
}

void ks_errands_wait(ks_errands *errands, int other, double seconds)
{
    ks_arena arena = {0};
    int n = 0;
    for (ks_errand *at = errands->first; at; at = at->next)
        n++;
    struct pollfd *ends = KS_TAKE(&arena, n + 1, struct pollfd);
    ks_errand **whose = KS_TAKE(&arena, n + 1, ks_errand *);
    n = 0;
    for (ks_errand *at = errands->first; at; at = at->next) {
        ends[n] = (struct pollfd){.fd = at->fd, .events = POLLIN};
        whose[n++] = at;
    }
    ends[n] = (struct pollfd){.fd = other, .events = POLLIN};
    if (poll(ends, (nfds_t)n + 1, wait_ms(errands, seconds)) < 0)
        n = 0; /* a signal; the loop looks what it means */
    double now = ks_watch_now();
    for (int i = 0; i < n; i++) {
        if (!is_among(errands, whose[i]))
            continue;
        bool late = now >= whose[i]->until;
        if (late || ends[i].revents)
            whose[i]->heard(whose[i], late);
    }
    ks_arena_finish(&arena);
}
