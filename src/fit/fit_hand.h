/* fit_hand.h: the roomiest stand of a piece alone on a level, with room for the hand that sets it
 * in from the front. */
#ifndef KILNSTOW_FIT_FIT_HAND_H
#define KILNSTOW_FIT_FIT_HAND_H

#include "pack/shelf/roomiest.h"

/* Like ks_roomiest_above. A large piece set in from the front also has a hand's room to the wall on
 * one side, as the packer and the checker ask it: region is then n_regions where that is closest,
 * and *for_hand tells whether it is only the hand that finds no room. */
ks_roomiest ks_fit_roomiest(const ks_shelf_space *space, const ks_shelf_item *item, double floor_mm,
                            double within_mm, bool *for_hand);

#endif
