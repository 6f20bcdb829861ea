/* wish.h: on which levels the order wants ware, by a piece's own wish and by its rules. */
#ifndef KILNSTOW_STUDIO_WISH_H
#define KILNSTOW_STUDIO_WISH_H

#include "kilnstow/order.h"

/* The piece's own wish; without one, that of its kind. */
ks_level_wish ks_wish_of(const ks_order *order, const ks_piece *piece);

bool ks_has_wish(const ks_level_wish *wish);

/* Where a level is in its load. */
typedef struct {
    int tier;    /* as its name has it, from 1 */
    int nth, of; /* among the tiers that have ware, or may have: from 1; how many those are */
    bool under_another;
} ks_level_rank;

/* Whether a level of this rank is what the word says. */
bool ks_wish_takes(const ks_level_wish *wish, ks_level_rank rank);

#endif
