/* wear.h: what a firing takes off elements, shelves and posts, and what it uses up. */
#ifndef KILNSTOW_COST_WEAR_H
#define KILNSTOW_COST_WEAR_H

#include "kilnstow/cost.h"

/* Firings a thing lasts at a cone's place in the row: between two told cones the logarithm of the
 * life goes straight with the place, beyond them it stays. */
double ks_wearing_life(const ks_wearing *thing, double rank);

/* How severe a firing was, as a place in the row of cones: of the cone that ends it; of one that
 * ends by temperature, the heat work that its hottest level went through. */
double ks_firing_severity(const ks_load *load, const ks_firing_result *fired);

/* Appends lines of whole minor units. */
void ks_wear_bill(const ks_plan *plan, int load, const ks_firing_result *fired, ks_arena *arena,
                  ks_cost_lines *lines);

/* A line rounded to whole minor units; none where it comes to nothing. */
void ks_whole_line_add(ks_cost_lines *lines, const char *what, const char *how, ks_fine amount,
                       ks_arena *arena);

#endif
