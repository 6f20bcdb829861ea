/* unit_names.h: the units that quantities may have, and how they are called in a text. */
#ifndef KILNSTOW_BASE_UNIT_NAMES_H
#define KILNSTOW_BASE_UNIT_NAMES_H

#include "base/rational.h"

typedef enum {
    KS_LENGTH, /* mm; "26 cm", "11,5 cm", "10 1/2 in", "4-1/2\"", "1 ft 2 in" */
    KS_MASS,   /* kg; "300 g", "2 lb 4 oz" */
    KS_TEMP,   /* degrees C; "1186 C", "2167 F", "1459 K" */
    KS_RATE,   /* C/h, a difference and no temperature; "100 C/h" = "180 F/h" */
    KS_TIME,   /* s; "1h30", "90 min", "2 h", "04:30" is hours and minutes */
    KS_POWER   /* kW; "11.5 kW", "800 W" */
} ks_quantity;

/* One unit is factor (+ shift, for temperatures) in the quantity's own unit, by definition: the
 * international yard and pound (1959), the Celsius scale, and the British thermal unit by the
 * steam tables (1055.05585262 J). */
typedef struct {
    ks_quantity quantity;
    const char *names; /* parted by |; the first is the one to declare */
    ks_rational factor, shift;
    bool joined; /* may be followed by a smaller unit: "1 ft 2 in" */
} ks_unit;

/* The unit at *at, which moves behind it and an abbreviation's point; NULL if there is none. */
const ks_unit *ks_unit_take(ks_quantity quantity, const char **at);

/* The unit that this is the whole name of; NULL also for a NULL name. */
const ks_unit *ks_unit_named(ks_quantity quantity, const char *name);

const char *ks_blanks_skip(const char *at); /* blanks, tabs and no-break spaces */

#endif
