/* shelf_order.h: in what order the pieces of a level can go in, and what keeps them from it. */
#ifndef KILNSTOW_PACK_SHELF_SHELF_ORDER_H
#define KILNSTOW_PACK_SHELF_SHELF_ORDER_H

#include "pack/shelf/shelf_body.h"

#include <stdint.h>

/* Found by taking pieces out again: what can come out can still do so when more is out, so it does
 * not matter which comes out first, and what is in at the end can go in by no order at all. */
typedef struct {
    const ks_shelf_space *space;
    int n;                 /* bodies: those of the spots, then what stands there already */
    ks_shelf_body *bodies; /* lying in chamber axes */
    bool *after;           /* [i * n + k]: i goes in only after k */
    bool *large;           /* of each: wants room for a hand */
    struct ks_hand_side {
        bool *beside;  /* [i * n + k]: k leaves none beside i, which is large */
        bool *walled;  /* of each: the wall leaves none */
        int *n_beside; /* of each, of those that are in */
    } sides[2];        /* left, right */
    uint16_t *blocked; /* [i * n + k]: the fingers beside i that k, which is taller, leaves no room,
                        * a bit for each; NULL where pieces come in from the front */
    int *n_waiting;    /* of each: those that are in and go in only after it */
    int n_in;
    bool *in; /* of each: it is not out yet */
} ks_shelf_order;

/* Pieces that touch one another's way by no more than this are taken to be in it, mm: a plan's
 * outlines lie on its grid. */
#define KS_ORDER_DOUBT_MM 0.002

/* Around a piece that is lowered in, fingers may reach down at so many places. */
enum { KS_FINGERS = 16 };

/* Whether one of them finds room beside a body while those are in that are told. */
bool ks_shelf_reached(const ks_shelf_order *order, int body, const bool *in);

/* All that can come out is out. */
ks_shelf_order ks_shelf_order_find(const ks_shelf_space *space, const ks_shelf_item *items,
                                   int n_spots, const ks_shelf_spot *spots, ks_arena *arena);

/* Takes one away for good, and then out all that now can come out. */
void ks_shelf_order_without(ks_shelf_order *order, int body);

/* Whether it needs room for a hand beside it when it is set in from the front. */
bool ks_shelf_is_large(const ks_shelf_entry *entry, const ks_shelf_body *body);

/* Room between a body and the wall, or another that shares its depth, on its left (side 0) or
 * right, mm; infinity when the other is not on that side. */
double ks_shelf_room_to_wall(const ks_shelf_order *order, int body, int side);
double ks_shelf_room_to(const ks_shelf_order *order, int body, int other, int side);

#endif
