/* limit_part.h: the ways in which the limit of a level is lowered; each alone is true. */
#ifndef KILNSTOW_PLACE_BOUND_LIMIT_PART_H
#define KILNSTOW_PLACE_BOUND_LIMIT_PART_H

#include "place/bound/limit.h"

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
} ks_limit_good;

/* Those, by height; `out` has room for all items. How many. */
int ks_limit_goods(const ks_limit *limit, const double *gain, ks_limit_mix mix, ks_limit_good *out);
double ks_limit_room_mm2(const ks_limit *limit, ks_limit_mix mix);

/* Radius of a disc that the item keeps to itself at the shelf. */
double ks_limit_disc_mm(const ks_limit *limit, int item);

/* What whole pieces can earn in the room; of wide ones one at most. */
void ks_limit_lower_by_area(ks_limit *limit, const double *gain, ks_limit_mix mix);

/* How many discs of the smallest piece's size can be on the level at all. */
void ks_limit_lower_by_count(ks_limit *limit, const double *gain);

/* Area, by this mix of rows, and counts of wide pieces together. */
void ks_limit_lower_by_charges(ks_limit *limit, const double *gain, ks_limit_mix mix);

#endif
