/* reason_file.h: reasons as plans have them: {"name": "too tall", "by": 12.5}. */
#ifndef KILNSTOW_STUDIO_FILES_REASON_FILE_H
#define KILNSTOW_STUDIO_FILES_REASON_FILE_H

#include "base/data/json_out.h"
#include "kilnstow/reason.h"
#include "studio/reading/reading.h"

/* NULL = not there: untold. Refuses names that are not in the list and figures that are missing. */
void ks_reason_read(ks_reading *reading, const ks_json *node, ks_reason *out);

/* Those figures that its text names; nothing where it is untold. */
void ks_reason_write(ks_json_out *out, const char *key, const ks_reason *reason);

#endif
