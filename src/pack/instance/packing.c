#include "pack/instance/packing.h"

#include <math.h>
#include <string.h>

/* The same turn as ks_rotation_of to the last bit or two, in a fraction of the time. */
static ks_rotation quick_rotation(double turn_deg)
{
    double quarters = floor(turn_deg / 90 + 0.5);
    double x = (turn_deg - 90 * quarters) * 0.017453292519943295, z = x * x;
    double s =
        x * (1 + z * (-1.0 / 6 +
                      z * (1.0 / 120 + z * (-1.0 / 5040 +
                                            z * (1.0 / 362880 + z * (-1.0 / 39916800 +
                                                                     z * (1.0 / 6227020800.0)))))));
    double c =
        1 + z * (-1.0 / 2 +
                 z * (1.0 / 24 + z * (-1.0 / 720 +
                                      z * (1.0 / 40320 + z * (-1.0 / 3628800 +
                                                              z * (1.0 / 479001600.0 +
                                                                   z * (-1.0 / 87178291200.0)))))));
    int quarter = (int)(quarters - 4 * floor(quarters / 4));
    const ks_rotation by_quarter[4] = {{c, s}, {-s, c}, {-c, -s}, {s, -c}};
    return by_quarter[quarter];
}

void ks_packing_init(ks_packing *packing, ks_instance *instance, int room, ks_arena *arena)
{
    *packing = (ks_packing){.instance = instance, .room = room};
    size_t corners = (size_t)room * (size_t)instance->longest;
    packing->kind = KS_TAKE(arena, room, int);
    packing->place = KS_TAKE(arena, room, ks_placement);
    packing->x = KS_TAKE(arena, corners, double);
    packing->y = KS_TAKE(arena, corners, double);
    packing->nx = KS_TAKE(arena, corners, double);
    packing->ny = KS_TAKE(arena, corners, double);
    packing->core_at = KS_TAKE(arena, room * instance->most_cores, ks_point);
    packing->fixtures = KS_TAKE(arena, instance->n_fixtures, ks_core);
    packing->fixture_at = KS_TAKE(arena, instance->n_fixtures, ks_point);
    for (int f = 0; f < instance->n_fixtures; f++) {
        const ks_fixture *fixture = &instance->fixtures[f];
        packing->fixtures[f] = fixture->core;
        packing->fixture_at[f] = (ks_point){fixture->middle_x, fixture->middle_y};
        if (!fixture->turns)
            continue;
        double *own = KS_TAKE(arena, 4 * fixture->core.n, double);
        int n = fixture->core.n;
        packing->fixtures[f] = (ks_core){n, own, own + n, own + 2 * n, own + 3 * n};
    }
    ks_packing_turn_posts(packing, instance->space.post_turn_deg);
}

/* Corners of `from` turned and moved into those of `to`. */
static void turn_core(const ks_core *from, ks_rotation by, double x, double y, const ks_core *to)
{
    double *tx = (double *)to->x, *ty = (double *)to->y;
    double *tnx = (double *)to->nx, *tny = (double *)to->ny;
    for (int k = 0; k < from->n; k++) {
        tx[k] = x + (by.c * from->x[k] - by.s * from->y[k]);
        ty[k] = y + (by.s * from->x[k] + by.c * from->y[k]);
        tnx[k] = by.c * from->nx[k] - by.s * from->ny[k];
        tny[k] = by.s * from->nx[k] + by.c * from->ny[k];
    }
}

void ks_packing_turn_posts(ks_packing *packing, double turn_deg)
{
    ks_rotation by = quick_rotation(turn_deg);
    packing->post_turn_deg = turn_deg;
    for (int f = 0; f < packing->instance->n_fixtures; f++) {
        const ks_fixture *fixture = &packing->instance->fixtures[f];
        if (!fixture->turns)
            continue;
        double x = fixture->middle_x, y = fixture->middle_y;
        packing->fixture_at[f] = (ks_point){by.c * x - by.s * y, by.s * x + by.c * y};
        turn_core(&fixture->core, by, 0, 0, &packing->fixtures[f]);
    }
}

void ks_packing_copy(ks_packing *packing, const ks_packing *from)
{
    size_t n = (size_t)from->n, corners = n * (size_t)from->instance->longest;
    packing->n = from->n;
    memcpy(packing->kind, from->kind, n * sizeof *packing->kind);
    memcpy(packing->place, from->place, n * sizeof *packing->place);
    memcpy(packing->x, from->x, corners * sizeof *packing->x);
    memcpy(packing->y, from->y, corners * sizeof *packing->y);
    memcpy(packing->nx, from->nx, corners * sizeof *packing->nx);
    memcpy(packing->ny, from->ny, corners * sizeof *packing->ny);
    memcpy(packing->core_at, from->core_at,
           n * (size_t)from->instance->most_cores * sizeof *packing->core_at);
    if (packing->post_turn_deg != from->post_turn_deg)
        ks_packing_turn_posts(packing, from->post_turn_deg);
}

void ks_packing_move_turned(ks_packing *packing, int i, ks_placement place)
{
    const ks_item_type *kind = &packing->instance->kinds[packing->kind[i]];
    int at = i * packing->instance->longest;
    packing->place[i] = place;
    ks_point *core_at = packing->core_at + i * packing->instance->most_cores;
    ks_rotation by = quick_rotation(place.turn_deg);
    for (int c = 0; c < kind->n_cores; c++) {
        ks_point p = kind->around[c].centre;
        core_at[c] =
            (ks_point){place.x + (by.c * p.x - by.s * p.y), place.y + (by.s * p.x + by.c * p.y)};
    }
    ks_core own = {kind->n_corners, kind->x, kind->y, kind->nx, kind->ny};
    ks_core now = {own.n, packing->x + at, packing->y + at, packing->nx + at, packing->ny + at};
    turn_core(&own, by, place.x, place.y, &now);
}

void ks_packing_add(ks_packing *packing, int kind, ks_placement place)
{
    packing->kind[packing->n] = kind;
    packing->n++;
    ks_packing_move(packing, packing->n - 1, place);
}

void ks_packing_remove(ks_packing *packing, int i)
{
    int last = --packing->n;
    if (i == last)
        return;
    packing->kind[i] = packing->kind[last];
    ks_packing_move(packing, i, packing->place[last]);
}

static double on_grid(double mm)
{
    return floor(mm * 1000 + 0.5) / 1000 + 0.0;
}

ks_stand ks_placement_stand(const ks_item_type *kind, ks_placement place)
{
    double turn = on_grid(place.turn_deg - 360 * floor(place.turn_deg / 360));
    turn = turn >= 360 ? 0 : turn;
    ks_rotation by = ks_rotation_of(turn);
    double x = by.c * kind->middle_x - by.s * kind->middle_y;
    double y = by.s * kind->middle_x + by.c * kind->middle_y;
    return (ks_stand){on_grid(place.x - x), on_grid(place.y - y), turn};
}

ks_placement ks_stand_placement(const ks_item_type *kind, ks_stand stand)
{
    ks_rotation by = ks_rotation_of(stand.turn_deg);
    double x = by.c * kind->middle_x - by.s * kind->middle_y;
    double y = by.s * kind->middle_x + by.c * kind->middle_y;
    return (ks_placement){stand.x + x, stand.y + y, stand.turn_deg};
}
