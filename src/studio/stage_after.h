/* stage_after.h: what state ware comes out of a firing in. */
#ifndef KILNSTOW_STUDIO_STAGE_AFTER_H
#define KILNSTOW_STUDIO_STAGE_AFTER_H

#include "kilnstow/order.h"

/* Bisque firings end at this cone or below; common practice, no source. */
#define KS_BISQUE_CONE "04"

/* KS_BISQUE for bare ware that has been in a bisque firing, else KS_FIRED. */
ks_stage ks_stage_after(const ks_piece *piece, const ks_firing *firing);

#endif
