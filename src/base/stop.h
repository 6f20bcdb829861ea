/* stop.h: whether whoever waits for an answer wants it now, the best there is by then. */
#ifndef KILNSTOW_BASE_STOP_H
#define KILNSTOW_BASE_STOP_H

#include <stdatomic.h>
#include <stdbool.h>

typedef struct {
    atomic_bool asked;  /* set from outside: in a signal handler, or by another thread */
    long long asked_at; /* as if asked from this look on; counts work, not time. 0 = never */
    atomic_llong looks; /* so far, counted where asked_at > 0 */
} ks_stop;

/* Whatever may take more than some hundredths of a second looks this often. NULL = never asked. */
bool ks_stop_is_asked(ks_stop *stop);

#endif
