/* costs_file.h: what an order tells of costs, between the files that read and write it. */
#ifndef KILNSTOW_STUDIO_TERMS_COSTS_FILE_H
#define KILNSTOW_STUDIO_TERMS_COSTS_FILE_H

#include "kilnstow/money.h"
#include "studio/reading/reading.h"
#include "studio/reading/writing.h"

/* Reads `costs` into order->money, after members are known; NULL money where there is none. */
void ks_costs_read(ks_reading *reading, const ks_json *node, ks_order *order);
void ks_costs_write(ks_json_out *out, const ks_order *order);

/* The tariffs within it; a NULL node leaves them untold. */
void ks_power_read(ks_reading *reading, const ks_json *node, ks_power_tariff *power);
void ks_power_write(ks_json_out *out, const ks_power_tariff *power, int digits);
void ks_fuel_read(ks_reading *reading, const ks_json *node, ks_fuel_tariff *fuel);
void ks_fuel_write(ks_json_out *out, const ks_fuel_tariff *fuel, int digits);

/* The studio's list of fees and its subscriptions, of `costs.share`; members are known. */
void ks_rates_read(ks_reading *reading, const ks_json *share, ks_order *order);
void ks_rates_write(ks_json_out *out, const ks_order *order, int digits);

/* Members' subscriptions are those of the costs. */
void ks_subscribers_check(ks_reading *reading, const ks_json *node, const ks_order *order);

/* An amount per unit, in fine units; 0 where the node is NULL or wrong. */
ks_fine ks_fine_read(ks_reading *reading, const ks_json *node);

/* In major units, exactly: 0.3127. */
void ks_fine_write(ks_json_out *out, const char *key, ks_fine amount, int digits);

#endif
