/* clock.h: times of the week and of the year, on the studio's clock. */
#ifndef KILNSTOW_CLOCK_H
#define KILNSTOW_CLOCK_H

#ifdef __cplusplus
extern "C" {
#endif

enum { KS_WEEKDAYS = 7, KS_MONTHS = 12, KS_DAY_MIN = 24 * 60 };

/* Times that come again: when a price holds, when the studio is open. */
typedef struct {
    unsigned weekdays; /* bit 0 = Monday */
    unsigned months;   /* bit 0 = January */
    int from_min,
        to_min; /* minutes of the local day; from > to runs over midnight, equal = all day */
} ks_window;

#ifdef __cplusplus
}
#endif

#endif
