/* start.h: when the firing of a load begins, on the studio's clock. */
#ifndef KILNSTOW_COST_START_H
#define KILNSTOW_COST_START_H

#include "kilnstow/cost.h"

typedef struct {
    int64_t local_min;  /* minutes since 1970-01-01 00:00; 0 while not known */
    bool known;         /* the order tells a start, or the load a date */
    bool clock_assumed; /* the load's date alone is told: taken to begin at 8:00 */
} ks_start;

/* A dated load begins on its day, at the clock time of the order's start; others at that start.
 * `terms` NULL: the order tells nothing of costs. */
ks_start ks_load_start(const ks_money_terms *terms, const ks_load *load);

/* Whether it matters to the price when a firing takes place. */
bool ks_start_matters(const ks_power_tariff *power);

#endif
