/* instance.h: a level made ready for searching: convex cores, and what each two must keep. */
#ifndef KILNSTOW_PACK_INSTANCE_INSTANCE_H
#define KILNSTOW_PACK_INSTANCE_INSTANCE_H

#include "pack/instance/core.h"
#include "pack/shelf/shelf.h"

/* Two cores, and how far apart they must be: rounds, clearance, reserve and the search's own
 * allowance, all in one. Negative where rounds reach less far than an obstacle lets them. */
typedef struct {
    int a, b;
    double need;
} ks_separation;

/* Separations that follow one another in their list and have the same first core. */
typedef struct {
    int a, end;  /* end: the number of the first that is another's */
    double need; /* the most of them */
} ks_separation_run;

typedef struct {
    int n;
    const ks_separation *list;
    int n_runs;
    const ks_separation_run *runs;
    double far;  /* centres farther apart than this cannot conflict */
    bool points; /* one meeting of two centred points: a disc with a disc */
} ks_separations;

/* Core of a kind and wall: no corner of the one may be beyond the other by more than `allowed`, mm.
 * Negative: it must be so far within. */
typedef struct {
    int core, wall;
    double allowed;
} ks_type_bound;

/* Something that stays: a core in place, in chamber axes. A concave region is the hull around it
 * as a wall, and what the hull has too much as fixtures. */
typedef struct {
    int obstacle, region; /* what it comes from, into those of the space; one of them is -1 */
    bool turns;
    ks_core core;
    double middle_x, middle_y, reach; /* circle around the core */
} ks_fixture;

/* An item as the search sees it, in axes through its own middle. */
typedef struct {
    const ks_shelf_item *item;
    double middle_x, middle_y; /* of the search's axes in the item's own */
    double reach;              /* of all parts with their rounds, about the middle */
    double size_mm2;           /* what it takes from the level: its outline grown by half the gap */
    int n_cores, n_corners;    /* corners of all cores, one after the other */
    const double *x, *y, *nx, *ny;
    const int *first, *corners; /* of each core */
    const double *core_reach;   /* about the middle, without round */
    double cores_reach;         /* the most of them */
    double *outreach; /* [core * n_cores + core], as ks_item_type_outreach tells; NAN = not known */
    const ks_circle *around; /* each core */
    int n_slices;
    const struct ks_slice {
        int core, part;
        double round;
    } * slices;
    int n_turns;   /* it may stand in so many ways; 0 = any turn */
    bool turnless; /* a disc: looks the same at any turn */
    bool hopeless; /* cannot stand here at all */
    int n_bounds;
    const ks_type_bound *bounds;
    bool in_round; /* a disc in a round room: the only bound is a point's from a point */
    const ks_separations *by_fixture; /* what it keeps from each fixture, b = 0 */
} ks_item_type;

typedef struct {
    ks_arena arena;
    ks_shelf_space space;
    int n_kinds;
    ks_shelf_item *items;
    ks_item_type *kinds;
    int n_walls;
    ks_core *walls; /* of regions; the core of a round one is its centre */
    int n_fixtures;
    ks_fixture *fixtures;
    ks_box box;            /* around all regions */
    double area_mm2;       /* of the smallest region, seen from above */
    int longest;           /* corners of the kind that has most */
    int most_cores;        /* of a kind */
    ks_separations **meet; /* n_kinds x n_kinds, NULL = not yet worked out */
} ks_instance;

/* What the search keeps beyond each need, mm, so that rounding to the grid breaks nothing. */
#define KS_PACK_ALLOWANCE 0.003

void ks_instance_init(ks_instance *instance, const ks_shelf_space *space, int n_items,
                      const ks_shelf_item *items);
void ks_instance_finish(ks_instance *instance);

/* What kinds a and b must keep, `a` of the first; worked out once. */
const ks_separations *ks_instance_meetings_find(ks_instance *instance, int a, int b);
static inline const ks_separations *ks_instance_meetings(ks_instance *instance, int a, int b)
{
    const ks_separations *known = instance->meet[a * instance->n_kinds + b];
    return known ? known : ks_instance_meetings_find(instance, a, b);
}

/* The turn of a kind's k-th way to stand. */
double ks_item_type_turn(const ks_item_type *kind, int k);

/* What the files that make an instance share. */

ks_core ks_item_type_core(const ks_item_type *kind, int core);
void ks_item_type_init(ks_item_type *kind, const ks_shelf_space *space, const ks_shelf_item *item,
                       ks_arena *arena);

/* How far core `a` of a kind sticks out of its core `b`, negative when it lies within. */
double ks_item_type_outreach(const ks_item_type *kind, int a, int b);

/* The kind's own share of what is kept for rounding to the grid, mm. */
double ks_item_type_allowance(const ks_item_type *kind);

/* Separations while they are gathered. The last `own` are of the same parts as the next: convex
 * pieces of one outline lie beside one another, and none of these follows from another. */
typedef struct {
    ks_separation *list;
    int n, own;
} ks_separation_list;

/* Adds one more, and takes out those that follow from another. `b` is NULL when the second cores
 * are not a kind's. */
void ks_separation_add(const ks_item_type *a, const ks_item_type *b, ks_separation_list *to,
                       ks_separation more);

/* Walls and fixtures of the space, and what each kind must keep from them. */
void ks_instance_walls(ks_instance *instance);

#endif
