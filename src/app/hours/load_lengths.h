/* load_lengths.h: how long a load takes its kiln up, from what was simulated of it. */
#ifndef KILNSTOW_APP_HOURS_LOAD_LENGTHS_H
#define KILNSTOW_APP_HOURS_LOAD_LENGTHS_H

#include "clock/occupation.h"
#include "kilnstow/fire.h"

/* What a load's handling takes in all where its loading or unloading is not told: as the costs
 * tell, else 3 h. */
double ks_handling_s(const ks_order *order);

/* How long a load that fires so takes, loading and unloading as the order tells them. */
ks_lengths ks_lengths_of(const ks_order *order, const ks_firing_result *fired);

#endif
