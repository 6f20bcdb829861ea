/* full_hours.h: how long each kiln of an order is taken up by each of its firings, simulated before
 * anything is placed: as if it were full. */
#ifndef KILNSTOW_APP_HOURS_FULL_HOURS_H
#define KILNSTOW_APP_HOURS_FULL_HOURS_H

#include "kilnstow/fire.h"
#include "kilnstow/place.h"

/* Of each kiln and firing, [kiln * firings + firing], whole hours from switching on, rounded up, so
 * that a lid is never thought to open before it does. Simulated for loads that have a date, which
 * alone can be in time or late; NULL where no load has one. Fails as ks_fire does. */
ks_status ks_full_hours(const ks_order *order, ks_arena *arena, const ks_load_hours **out,
                        ks_error *err);

/* A firing of the order in one of its kilns as if it were full, with its cooling. Fails as ks_fire
 * does. */
ks_status ks_full_fired(const ks_order *order, int kiln, int firing, ks_arena *arena,
                        ks_firing_result *out, ks_error *err);

#endif
