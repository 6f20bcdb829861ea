/* watch.h: a clock that never jumps. */
#ifndef KILNSTOW_APP_WATCH_H
#define KILNSTOW_APP_WATCH_H

/* Seconds since some moment. */
double ks_watch_now(void);

#endif
