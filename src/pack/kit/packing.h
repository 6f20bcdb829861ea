/* packing.h: bodies on a level while they are moved about; they may overlap. */
#ifndef KILNSTOW_PACK_KIT_PACKING_H
#define KILNSTOW_PACK_KIT_PACKING_H

#include "pack/kit/instance.h"

/* Where a body's middle is, and its turn. */
typedef struct {
    double x, y, turn_deg;
} ks_lie;

/* Bodies 0 to n - 1, with the corners of each worked out where it is now. */
typedef struct {
    ks_kit *kit;
    int n, room;
    int *kind;
    ks_lie *lie;
    double *x, *y, *nx, *ny; /* room x kit->longest corners and edge normals */
    ks_point *core_at;       /* room x kit->most_cores middles of their circles */
    double post_turn_deg;
    ks_core *fixtures;    /* as the posts are turned now */
    ks_point *fixture_at; /* their middles */
} ks_pile;

void ks_pile_init(ks_pile *pile, ks_kit *kit, int room, ks_arena *arena);

/* The bodies of `from`, which is of the same kit. */
void ks_pile_copy(ks_pile *pile, const ks_pile *from);

/* One more body, the last; there must be room for it. */
void ks_pile_add(ks_pile *pile, int kind, ks_lie lie);

/* Takes body i out; the last takes its number. */
void ks_pile_remove(ks_pile *pile, int i);

/* Moves body i there, with its turn. A disc is one corner, and a core around it. */
void ks_pile_move_turned(ks_pile *pile, int i, ks_lie lie);
static inline void ks_pile_move(ks_pile *pile, int i, ks_lie lie)
{
    if (!pile->kit->kinds[pile->kind[i]].turnless) {
        ks_pile_move_turned(pile, i, lie);
        return;
    }
    pile->lie[i] = lie;
    pile->x[i * pile->kit->longest] = lie.x;
    pile->y[i * pile->kit->longest] = lie.y;
    pile->core_at[i * pile->kit->most_cores] = (ks_point){lie.x, lie.y};
}

void ks_pile_turn_posts(ks_pile *pile, double turn_deg);

/* Core c of body i where it is now. */
static inline ks_core ks_pile_core(const ks_pile *pile, int i, int c)
{
    const ks_kind *kind = &pile->kit->kinds[pile->kind[i]];
    int at = i * pile->kit->longest + kind->first[c];
    return (ks_core){kind->corners[c], pile->x + at, pile->y + at, pile->nx + at, pile->ny + at};
}

/* From the search's axes to a stand on the plan's grid, and back. */
ks_stand ks_lie_stand(const ks_kind *kind, ks_lie lie);
ks_lie ks_stand_lie(const ks_kind *kind, ks_stand stand);

#endif
