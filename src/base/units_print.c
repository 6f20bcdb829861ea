/* The way back from quantities to words; the reading is in units.c. */
#include "base/text.h"
#include "base/units.h"

#include <math.h>
#include <stdlib.h>

enum { SIXTEENTHS = 16 };

/* "10 1/2 in": a fraction of sixteenths in lowest terms. */
static const char *inches(double mm, ks_arena *arena)
{
    double rounded = floor(fabs(mm) / KS_MM_IN_INCH * SIXTEENTHS + 0.5);
    double whole = floor(rounded / SIXTEENTHS);
    int part = (int)(rounded - whole * SIXTEENTHS), of = SIXTEENTHS;
    for (; part > 0 && part % 2 == 0; part /= 2)
        of /= 2;
    const char *sign = mm < 0 && rounded > 0 ? "-" : "";
    if (part == 0)
        return ks_arena_print(arena, "%s%.0f in", sign, whole);
    if (whole < 1)
        return ks_arena_print(arena, "%s%d/%d in", sign, part, of);
    return ks_arena_print(arena, "%s%.0f %d/%d in", sign, whole, part, of);
}

static const char *hours_and_minutes(double seconds, ks_arena *arena)
{
    double minutes = floor(fabs(seconds) / 60 + 0.5), hours = floor(minutes / 60);
    int rest = (int)(minutes - 60 * hours);
    const char *sign = seconds < 0 && minutes > 0 ? "-" : "";
    if (hours < 1)
        return ks_arena_print(arena, "%s%d min", sign, rest);
    if (rest == 0)
        return ks_arena_print(arena, "%s%.0f h", sign, hours);
    return ks_arena_print(arena, "%s%.0f h %d min", sign, hours, rest);
}

static const struct {
    ks_quantity quantity;
    const char *unit;
    double size, shift; /* of one unit, in the quantity's own; where its zero lies */
    int decimals;
    const char *words;
} shown[] = {
    {KS_LENGTH, "mm", 1, 0, 0, "mm"},
    {KS_LENGTH, "cm", 10, 0, 1, "cm"},
    {KS_LENGTH, "m", 1000, 0, 2, "m"},
    {KS_LENGTH, "ft", 304.8, 0, 2, "ft"},
    {KS_MASS, "kg", 1, 0, 2, "kg"},
    {KS_MASS, "g", 0.001, 0, 0, "g"},
    {KS_MASS, "lb", KS_KG_IN_POUND, 0, 2, "lb"},
    {KS_MASS, "oz", 0.028349523125, 0, 1, "oz"},
    {KS_TEMP, "C", 1, 0, 0, "\u00B0C"},
    {KS_TEMP, "F", 5.0 / 9, -160.0 / 9, 0, "\u00B0F"},
    {KS_TEMP, "K", 1, -273.15, 0, "K"},
    {KS_RATE, "C/h", 1, 0, 0, "\u00B0C/h"},
    {KS_RATE, "F/h", 5.0 / 9, 0, 0, "\u00B0F/h"},
    {KS_RATE, "C", 1, 0, 0, "\u00B0C/h"},
    {KS_RATE, "F", 5.0 / 9, 0, 0, "\u00B0F/h"},
    {KS_POWER, "kW", 1, 0, 1, "kW"},
    {KS_POWER, "W", 0.001, 0, 0, "W"},
};

const char *ks_quantity_print(ks_quantity quantity, double value, const char *unit, ks_arena *arena)
{
    if (quantity == KS_TIME)
        return hours_and_minutes(value, arena);
    if (quantity == KS_LENGTH && ks_same_word(unit, "in"))
        return inches(value, arena);
    size_t row = 0, rows = sizeof shown / sizeof *shown;
    while (row < rows && (shown[row].quantity != quantity || !ks_same_word(shown[row].unit, unit)))
        row++;
    if (row == rows)
        return NULL;
    double number = (value - shown[row].shift) / shown[row].size;
    return ks_arena_print(arena, "%s %s", ks_number_fixed(number, shown[row].decimals, arena),
                          shown[row].words);
}
