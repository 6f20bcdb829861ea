#include "shape/plane.h"

/* Power series for at most an eighth turn, where their ends are below 1e-18. */
static double sine_of(double x)
{
    double square = x * x, sum = 1;
    for (int k = 18; k >= 2; k -= 2)
        sum = 1 - square / (k * (k + 1)) * sum;
    return x * sum;
}

static double cosine_of(double x)
{
    double square = x * x, sum = 1;
    for (int k = 19; k >= 1; k -= 2)
        sum = 1 - square / (k * (k + 1)) * sum;
    return sum;
}

ks_rotation ks_rotation_of(double turn_deg)
{
    double within = turn_deg - 360 * floor(turn_deg / 360);
    double quarters = floor(within / 90 + 0.5);
    double x = (within - 90 * quarters) * (KS_PI / 180);
    double c = cosine_of(x), s = sine_of(x);
    if (quarters == 1)
        return (ks_rotation){0 - s, c};
    if (quarters == 2)
        return (ks_rotation){-c, 0 - s};
    if (quarters == 3)
        return (ks_rotation){s, -c};
    return (ks_rotation){c, s};
}

ks_outline ks_outline_placed_in(const ks_outline *shape, ks_stand stand, ks_point *vertices)
{
    ks_rotation by = ks_rotation_of(stand.turn_deg);
    for (int i = 0; i < shape->n; i++) {
        ks_point p = shape->at[i];
        vertices[i] =
            (ks_point){stand.x + (by.c * p.x - by.s * p.y), stand.y + (by.s * p.x + by.c * p.y)};
    }
    return (ks_outline){shape->n, vertices, shape->round};
}

ks_outline ks_outline_place(const ks_outline *shape, ks_stand stand, ks_arena *arena)
{
    return ks_outline_placed_in(shape, stand, KS_TAKE(arena, shape->n, ks_point));
}

/* Divided by whole thousands, so that the shortest decimal is the one on the grid; + 0 turns a
 * negative zero into the plain one. */
static double gridded(double mm)
{
    return floor(mm * 1000 + 0.5) / 1000 + 0.0;
}

ks_outline ks_outline_gridded(const ks_outline *shape, ks_arena *arena)
{
    ks_point *at = KS_TAKE(arena, shape->n, ks_point);
    int n = 0;
    for (int i = 0; i < shape->n; i++) {
        ks_point p = {gridded(shape->at[i].x), gridded(shape->at[i].y)};
        if (n == 0 || p.x != at[n - 1].x || p.y != at[n - 1].y)
            at[n++] = p;
    }
    while (n > 1 && at[0].x == at[n - 1].x && at[0].y == at[n - 1].y)
        n--;
    return (ks_outline){n, at, gridded(shape->round)};
}
