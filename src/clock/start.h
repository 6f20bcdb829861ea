/* start.h: when the firing of a load begins, on the studio's clock. */
#ifndef KILNSTOW_CLOCK_START_H
#define KILNSTOW_CLOCK_START_H

#include "clock/zone.h"
#include "kilnstow/money.h"
#include "kilnstow/plan.h"

typedef struct {
    int64_t local_min;  /* minutes since 1970-01-01 00:00; 0 while not known */
    bool known;         /* the load has a date, or the order's costs tell a start */
    bool clock_assumed; /* the load's date alone is told: taken to begin at 8:00 */
} ks_start;

/* A dated load begins on its day at the order's hour, else at that of the costs' start; one without
 * a date at the costs' start. */
ks_start ks_load_start(const ks_order *order, const ks_load *load);

/* The studio's zone; UTC where none is told. */
ks_zone_rule ks_studio_zone(const ks_order *order);

/* Whether it matters to the price when a firing takes place. */
bool ks_start_matters(const ks_power_tariff *power);

#endif
