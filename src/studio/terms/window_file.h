/* window_file.h: times of the week and the year, between the files that read and write them. */
#ifndef KILNSTOW_STUDIO_TERMS_WINDOW_FILE_H
#define KILNSTOW_STUDIO_TERMS_WINDOW_FILE_H

#include "kilnstow/clock.h"
#include "studio/reading/reading.h"
#include "studio/reading/writing.h"

extern const ks_window ks_window_always;

bool ks_window_is_always(const ks_window *window);

/* The node's "days" and "months", all unless told, between two seconds of the day. */
ks_window ks_window_read(ks_reading *reading, const ks_json *node, double from_s, double to_s);

/* "days" and "months"; the times are their writer's. */
void ks_window_days_write(ks_json_out *out, const ks_window *window);

#endif
