/* recipe_file.h: clays, materials and glazes as files tell them. */
#ifndef KILNSTOW_STUDIO_FILES_RECIPE_FILE_H
#define KILNSTOW_STUDIO_FILES_RECIPE_FILE_H

#include "studio/reading/reading.h"
#include "studio/reading/writing.h"

/* Clays, materials and glazes; those of which nothing but the name is told. */
enum { KS_MOST_CLAYS = 200, KS_MOST_GLAZES = 1000 };
ks_clay ks_usual_clay(void);
ks_glaze ks_usual_glaze(void);
void ks_recipes_read(ks_reading *reading, const ks_json *node, ks_order *order);
void ks_recipes_write(ks_json_out *out, const ks_order *order);

#endif
