/* errand.h: work that goes on in a process of its own while the server serves others. */
#ifndef KILNSTOW_WEB_ERRAND_H
#define KILNSTOW_WEB_ERRAND_H

#include <stdbool.h>

/* What the server's loop looks after. Whoever keeps it embeds it. */
typedef struct ks_errand {
    int fd;       /* read from when it has something; -1 = only the clock matters */
    double until; /* by ks_watch_now(): when `heard` is called at the latest; infinity = never */
    void (*heard)(struct ks_errand *errand, bool is_late);
    struct ks_errand *next; /* the list's own */
} ks_errand;

/* All errands that are under way. */
typedef struct {
    ks_errand *first;
} ks_errands;

void ks_errands_add(ks_errands *errands, ks_errand *errand);
void ks_errands_remove(ks_errands *errands,
                       ks_errand *errand); /* also one that is not among them */

/* Waits for `other` (a descriptor) or any errand, at most so long, and calls what has heard
 * something or is late. An errand may be added or removed by what is called. */
void ks_errands_wait(ks_errands *errands, int other, double seconds);

#endif
