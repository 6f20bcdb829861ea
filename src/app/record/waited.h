/* waited.h: what the studio's record says of an order's ware before it is planned. */
#ifndef KILNSTOW_APP_RECORD_WAITED_H
#define KILNSTOW_APP_RECORD_WAITED_H

#include "kilnstow/plan.h"

/* Tells each piece of the order how many plans in a row have left it out, by its id and its owner.
 * A count that the order tells itself stays. */
ks_status ks_waited_tell(const char *book_path, ks_order *order, ks_arena *arena, ks_error *err);

/* What became of the ware that went first because it had waited, at most two lines; how many. */
int ks_waited_words(const ks_plan *plan, ks_arena *arena, const char *words[2]);

#endif
