#include "pack/kit/packing.h"

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

void ks_pile_init(ks_pile *pile, ks_kit *kit, int room, ks_arena *arena)
{
    *pile = (ks_pile){.kit = kit, .room = room};
    size_t corners = (size_t)room * (size_t)kit->longest;
    pile->kind = KS_TAKE(arena, room, int);
    pile->lie = KS_TAKE(arena, room, ks_lie);
    pile->x = KS_TAKE(arena, corners, double);
    pile->y = KS_TAKE(arena, corners, double);
    pile->nx = KS_TAKE(arena, corners, double);
    pile->ny = KS_TAKE(arena, corners, double);
    pile->core_at = KS_TAKE(arena, room * kit->most_cores, ks_point);
    pile->fixtures = KS_TAKE(arena, kit->n_fixtures, ks_core);
    pile->fixture_at = KS_TAKE(arena, kit->n_fixtures, ks_point);
    for (int f = 0; f < kit->n_fixtures; f++) {
        const ks_fixture *fixture = &kit->fixtures[f];
        pile->fixtures[f] = fixture->core;
        pile->fixture_at[f] = (ks_point){fixture->middle_x, fixture->middle_y};
        if (!fixture->turns)
            continue;
        double *own = KS_TAKE(arena, 4 * fixture->core.n, double);
        int n = fixture->core.n;
        pile->fixtures[f] = (ks_core){n, own, own + n, own + 2 * n, own + 3 * n};
    }
    ks_pile_turn_posts(pile, kit->space.post_turn_deg);
}

/* Corners of `from` turned and moved into those of `to`. */
static void core_turned(const ks_core *from, ks_rotation by, double x, double y, const ks_core *to)
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

void ks_pile_turn_posts(ks_pile *pile, double turn_deg)
{
    ks_rotation by = quick_rotation(turn_deg);
    pile->post_turn_deg = turn_deg;
    for (int f = 0; f < pile->kit->n_fixtures; f++) {
        const ks_fixture *fixture = &pile->kit->fixtures[f];
        if (!fixture->turns)
            continue;
        double x = fixture->middle_x, y = fixture->middle_y;
        pile->fixture_at[f] = (ks_point){by.c * x - by.s * y, by.s * x + by.c * y};
        core_turned(&fixture->core, by, 0, 0, &pile->fixtures[f]);
    }
}

void ks_pile_copy(ks_pile *pile, const ks_pile *from)
{
    size_t n = (size_t)from->n, corners = n * (size_t)from->kit->longest;
    pile->n = from->n;
    memcpy(pile->kind, from->kind, n * sizeof *pile->kind);
    memcpy(pile->lie, from->lie, n * sizeof *pile->lie);
    memcpy(pile->x, from->x, corners * sizeof *pile->x);
    memcpy(pile->y, from->y, corners * sizeof *pile->y);
    memcpy(pile->nx, from->nx, corners * sizeof *pile->nx);
    memcpy(pile->ny, from->ny, corners * sizeof *pile->ny);
    memcpy(pile->core_at, from->core_at, n * (size_t)from->kit->most_cores * sizeof *pile->core_at);
    if (pile->post_turn_deg != from->post_turn_deg)
        ks_pile_turn_posts(pile, from->post_turn_deg);
}

void ks_pile_move_turned(ks_pile *pile, int i, ks_lie lie)
{
    const ks_kind *kind = &pile->kit->kinds[pile->kind[i]];
    int at = i * pile->kit->longest;
    pile->lie[i] = lie;
    ks_point *core_at = pile->core_at + i * pile->kit->most_cores;
    ks_rotation by = quick_rotation(lie.turn_deg);
    for (int c = 0; c < kind->n_cores; c++) {
        ks_point p = kind->around[c].centre;
        core_at[c] =
            (ks_point){lie.x + (by.c * p.x - by.s * p.y), lie.y + (by.s * p.x + by.c * p.y)};
    }
    ks_core own = {kind->n_corners, kind->x, kind->y, kind->nx, kind->ny};
    ks_core now = {own.n, pile->x + at, pile->y + at, pile->nx + at, pile->ny + at};
    core_turned(&own, by, lie.x, lie.y, &now);
}

void ks_pile_add(ks_pile *pile, int kind, ks_lie lie)
{
    pile->kind[pile->n] = kind;
    pile->n++;
    ks_pile_move(pile, pile->n - 1, lie);
}

void ks_pile_remove(ks_pile *pile, int i)
{
    int last = --pile->n;
    if (i == last)
        return;
    pile->kind[i] = pile->kind[last];
    ks_pile_move(pile, i, pile->lie[last]);
}

static double on_grid(double mm)
{
    return floor(mm * 1000 + 0.5) / 1000 + 0.0;
}

ks_stand ks_lie_stand(const ks_kind *kind, ks_lie lie)
{
    double turn = on_grid(lie.turn_deg - 360 * floor(lie.turn_deg / 360));
    turn = turn >= 360 ? 0 : turn;
    ks_rotation by = ks_rotation_of(turn);
    double x = by.c * kind->middle_x - by.s * kind->middle_y;
    double y = by.s * kind->middle_x + by.c * kind->middle_y;
    return (ks_stand){on_grid(lie.x - x), on_grid(lie.y - y), turn};
}

ks_lie ks_stand_lie(const ks_kind *kind, ks_stand stand)
{
    ks_rotation by = ks_rotation_of(stand.turn_deg);
    double x = by.c * kind->middle_x - by.s * kind->middle_y;
    double y = by.s * kind->middle_x + by.c * kind->middle_y;
    return (ks_lie){stand.x + x, stand.y + y, stand.turn_deg};
}
