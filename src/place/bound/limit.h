/* limit.h: the most that one level can earn at given gains, proven. */
#ifndef KILNSTOW_PLACE_BOUND_LIMIT_H
#define KILNSTOW_PLACE_BOUND_LIMIT_H

#include "place/bound/room.h"

/* What may stand on the level. Ware that may stand in or on other ware has no area of its own that
 * is sure, at any height: it is in none of the rows of areas, cells or counts, and in that of
 * volumes with what it is made of. Nothing is copied: it outlives the limit. */
typedef struct {
    const ks_shelf_space *space; /* the loosest that such a level can be */
    int n_items;
    const ks_shelf_item *items;
    const int *times;  /* [item] copies at most; 0 = does not go here */
    const int *height; /* [item] its class of height, 0 and up */
    int n_heights;
    const double *ceiling_mm; /* [height class] what a level so classed is lower than; ware that
                               * stacks fills it up to there */
} ks_limit_ware;

/* A true sum over whatever stands on the level: needs of its items come to the room at most. */
typedef struct {
    double room_mm2;
    double *need_mm2; /* [item] */
} ks_limit_row;

enum { KS_LIMIT_ROWS = 16, KS_LIMIT_VOLUMES = 4 };

/* The same over all heights: needs of items come to the room times the height that they take. */
typedef struct {
    double room_mm2;
    double *need_mm3; /* [item] */
    double *top_mm;   /* [height class] of the tallest ware up to it */
} ks_limit_volumes;

/* A good price of a side, of the mean area of the ware: a round cell of five sides is larger than
 * one of six by 0.054 of its disc, one of seven smaller by 0.030. */
#define KS_SIDE_SHARE 0.032

/* What is true of every level with that ware. */
typedef struct {
    ks_limit_ware ware;
    int n_rows; /* the first is of areas at the shelf */
    ks_limit_row rows[KS_LIMIT_ROWS];
    int n_volumes;
    ks_limit_volumes volumes[KS_LIMIT_VOLUMES];
    double apart_mm;  /* least distance between glazed pieces */
    double *inner_mm; /* [item] radius of a disc within its foot or body at the shelf */
    double reach_mm;  /* radius of a circle around where ware may be */
    double side_mm;   /* side of a square around it */
    double *table;    /* [height class] of the tallest ware */
} ks_limit;

void ks_limit_init(ks_limit *limit, const ks_limit_ware *ware, ks_arena *arena);

/* Works out the most a level can earn for each tallest ware, at these gains of one copy. */
void ks_limit_gain(ks_limit *limit, const double *gain);

/* That for ware up to this class of height. */
double ks_limit_of(const ks_limit *limit, int height);

/* The ways in which the limit of a level is lowered; each alone is true. */

/* Any mix of true sums is a true sum: `part` of this row, the rest of the first. */
typedef struct {
    int row;
    double part;
} ks_limit_mix;

/* An item that earns something here. */
typedef struct {
    int item, height, times;
    double gain, need_mm2;
    double disc_mm; /* radius of the disc it keeps to itself */
    bool wide;      /* of wide ones no two go on one level */
} ks_limit_item;

/* Those, by height; `out` has room for all items. How many. */
int ks_limit_items(const ks_limit *limit, const double *gain, ks_limit_mix mix, ks_limit_item *out);
double ks_limit_room_mm2(const ks_limit *limit, ks_limit_mix mix);

/* Radius of a disc that the item keeps to itself at the shelf. */
double ks_limit_disc_mm(const ks_limit *limit, int item);

/* What whole pieces can earn in the room; of wide ones one at most. */
void ks_limit_lower_by_area(ks_limit *limit, const double *gain, ks_limit_mix mix);

/* Volumes at this price of a side, where the level has the same room at every height. */
void ks_limit_add_volumes(ks_limit *limit, double side_mm2, ks_arena *arena);

/* Never more than the volume that the item takes by the rule, its clearance and all. */
double ks_item_volume_mm3(const ks_shelf_space *space, const ks_shelf_item *item,
                          const ks_cell_rule *rule);

/* What all the room over the level holds, were ware liquid. */
void ks_limit_lower_by_volume(ks_limit *limit, const double *gain);

/* How many discs of the smallest piece's size can be on the level at all. */
void ks_limit_lower_by_count(ks_limit *limit, const double *gain);

/* Area, by this mix of rows, and counts of wide pieces together. */
void ks_limit_lower_by_charges(ks_limit *limit, const double *gain, ks_limit_mix mix);

#endif
