/* named_only.h: glazes and clays that a ware table names and the order does not describe. */
#ifndef KILNSTOW_STUDIO_FILES_NAMED_ONLY_H
#define KILNSTOW_STUDIO_FILES_NAMED_ONLY_H

#include "studio/reading/reading.h"

/* Place of the glaze (or clay) that a node names. One that only a table names, and that is no slip
 * of a described one, joins the order's with all defaults. -1 after noting what is wrong. */
int ks_glaze_refer(ks_reading *reading, const ks_json *node);
int ks_clay_refer(ks_reading *reading, const ks_json *node);

/* Warns of all that were so taken. */
void ks_named_only_tell(ks_reading *reading, const ks_json *node);

#endif
