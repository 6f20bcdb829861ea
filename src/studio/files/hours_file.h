/* hours_file.h: the studio's clock, between the files that read and write it. */
#ifndef KILNSTOW_STUDIO_FILES_HOURS_FILE_H
#define KILNSTOW_STUDIO_FILES_HOURS_FILE_H

#include "studio/reading/reading.h"
#include "studio/reading/writing.h"

/* The order's time zone (in its old place, among the costs, too), hour of starting and opening
 * hours. */
void ks_hours_read(ks_reading *reading, const ks_json *node, ks_order *order);
void ks_hours_write(ks_json_out *out, const ks_order *order);

#endif
