#include "clock/window.h"

bool ks_window_holds(const ks_window *window, ks_civil at)
{
    if (!(window->weekdays >> at.weekday & 1) || !(window->months >> (at.month - 1) & 1))
        return false;
    if (window->from_min == window->to_min)
        return true;
    if (window->from_min < window->to_min)
        return at.minute >= window->from_min && at.minute < window->to_min;
    return at.minute >= window->from_min || at.minute < window->to_min;
}
