/* tariff.h: prices the energy of one firing, minute by minute. */
#ifndef KILNSTOW_COST_TARIFF_H
#define KILNSTOW_COST_TARIFF_H

#include "clock/zone.h"
#include "kilnstow/cost.h"

/* Energy drawn at one steady power between two times from the start of the firing. */
typedef struct {
    double from_h, to_h, kw;
} ks_draw_step;

/* Appends lines to `lines`, each in whole minor units: energy by price time or tier, demand, fixed
 * fee. `start_utc_s` counts only for prices by time. */
void ks_tariff_price(const ks_power_tariff *tariff, const ks_zone_rule *zone, int64_t start_utc_s,
                     int n_steps, const ks_draw_step *steps, const char *currency, ks_arena *arena,
                     ks_cost_lines *lines);

/* The highest mean power over any quarter of an hour that starts on one, counted from the start. */
double ks_tariff_demand_kw(int n_steps, const ks_draw_step *steps);

/* A price per unit in major units: all digits of the currency, and three more where they are told.
 */
const char *ks_price_print(ks_fine price, int digits, ks_arena *arena);

/* "31.20 kWh x 0.21 EUR/kWh"; kilograms to the gram. */
const char *ks_product_words(double units, const char *unit, ks_fine price, const char *currency,
                             ks_arena *arena);

void ks_cost_line_add(ks_cost_lines *lines, const char *what, const char *how, ks_fine amount,
                      ks_arena *arena);

#endif
