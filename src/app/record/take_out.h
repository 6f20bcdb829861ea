/* take_out.h: ware tables after a firing: what is out of the kiln is no more ware that waits. */
#ifndef KILNSTOW_APP_RECORD_TAKE_OUT_H
#define KILNSTOW_APP_RECORD_TAKE_OUT_H

#include "kilnstow/book.h"
#include "studio/files/ware_table.h"

/* What the tables of the order become once this entry's ware is out: glazed ware leaves them, raw
 * ware that was bisque fired goes on as bisque, as much smaller as its clay has shrunk, lost ware
 * is gone, and what goes in again stays as a kind of its own. Nothing is written. `plan` is the
 * entry's, as it was fired. */
ks_status ks_take_out_prepare(const char *order_path, const ks_plan *plan,
                              const ks_book_firing *entry, ks_arena *arena, ks_ware_lowered *out,
                              ks_error *err);

/* Writes them, each with what stood there beside it as .bak. */
ks_status ks_take_out_write(const ks_ware_lowered *lowered, ks_arena *arena, ks_error *err);

#endif
