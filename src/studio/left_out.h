/* left_out.h: why ware waits, in words of the language in use. */
#ifndef KILNSTOW_STUDIO_LEFT_OUT_H
#define KILNSTOW_STUDIO_LEFT_OUT_H

#include "kilnstow/plan.h"

/* "displaced, by ware worth more". */
const char *ks_left_out_why(const ks_left_out *left, ks_arena *arena);

/* What would let it in; "" where the plan does not tell. */
const char *ks_left_out_nearest(const ks_left_out *left, ks_arena *arena);

#endif
