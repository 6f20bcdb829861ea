#include "draw/facts/say.h"

#include "base/days/date.h"
#include "base/money_text.h"
#include "draw/scene/out.h"
#include "studio/display.h"

#include <math.h>
#include <string.h>

bool ks_say_inches(const ks_display *display)
{
    return strcmp(ks_show_unit(display, KS_LENGTH), "in") == 0;
}

/* To that many digits (two at most), without needless zeros. */
static const char *decimal(double value, int digits, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    double step = pow(10, digits);
    ks_drawn_number(&text, round(value * step) / step);
    return ks_text_end(&text);
}

const char *ks_say_unit(const ks_display *display)
{
    return ks_show_unit(display, KS_LENGTH);
}

const char *ks_say_bare(const ks_display *display, double mm, ks_arena *arena)
{
    char *text = ks_arena_text(arena, ks_say_length(display, mm, arena));
    char *space = strrchr(text, ' ');
    if (space)
        *space = '\0';
    return text;
}

const char *ks_say_length(const ks_display *display, double mm, ks_arena *arena)
{
    return ks_show_length(display, mm, arena);
}

const char *ks_say_both(const ks_display *display, double mm, ks_arena *arena)
{
    const char *text = ks_say_length(display, mm, arena);
    return ks_say_inches(display) ? ks_arena_print(arena, "%s (%s mm)", text, decimal(mm, 0, arena))
                                  : text;
}

const char *ks_say_bare_both(const ks_display *display, double mm, ks_arena *arena)
{
    const char *text = ks_say_bare(display, mm, arena);
    return ks_say_inches(display) ? ks_arena_print(arena, "%s (%s)", text, decimal(mm, 0, arena))
                                  : text;
}

const char *ks_say_beside(const ks_display *display, double mm, ks_arena *arena)
{
    return ks_say_inches(display) ? ks_arena_print(arena, "%s mm", decimal(mm, 0, arena)) : "";
}

const char *ks_say_tight(const ks_display *display, double mm, ks_arena *arena)
{
    double number = ks_show_number(display, KS_LENGTH, mm);
    const char *unit = ks_say_unit(display);
    if (ks_say_inches(display))
        return ks_arena_print(arena, "%.2f %s", number, unit);
    return ks_arena_print(arena, "%s %s", decimal(number, *unit == 'c' ? 2 : 1, arena), unit);
}

const char *ks_say_fine(const ks_display *display, double mm, ks_arena *arena)
{
    const char *text = ks_say_tight(display, mm, arena);
    return ks_say_inches(display) ? ks_arena_print(arena, "%s (%s mm)", text, decimal(mm, 1, arena))
                                  : text;
}

const char *ks_say_mass(const ks_display *display, double kg, ks_arena *arena)
{
    const char *text = ks_arena_print(arena, "%s kg", decimal(kg, 1, arena));
    const char *unit = ks_show_unit(display, KS_MASS);
    if (strcmp(unit, "kg") == 0)
        return text;
    double number = ks_show_number(display, KS_MASS, kg);
    return ks_arena_print(arena, "%s %s (%s)", decimal(number, 1, arena), unit, text);
}

const char *ks_say_temp(const ks_display *display, double temp_c, ks_arena *arena)
{
    const char *text = ks_arena_print(arena, "%s °C", decimal(temp_c, 0, arena));
    const char *unit = ks_show_unit(display, KS_TEMP);
    if (strcmp(unit, "°C") == 0)
        return text;
    double number = ks_show_number(display, KS_TEMP, temp_c);
    return ks_arena_print(arena, "%s %s (%s)", decimal(number, 0, arena), unit, text);
}

const char *ks_say_count(int n, const char *one, const char *many, ks_arena *arena)
{
    return ks_arena_print(arena, "%d %s", n, ks_tr_count(n, one, many));
}

const char *ks_say_day(int day, ks_arena *arena)
{
    return day == KS_NO_DAY ? "" : ks_date_print(day, arena);
}

const char *ks_say_join(ks_arena *arena, const char *between, const char *a, const char *b)
{
    if (!a || !*a)
        return b ? b : "";
    return b && *b ? ks_arena_print(arena, "%s%s%s", a, between, b) : a;
}
