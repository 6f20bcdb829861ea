/* instance.h: a level made ready for searching: convex cores, and what each two must keep. */
#ifndef KILNSTOW_PACK_KIT_INSTANCE_H
#define KILNSTOW_PACK_KIT_INSTANCE_H

#include "pack/shelf/shelf.h"

/* A convex polygon without its round: corners and outward unit normals of the edges that start
 * there, counter-clockwise. One corner makes a point, two a stretch with two edges. */
typedef struct {
    int n;
    const double *x, *y, *nx, *ny;
} ks_core;

/* Two cores, and how far apart they must be: rounds, clearance, reserve and the search's own
 * allowance, all in one. Negative where rounds reach less far than an obstacle lets them. */
typedef struct {
    int a, b;
    double need;
} ks_meeting;

typedef struct {
    int n;
    const ks_meeting *list;
    double far;  /* centres farther apart than this cannot conflict */
    bool points; /* one meeting of two centred points: a disc with a disc */
} ks_meetings;

/* Core of a kind and wall: no corner of the one may be beyond the other by more than `allowed`, mm.
 * Negative: it must be so far within. */
typedef struct {
    int core, wall;
    double allowed;
} ks_bound;

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
    const ks_circle *around;    /* each core */
    int n_slices;
    const struct ks_slice {
        int core, part;
        double round;
    } * slices;
    int n_turns;   /* it may stand in so many ways; 0 = any turn */
    bool turnless; /* a disc: looks the same at any turn */
    bool hopeless; /* cannot stand here at all */
    int n_bounds;
    const ks_bound *bounds;
    bool in_round; /* a disc in a round room: the only bound is a point's from a point */
    const ks_meetings *by_fixture; /* what it keeps from each fixture, b = 0 */
} ks_kind;

typedef struct {
    ks_arena arena;
    ks_shelf_space space;
    int n_kinds;
    ks_shelf_item *items;
    ks_kind *kinds;
    int n_walls;
    ks_core *walls; /* of regions; the core of a round one is its centre */
    int n_fixtures;
    ks_fixture *fixtures;
    ks_box box;         /* around all regions */
    double area_mm2;    /* of the smallest region, seen from above */
    int longest;        /* corners of the kind that has most */
    int most_cores;     /* of a kind */
    ks_meetings **meet; /* n_kinds x n_kinds, NULL = not yet worked out */
} ks_kit;

/* What the search keeps beyond each need, mm, so that rounding to the grid breaks nothing. */
#define KS_PACK_ALLOWANCE 0.003

void ks_kit_init(ks_kit *kit, const ks_shelf_space *space, int n_items, const ks_shelf_item *items);
void ks_kit_finish(ks_kit *kit);

/* What kinds a and b must keep, `a` of the first; worked out once. */
const ks_meetings *ks_kit_meetings_found(ks_kit *kit, int a, int b);
static inline const ks_meetings *ks_kit_meetings(ks_kit *kit, int a, int b)
{
    const ks_meetings *known = kit->meet[a * kit->n_kinds + b];
    return known ? known : ks_kit_meetings_found(kit, a, b);
}

/* The turn of a kind's k-th way to stand. */
double ks_kind_turn(const ks_kind *kind, int k);

#endif
