/* Between two cones. */
#include "kilnstow/cone.h"

#include "base/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define BELOW_THE_ROW_K 60.0

const char *ks_cone_print(double place, ks_arena *arena)
{
    if (place < 0)
        return ks_arena_print(arena, "below %s", ks_cone(0)->name);
    int down = (int)place;
    double part = floor(10 * (place - down) + 0.5) / 10;
    if (part >= 1 && down + 1 < ks_cone_count())
        return ks_cone(down + 1)->name;
    return part > 0 && down + 1 < ks_cone_count()
               ? ks_arena_print(arena, "%s+%.1f", ks_cone(down)->name, part)
               : ks_cone(down)->name;
}

bool ks_cone_place_read(const char *text, double *place)
{
    char name[16];
    const char *plus = strchr(text, '+');
    size_t length = plus ? (size_t)(plus - text) : strlen(text);
    double part = 0;
    if (length >= sizeof name)
        return false;
    memcpy(name, text, length);
    name[length] = '\0';
    int down = ks_cone_find(name);
    if (down < 0 || (plus && ks_number_parse(plus + 1, &part)))
        return false;
    *place = down + part;
    return part >= 0 && part < 1;
}

double ks_cone_place_c(double place)
{
    int last = ks_cone_count() - 1;
    if (place < 0)
        return ks_cone(0)->temp_c[1] + BELOW_THE_ROW_K * place;
    int down = (int)place;
    if (down >= last)
        return ks_cone(last)->temp_c[1];
    double below = ks_cone(down)->temp_c[1];
    return below + (place - down) * (ks_cone(down + 1)->temp_c[1] - below);
}

static int next_whole(int place, int step)
{
    for (place += step; place >= 0 && place < ks_cone_count(); place += step)
        if (!strchr(ks_cone(place)->name, '.'))
            return place;
    return -1;
}

#define BENDS_OVER_K                                                                               \
    22.0 /* from its first move to its tip down: published chart; some cones lie nearer */

static double half_way_c(int place, int step)
{
    int next = next_whole(place, step);
    double here = ks_cone(place)->temp_c[1];
    double half_k = next < 0 ? 0 : 0.5 * fabs(ks_cone(next)->temp_c[1] - here);
    return here + step * fmax(half_k, BENDS_OVER_K / 2);
}

double ks_cone_least_c(int place)
{
    return half_way_c(place, -1);
}

double ks_cone_most_c(int place)
{
    return half_way_c(place, 1);
}
