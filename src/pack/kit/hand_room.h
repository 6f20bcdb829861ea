/* hand_room.h: room for hands beside large pieces, as strain. */
#ifndef KILNSTOW_PACK_KIT_HAND_ROOM_H
#define KILNSTOW_PACK_KIT_HAND_ROOM_H

#include "pack/kit/penalty.h"

/* What stands beside a large piece is to be so far to its right (way 1) or left (-1), or wholly in
 * front of it or behind it. */
struct ks_hand {
    int piece, other; /* bodies of the pile; other -1: what lies at `there` and stays */
    int way;
    double need_mm;
    ks_box there;
};

/* The strain of all that the strain lists; adds to its pulls. */
double ks_strain_hands(ks_strain *strain);

/* How much is short: aside, or in depth where that is less. */
double ks_hand_short_mm(ks_box piece, ks_box other, int way, double need_mm);

#endif
