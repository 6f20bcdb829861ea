/* window.h: whether a moment is within times that come again. */
#ifndef KILNSTOW_CLOCK_WINDOW_H
#define KILNSTOW_CLOCK_WINDOW_H

#include "base/days/civil.h"
#include "kilnstow/clock.h"

#include <stdbool.h>

/* The weekday counts that the moment itself falls on: of "mon, 22:00 to 06:00" the early hours are
 * Monday's. */
bool ks_window_holds(const ks_window *window, ks_civil at);

#endif
