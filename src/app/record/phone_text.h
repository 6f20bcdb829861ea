/* phone_text.h: what the page on a telephone tells of a load, read back: which pieces did not go
 * in. */
#ifndef KILNSTOW_APP_RECORD_PHONE_TEXT_H
#define KILNSTOW_APP_RECORD_PHONE_TEXT_H

#include "kilnstow/plan.h"

/* "1545269b 1: all; 2: not 1.3 2left.5-8" as what did not go into this load, in the words of
 * --not-in; behind the *n texts that are there already. KS_BAD_USAGE where it tells of another
 * plan, of what the load does not have, or nothing of this load. */
ks_status ks_phone_text_read(const ks_plan *plan, int load, const char *text, ks_arena *arena,
                             int *n, const char *const **not_in, ks_error *err);

#endif
