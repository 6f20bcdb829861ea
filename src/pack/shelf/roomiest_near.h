/* roomiest_near.h: how near a piece is to what confines it, at one stand and in a box of stands.
 */
#ifndef KILNSTOW_PACK_SHELF_ROOMIEST_NEAR_H
#define KILNSTOW_PACK_SHELF_ROOMIEST_NEAR_H

#include "pack/shelf/shelf.h"

/* A region and what it holds of the piece. In a convex region a piece is as near to the edge as its
 * hull, so that one look at the hull does for all parts. */
typedef struct {
    const ks_shelf_region *region;
    bool convex;
    int n_parts;
    ks_outline *parts; /* in the piece's axes; only the hull where convex */
    /* Of a convex polygon: its edges' inward normals and offsets, and how far the hull lies within
     * each, about its centre, for the turn and half turn last asked. */
    int n_edges;
    ks_point *normal;
    double *offset, *within, *at_most;
    ks_point *turned;
    double turn_deg, half_deg;
} ks_holding;

/* An obstacle and the parts at its height. */
typedef struct {
    const ks_shelf_obstacle *obstacle;
    ks_circle around;
    int n_parts;
    int *parts;      /* of the item */
    double reach_mm; /* of these parts from the piece's centre */
} ks_hindrance;

typedef struct {
    const ks_shelf_space *space;
    const ks_shelf_item *item;
    ks_point centre;          /* of the circle around the piece: turning about it moves it least */
    double reach_mm;          /* of that circle */
    bool turns;               /* freely, and turning makes a difference */
    ks_holding *holdings;     /* one for each region */
    ks_hindrance *hindrances; /* one for each obstacle */
    ks_point *vertices;
    double *core_mm;    /* of each part's vertices from the centre: turning a round moves nothing */
    ks_outline *placed; /* the parts as they stood when last placed */
    ks_point **placed_room; /* their vertices */
} ks_near;

/* Stands whose centre is within half_mm of (x, y) in both axes and turned within half_deg. */
typedef struct {
    double x, y, turn_deg, half_mm, half_deg;
} ks_stand_box;

typedef struct {
    ks_stand stand;       /* the middle */
    double slack_mm;      /* there */
    double bound_mm;      /* no stand of the box has more */
    double unturned_mm;   /* none that is turned as the middle is, as far as is known */
    int region, obstacle; /* what decides in the middle, -1 */
} ks_nearness;

ks_near ks_near_of(const ks_shelf_space *space, const ks_shelf_item *item, ks_arena *arena);

/* What is had already. A bound that turns out no better may be left at that, and a slack at any
 * that is less. */
typedef struct {
    double slack_mm, bound_mm;
} ks_known;

ks_nearness ks_near_judge(const ks_near *near, const ks_stand_box *box, ks_known known);

#endif
