/* packing.h: bodies on a level while they are moved about; they may overlap. */
#ifndef KILNSTOW_PACK_INSTANCE_PACKING_H
#define KILNSTOW_PACK_INSTANCE_PACKING_H

#include "pack/instance/instance.h"

/* Where a body's middle is, and its turn. */
typedef struct {
    double x, y, turn_deg;
} ks_placement;

/* Bodies 0 to n - 1, with the corners of each worked out where it is now. */
typedef struct {
    ks_instance *instance;
    int n, room;
    int *kind;
    ks_placement *place;
    double *x, *y, *nx, *ny; /* room x instance->longest corners and edge normals */
    ks_point *core_at;       /* room x instance->most_cores middles of their circles */
    double post_turn_deg;
    ks_core *fixtures;    /* as the posts are turned now */
    ks_point *fixture_at; /* their middles */
} ks_packing;

void ks_packing_init(ks_packing *packing, ks_instance *instance, int room, ks_arena *arena);

/* The bodies of `from`, which is of the same instance. */
void ks_packing_copy(ks_packing *packing, const ks_packing *from);

/* One more body, the last; there must be room for it. */
void ks_packing_add(ks_packing *packing, int kind, ks_placement place);

/* Takes body i out; the last takes its number. */
void ks_packing_remove(ks_packing *packing, int i);

/* Moves body i there, with its turn. A disc is one corner, and a core around it. */
void ks_packing_move_turned(ks_packing *packing, int i, ks_placement place);
static inline void ks_packing_move(ks_packing *packing, int i, ks_placement place)
{
    if (!packing->instance->kinds[packing->kind[i]].turnless) {
        ks_packing_move_turned(packing, i, place);
        return;
    }
    packing->place[i] = place;
    packing->x[i * packing->instance->longest] = place.x;
    packing->y[i * packing->instance->longest] = place.y;
    packing->core_at[i * packing->instance->most_cores] = (ks_point){place.x, place.y};
}

void ks_packing_turn_posts(ks_packing *packing, double turn_deg);

/* Core c of body i where it is now. */
static inline ks_core ks_packing_core(const ks_packing *packing, int i, int c)
{
    const ks_item_type *kind = &packing->instance->kinds[packing->kind[i]];
    int at = i * packing->instance->longest + kind->first[c];
    return (ks_core){kind->corners[c], packing->x + at, packing->y + at, packing->nx + at,
                     packing->ny + at};
}

/* From the search's axes to a stand on the plan's grid, and back. */
ks_stand ks_placement_stand(const ks_item_type *kind, ks_placement place);
ks_placement ks_stand_placement(const ks_item_type *kind, ks_stand stand);

#endif
