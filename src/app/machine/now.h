/* now.h: the day on which something is made. */
#ifndef KILNSTOW_APP_NOW_H
#define KILNSTOW_APP_NOW_H

#include <stdint.h>

/* Seconds since 1970, UTC, as SOURCE_DATE_EPOCH tells them, by which free-software packaging makes
 * builds repeat; 0 where it tells nothing. */
int64_t ks_now_told(void);

/* The same, or else the beginning of this day, UTC: what is made on one day is the same. */
int64_t ks_today(void);

/* The same, or else by the machine's clock. */
int64_t ks_now(void);

#endif
