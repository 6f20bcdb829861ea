/* stacking_file.h: what an order says of ware that stands on other ware. */
#ifndef KILNSTOW_STUDIO_FILES_STACKING_FILE_H
#define KILNSTOW_STUDIO_FILES_STACKING_FILE_H

#include "studio/reading/reading.h"
#include "studio/reading/writing.h"

/* `rules.stacking`: the limits of every stack. */
void ks_stacking_read(ks_reading *reading, const ks_json *rules, ks_stacking *stacking);
void ks_stacking_write(ks_json_out *out, const ks_stacking *stacking);

/* A piece's "stack", once its parts are known: false, or the ways in which it may carry and be
 * carried. Not told, it is by stage and shape. */
void ks_ways_read(ks_reading *reading, const ks_json *node, ks_piece *piece);
void ks_ways_write(ks_json_out *out, const ks_piece *piece);

/* A piece's "lid_of" among the order's pieces. */
void ks_lid_refer(ks_reading *reading, const ks_json *node, const ks_order *order, int piece);

#endif
