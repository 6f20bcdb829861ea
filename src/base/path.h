/* path.h: names of files and folders, taken apart and put together. */
#ifndef KILNSTOW_BASE_PATH_H
#define KILNSTOW_BASE_PATH_H

#include "kilnstow/arena.h"

#include <stdbool.h>

const char *ks_path_folder(const char *path, ks_arena *arena); /* "a/b.json" -> "a", "b" -> "." */
const char *ks_path_name(const char *path);                    /* "a/b.json" -> "b.json" */
const char *ks_path_join(const char *folder, const char *name,
                         ks_arena *arena);               /* name if absolute */
bool ks_path_ends(const char *path, const char *ending); /* ".csv", letter case aside */

#endif
