/* watch.h: ends a placing early, when its time is up or when its user says so. */
#ifndef KILNSTOW_APP_WATCH_H
#define KILNSTOW_APP_WATCH_H

#include "kilnstow/place.h"

#include <signal.h>

typedef struct ks_watch ks_watch;

/* Hurries the placing when `seconds` (infinity = never) have passed or *stop becomes true (stop may
 * be NULL). NULL when the machine gives no thread; the placing then ends only between rounds. */
ks_watch *ks_watch_start(ks_placing *placing, double seconds, const volatile sig_atomic_t *stop);

/* Ends the watch; accepts NULL. */
void ks_watch_finish(ks_watch *watch);

/* Seconds of a clock that never jumps. */
double ks_watch_now(void);

#endif
