/* temp_file.h: the new file beside the one that it will replace. */
#ifndef KILNSTOW_BASE_TEMP_FILE_H
#define KILNSTOW_BASE_TEMP_FILE_H

#include "kilnstow/arena.h"

/* A new, empty file in the target's folder, so that renaming it stays on one disk: its descriptor,
 * its name in *beside, and in *lock a second descriptor that shows the others that someone is at
 * work; close it when the file has its final name or is gone. -1 with errno when there is none to
 * be had. What killed runs have left in the folder is removed first. */
int ks_temp_open(const char *target, ks_arena *arena, const char **beside, int *lock);

#endif
