/* display.h: quantities in words, in the units in which the order is written. */
#ifndef KILNSTOW_STUDIO_DISPLAY_H
#define KILNSTOW_STUDIO_DISPLAY_H

#include "base/units.h"
#include "kilnstow/order.h"

/* "125 mm", "12.5 cm" or "4 15/16 in": to the nearest mm, half mm, or sixteenth. */
const char *ks_show_length(const ks_display *display, double mm, ks_arena *arena);

/* For what is tight, "6.3 mm", "0.63 cm", "0.25 in": what is to spare rounded down and what is
 * lacking rounded up, so that nothing is promised that is not there. */
const char *ks_show_spare(const ks_display *display, double mm, ks_arena *arena);
const char *ks_show_lack(const ks_display *display, double mm, ks_arena *arena);

/* For what is to be made or bought: whole mm, or sixteenths of an inch, rounded up. */
const char *ks_show_length_up(const ks_display *display, double mm, ks_arena *arena);

/* "1.25 kg", "800 g", "2.76 lb"; what is too much for grams or ounces in kg or lb. */
const char *ks_show_mass(const ks_display *display, double kg, ks_arena *arena);

/* For what is lifted or borne, no finer than it is known: whole kg or lb from ten on, tenths below.
 * `way` > 0 rounds up, < 0 down, 0 to the nearest. */
const char *ks_show_burden(const ks_display *display, double kg, int way, ks_arena *arena);

const char *ks_show_temp(const ks_display *display, double temp_c, ks_arena *arena); /* "1186 °C" */
const char *ks_show_rate(const ks_display *display, double c_h, ks_arena *arena); /* "180 °F/h" */

const char *ks_show_hours(double hours, ks_arena *arena); /* "9 h 38", to the nearest minute */

/* A difference of two temperatures, in K: 100 are "100 °C" or "180 °F". */
const char *ks_show_warmer(const ks_display *display, double k, ks_arena *arena);

/* For a column: its unit's sign, and the bare numbers under it. Masses are in kg or lb. */
const char *ks_show_unit(const ks_display *display, ks_quantity quantity);
double ks_show_number(const ks_display *display, ks_quantity quantity, double value);

#endif
