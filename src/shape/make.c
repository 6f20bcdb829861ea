#include "shape/plane.h"

ks_outline ks_outline_disc(double x, double y, double r, ks_arena *arena)
{
    ks_point *at = KS_TAKE(arena, 1, ks_point);
    at[0] = (ks_point){x, y};
    return (ks_outline){1, at, r};
}

ks_outline ks_outline_rectangle(double width, double depth, double corner, ks_arena *arena)
{
    double least = width < depth ? width : depth;
    double r = corner < least / 2 ? corner : least / 2;
    double x = width / 2 - r, y = depth / 2 - r;
    if (x <= 0 && y <= 0)
        return ks_outline_disc(0, 0, r, arena);
    ks_point *at = KS_TAKE(arena, 4, ks_point);
    if (x <= 0 || y <= 0) {
        at[0] = (ks_point){0 - x, 0 - y};
        at[1] = (ks_point){x, y};
        return (ks_outline){2, at, r};
    }
    at[0] = (ks_point){-x, -y};
    at[1] = (ks_point){x, -y};
    at[2] = (ks_point){x, y};
    at[3] = (ks_point){-x, y};
    return (ks_outline){4, at, r};
}

ks_outline ks_outline_regular(int sides, double across, ks_arena *arena)
{
    ks_point *at = KS_TAKE(arena, sides, ks_point);
    double corner = across / 2 / ks_rotation_of(180.0 / sides).c;
    for (int i = 0; i < sides; i++) {
        ks_rotation to = ks_rotation_of(180.0 * (2 * i + 1) / sides - 90);
        at[i] = (ks_point){corner * to.c, corner * to.s};
    }
    return (ks_outline){sides, at, 0};
}
