/* seen_thirds.h: where in a kiln ware sees its cone, by the cones that were seen down in it. */
#ifndef KILNSTOW_APP_RECORD_SEEN_THIRDS_H
#define KILNSTOW_APP_RECORD_SEEN_THIRDS_H

#include "kilnstow/learn.h"
#include "kilnstow/place.h"

/* What a record says of an order's kilns before it is planned. */
typedef struct {
    const unsigned char *thirds; /* as ks_place_options has it; NULL where nothing is sure */
    int n_words;
    const char **words; /* a line for each kiln with a hot or cold third, and whom it concerns */
} ks_seen_thirds;

/* A third counts as hot or cold beyond two sigma of the mean of its cones, whatever side they stood
 * on; ware is concerned that asks for a lowest and a highest cone. A piece that sees its cone in no
 * third may stand anywhere, and that is said. */
ks_status ks_seen_thirds_of(const char *book_path, const ks_order *order, ks_arena *arena,
                            ks_seen_thirds *out, ks_error *err);

#endif
