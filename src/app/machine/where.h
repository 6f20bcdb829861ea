/* where.h: where the files lie that came with the program. */
#ifndef KILNSTOW_APP_WHERE_H
#define KILNSTOW_APP_WHERE_H

#include "kilnstow/arena.h"

/* The folder of kilns that came with the program: beside it where it was built, or under share/
 * where it was installed. "" when there is none. */
const char *ks_where_kilns(ks_arena *arena);

/* Names of all files in a folder that end so, in the order of the alphabet; returns how many. */
int ks_where_files(const char *folder, const char *ending, ks_arena *arena, const char ***names);

#endif
