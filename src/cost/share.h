/* share.h: lines on a member's share of the bill. */
#ifndef KILNSTOW_COST_SHARE_H
#define KILNSTOW_COST_SHARE_H

#include "kilnstow/cost.h"

/* Adds a line, but none of nothing. */
void ks_share_line(ks_share *share, const char *what, const char *how, int64_t minor,
                   ks_arena *arena);

#endif
