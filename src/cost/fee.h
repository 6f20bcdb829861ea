/* fee.h: what a piece pays by the studio's own list. */
#ifndef KILNSTOW_COST_FEE_H
#define KILNSTOW_COST_FEE_H

#include "kilnstow/cost.h"

typedef struct {
    double units;     /* rounded as it is told, so that anyone comes to the same cent */
    const char *unit; /* "l", "in3", "kg", "lb", "pieces", "shelf" */
    ks_fine fee;
    const char *how; /* "120 x 85 x 100 mm = 1.02 l x 3.00 EUR/l" */
} ks_fee;

/* One for each piece of each level of the load, in order, cone packs too, which pay nothing.
 * KS_BAD_INPUT where no rate holds for the load's firing. */
ks_status ks_load_fees(const ks_plan *plan, int load, ks_arena *arena, ks_fee **out, ks_error *err);

/* "bisque: 0.03 EUR for a cubic inch of length x width x height, a piece at least 2.00 EUR". */
const char *ks_rate_words(const ks_order *order, const ks_rate *rate, ks_arena *arena);

/* The order's list; of one rate where it tells only what a litre pays. */
const ks_rate *ks_studio_rates(const ks_money_terms *terms, ks_arena *arena, int *n);

#endif
