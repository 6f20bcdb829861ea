/* loss_rates.h: the record's losses as rates for the pieces of a plan. */
#ifndef KILNSTOW_APP_RECORD_LOSS_RATES_H
#define KILNSTOW_APP_RECORD_LOSS_RATES_H

#include "kilnstow/learn.h"

/* A glaze as the record names it: "celadon + white", "" for bare ware. */
const char *ks_glaze_name(const ks_order *order, const ks_piece *piece, ks_arena *arena);

/* For ks_cost_options.losses; NULL where the record does not tell what went in. What the order
 * tells counts for as much as a hundred pieces of the record. */
ks_status ks_loss_rates(const char *book_path, const ks_order *order, ks_arena *arena,
                        ks_losses *losses, const double **out, ks_error *err);

#endif
