/* say.h: sizes and counts in words, in the units of the order. */
#ifndef KILNSTOW_DRAW_FACTS_SAY_H
#define KILNSTOW_DRAW_FACTS_SAY_H

#include "base/language.h"
#include "kilnstow/plan.h"

/* "125 mm", "12.5 cm" or "4 15/16 in" to the nearest mm, half mm, or sixteenth. */
const char *ks_say_length(const ks_display *display, double mm, ks_arena *arena);

/* Inches with mm beside them: "4 15/16 in (125 mm)"; else as ks_say_length. */
const char *ks_say_both(const ks_display *display, double mm, ks_arena *arena);

/* The number alone, for a label in a drawing. */
const char *ks_say_bare(const ks_display *display, double mm, ks_arena *arena);

/* For columns: "4 15/16 (125)" with inches, else the number alone. */
const char *ks_say_bare_both(const ks_display *display, double mm, ks_arena *arena);

/* For a second line under a length: "125 mm" where lengths are in inches, else "". */
const char *ks_say_beside(const ks_display *display, double mm, ks_arena *arena);

/* To the tenth of a mm, for what is tight: "6.3 mm", "0.25 in"; inches with mm beside them. */
const char *ks_say_tight(const ks_display *display, double mm, ks_arena *arena);
const char *ks_say_fine(const ks_display *display, double mm, ks_arena *arena);

/* The unit's sign: "mm", "cm" or "in". */
const char *ks_say_unit(const ks_display *display);

bool ks_say_inches(const ks_display *display); /* whether lengths are told in inches */

const char *ks_say_mass(const ks_display *display, double kg, ks_arena *arena);
const char *ks_say_temp(const ks_display *display, double temp_c, ks_arena *arena);

/* "1 piece", "3 pieces", in the language in use. */
const char *ks_say_count(int n, const char *one, const char *many, ks_arena *arena);

/* "2026-11-28", or "" without a day. */
const char *ks_say_day(int day, ks_arena *arena);

/* Joins what is not empty: ks_say_join(arena, ", ", "a", "b"). */
const char *ks_say_join(ks_arena *arena, const char *between, const char *a, const char *b);

#endif
