/* labour_file.h: minutes of work as files tell them, for every piece or for one kind. */
#ifndef KILNSTOW_STUDIO_TERMS_LABOUR_FILE_H
#define KILNSTOW_STUDIO_TERMS_LABOUR_FILE_H

#include "studio/reading/reading.h"
#include "studio/reading/writing.h"

/* A lump, "12 min", or a list, [{"step": "throwing", "time": "6 min"}]; NULL where the node is NULL
 * or wrong. A lump's step is "". */
ks_piece_work *ks_labour_read(ks_reading *reading, const ks_json *node, int *n);

/* As it was told; nothing where n is 0. */
void ks_labour_write(ks_json_out *out, const char *key, int n, const ks_piece_work *work);

#endif
