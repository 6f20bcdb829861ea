/* tower.h: pieces stacked on one another, and what they make together for the shelf packer. */
#ifndef KILNSTOW_PACK_TOWER_TOWER_H
#define KILNSTOW_PACK_TOWER_TOWER_H

#include "kilnstow/order.h"

/* A piece of a tower, from below. */
typedef struct {
    int piece; /* into the order's pieces; of a cone pack, its own number */
    int on;    /* member that it stands or leans on, -1 = the shelf */
    ks_way way;
    ks_pose pose;
    double lift_mm;  /* of its foot above the shelf */
    double aside_mm; /* of a tile in a row, from the tower's own origin along y */
} ks_tower_member;

/* A single piece is a tower of one. */
typedef struct {
    int n;
    const ks_tower_member *members;
} ks_tower;

/* The body of a tower by heights, as enclosing blocks: what is inside other ware is left out, and
 * rounds are told in few steps. */
int ks_tower_parts(const ks_order *order, const ks_tower *tower, ks_arena *arena, ks_part **out);

/* The same of one piece's parts that stack with more steps than the packer needs. */
int ks_parts_in_steps(int n, const ks_part *parts, ks_arena *arena, ks_part **out);

#endif
