/* level_name.h: the one name that a level has in every answer, message and file's name. */
#ifndef KILNSTOW_STUDIO_LEVEL_NAME_H
#define KILNSTOW_STUDIO_LEVEL_NAME_H

#include "kilnstow/plan.h"

/* Whether two bays of a load share ground; a bay that the load has not told shares all. */
bool ks_bays_overlap(const ks_load *load, const char *a, const char *b);

/* The names of a load's levels, in their order: the tier, and the bay where the level does not
 * reach over all of them: "3", "3 left". A tier counts the shelves from the floor in a bay's own
 * column, those of other bays under it included. */
const char **ks_level_names(const ks_load *load, ks_arena *arena);

/* The tier of each of a load's levels, from 1 at the bottom, as in its name. */
const int *ks_level_tiers(const ks_load *load, ks_arena *arena);

/* The name as commands and files' names have it: "3-left". */
const char *ks_level_file_name(const char *name, ks_arena *arena);

#endif
