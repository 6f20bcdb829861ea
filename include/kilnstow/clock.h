/* clock.h: times of the week and of the year on the studio's clock, and when a load is in its kiln.
 */
#ifndef KILNSTOW_CLOCK_H
#define KILNSTOW_CLOCK_H

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { KS_WEEKDAYS = 7, KS_MONTHS = 12, KS_DAY_MIN = 24 * 60, KS_NO_TIME = -1 };

/* Times that come again: when a price holds, when the studio is open. */
typedef struct {
    unsigned weekdays; /* bit 0 = Monday */
    unsigned months;   /* bit 0 = January */
    int from_min,
        to_min; /* minutes of the local day; from > to runs over midnight, equal = all day */
} ks_window;

/* When a load is in its kiln; seconds since 1970, UTC, whole minutes. */
typedef struct {
    int64_t loading_s;   /* the first piece goes in */
    int64_t on_s;        /* it is switched on */
    int64_t cone_down_s; /* KS_NO_TIME = none asked for, or never */
    int64_t ended_s;     /* the programme is over */
    int64_t open_s;      /* it may be opened; after ten days where it does not cool down in these */
    int64_t unloading_s; /* someone is there to empty it, from open_s on */
    int64_t empty_s;     /* the last piece is out */
} ks_occupation;

#ifdef __cplusplus
}
#endif

#endif
