/* put_right.h: a plan's load as it really was fired. */
#ifndef KILNSTOW_APP_RECORD_PUT_RIGHT_H
#define KILNSTOW_APP_RECORD_PUT_RIGHT_H

#include "kilnstow/book.h"

/* The plan, with what did not go into this load taken out of it and what went in besides put in,
 * for billing and counting: where it stood is not known, so its place is that of another of its
 * kind, or the middle of its level. The plan handed in stays as it is. KS_BAD_USAGE names what was
 * not there, or which ware the order does not have. */
ks_status ks_load_put_right(const ks_plan *plan, int load, int n, const ks_correction *corrections,
                            ks_arena *arena, const ks_plan **out, ks_error *err);

#endif
