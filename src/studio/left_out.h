/* left_out.h: why ware waits, in words of the language in use. */
#ifndef KILNSTOW_STUDIO_LEFT_OUT_H
#define KILNSTOW_STUDIO_LEFT_OUT_H

#include "kilnstow/plan.h"

/* Of what kind the reason is, in English: "too tall". */
const char *ks_left_out_kind(const ks_left_out *left);

/* "too tall, by 12 mm, standing by itself". A plan that has no records is told as it stands. */
const char *ks_left_out_why(const ks_left_out *left, const ks_display *display, ks_arena *arena);

/* What would let it in; "" where the plan does not tell. */
const char *ks_left_out_nearest(const ks_left_out *left, const ks_display *display,
                                ks_arena *arena);

#endif
