/* units.h: quantities as people write them, and back. */
#ifndef KILNSTOW_BASE_UNITS_H
#define KILNSTOW_BASE_UNITS_H

#include "base/unit_names.h"
#include "kilnstow/arena.h"

#include <stdbool.h>

/* What bare numbers mean in a file; NULL = nothing declared, so that they are refused. */
typedef struct {
    const char *length; /* "mm", "cm", "m", "in" or "ft" */
    const char *mass;   /* "kg", "g", "lb" or "oz" */
    const char *temp;   /* "C", "F" or "K" */
} ks_units;

/* The international yard and pound of 1959. */
#define KS_MM_IN_INCH 25.4
#define KS_KG_IN_POUND 0.45359237

/* The declared unit for a quantity: a rate takes the temperature's degrees per hour; NULL = none.
 */
const char *ks_units_of(const ks_units *units, ks_quantity quantity);

/* NULL and *value (in the unit beside ks_quantity) or what is wrong, in words with the remedy, and
 * *value untouched. `bare` is the unit of a number without one, NULL = it must have one. Fractions
 * are exact before the one rounding to double; the sign may be negative where that makes sense. */
const char *ks_quantity_parse(ks_quantity quantity, const char *text, const char *bare,
                              double *value);

/* A bare number in that unit: *value in the unit beside ks_quantity. The unit must be known. */
double ks_quantity_of(ks_quantity quantity, double number, const char *unit);

/* Whether `unit` is one that ks_quantity_parse knows for the quantity, and may be declared. */
bool ks_unit_known(ks_quantity quantity, const char *unit);

/* A bare number as people write it: decimal point or comma, or a fraction "10 1/2", "4-1/2",
 * vulgar fractions too. NULL or the reason. */
const char *ks_number_parse(const char *text, double *value);

/* For display. Lengths in "in" go to the nearest 1/16 ("10 1/2 in"), "mm" to whole mm, "cm" to 0.1;
 * masses and temperatures to what a kitchen scale or a kiln shows. */
const char *ks_quantity_print(ks_quantity quantity, double value, const char *unit,
                              ks_arena *arena);

#endif
