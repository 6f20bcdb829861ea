#include "studio/display.h"

#include "base/number.h"

#include <math.h>
#include <string.h>

static const double most_small_kg = 10;

static bool is_inches(const ks_display *display)
{
    return display->length && strcmp(display->length, "in") == 0;
}

static bool is_cm(const ks_display *display)
{
    return display->length && strcmp(display->length, "cm") == 0;
}

static bool is_pounds(const ks_display *display)
{
    return display->mass && (strcmp(display->mass, "lb") == 0 || strcmp(display->mass, "oz") == 0);
}

static bool is_fahrenheit(const ks_display *display)
{
    return display->temp && strcmp(display->temp, "F") == 0;
}

const char *ks_show_unit(const ks_display *display, ks_quantity quantity)
{
    switch (quantity) {
    case KS_LENGTH:
        return is_inches(display) ? "in" : is_cm(display) ? "cm" : "mm";
    case KS_MASS:
        return is_pounds(display) ? "lb" : "kg";
    case KS_TEMP:
        return is_fahrenheit(display) ? "°F" : "°C";
    case KS_RATE:
        return is_fahrenheit(display) ? "°F/h" : "°C/h";
    case KS_TIME:
        return "s";
    case KS_POWER:
        return "kW";
    }
    return "";
}

double ks_show_number(const ks_display *display, ks_quantity quantity, double value)
{
    if (quantity == KS_LENGTH)
        return is_inches(display) ? value / KS_MM_IN_INCH : is_cm(display) ? value / 10 : value;
    if (quantity == KS_MASS && is_pounds(display))
        return value / KS_KG_IN_POUND;
    if (quantity == KS_TEMP && is_fahrenheit(display))
        return value * 1.8 + 32;
    if (quantity == KS_RATE && is_fahrenheit(display))
        return value * 1.8;
    return value;
}

const char *ks_show_length(const ks_display *display, double mm, ks_arena *arena)
{
    return ks_quantity_print(KS_LENGTH, mm, ks_show_unit(display, KS_LENGTH), arena);
}

/* What is exact but for a double's last bits is not moved a whole step by them. */
static const double last_bits = 1e-6;

static int tight_decimals(const ks_display *display)
{
    return is_inches(display) || is_cm(display) ? 2 : 1;
}

static const char *tight(const ks_display *display, double number, ks_arena *arena)
{
    return ks_arena_print(arena, "%s %s", ks_number_fixed(number, tight_decimals(display), arena),
                          ks_show_unit(display, KS_LENGTH));
}

const char *ks_show_spare(const ks_display *display, double mm, ks_arena *arena)
{
    double step = pow(10, tight_decimals(display));
    double number = ks_show_number(display, KS_LENGTH, mm);
    return tight(display, floor(number * step + last_bits) / step, arena);
}

const char *ks_show_lack(const ks_display *display, double mm, ks_arena *arena)
{
    double step = pow(10, tight_decimals(display));
    double number = ks_show_number(display, KS_LENGTH, mm);
    return tight(display, ceil(number * step - last_bits) / step, arena);
}

const char *ks_show_length_up(const ks_display *display, double mm, ks_arena *arena)
{
    double step = is_inches(display) ? KS_MM_IN_INCH / 16 : 1;
    return ks_show_length(display, ceil(mm / step - last_bits) * step, arena);
}

const char *ks_show_mass(const ks_display *display, double kg, ks_arena *arena)
{
    bool small = display->mass && fabs(kg) < most_small_kg;
    return ks_quantity_print(KS_MASS, kg, small ? display->mass : ks_show_unit(display, KS_MASS),
                             arena);
}

const char *ks_show_burden(const ks_display *display, double kg, int way, ks_arena *arena)
{
    double number = ks_show_number(display, KS_MASS, kg), steps = number < 10 ? 10 : 1;
    double n = way > 0   ? ceil(number * steps - last_bits)
               : way < 0 ? floor(number * steps + last_bits)
                         : floor(number * steps + 0.5);
    return ks_arena_print(arena, steps > 1 ? "%.1f %s" : "%.0f %s", n / steps,
                          ks_show_unit(display, KS_MASS));
}

const char *ks_show_temp(const ks_display *display, double temp_c, ks_arena *arena)
{
    return ks_quantity_print(KS_TEMP, temp_c, is_fahrenheit(display) ? "F" : "C", arena);
}

const char *ks_show_rate(const ks_display *display, double c_h, ks_arena *arena)
{
    return ks_quantity_print(KS_RATE, c_h, is_fahrenheit(display) ? "F/h" : "C/h", arena);
}

const char *ks_show_hours(double hours, ks_arena *arena)
{
    int minutes = (int)floor(hours * 60 + 0.5);
    return ks_arena_print(arena, "%d h %02d", minutes / 60, minutes % 60);
}

const char *ks_show_warmer(const ks_display *display, double k, ks_arena *arena)
{
    return ks_arena_print(arena, "%.0f %s", ks_show_number(display, KS_RATE, k),
                          ks_show_unit(display, KS_TEMP));
}
