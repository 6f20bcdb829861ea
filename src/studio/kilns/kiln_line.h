/* kiln_line.h: a kiln told in one line of an order by its size; all else is what such kilns have.
 */
#ifndef KILNSTOW_STUDIO_KILNS_KILN_LINE_H
#define KILNSTOW_STUDIO_KILNS_KILN_LINE_H

#include "studio/reading/reading.h"

/* Whether an entry of "kilns" tells a kiln so: {"width": "58 cm", "depth": "69 cm", …}. */
bool ks_kiln_line_is(const ks_json *entry);

/* That entry as the object of a kiln's file; what was assumed is warned of and stands in its
 * "defaults". *loads is how many are told, 0 = none. NULL after noting what is wrong. */
const ks_json *ks_kiln_line_read(ks_reading *reading, const ks_json *entry, int *loads);
enum { KS_MOST_LOADS = 1000 };

#endif
