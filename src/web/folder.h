/* folder.h: the plain files of the opened folder, by their names: listed, read and replaced. */
#ifndef KILNSTOW_WEB_FOLDER_H
#define KILNSTOW_WEB_FOLDER_H

#include "web/call.h"

#include <sys/stat.h>

/* Whether this may be the name of a file that is seen here: one name, of readable characters, that
 * begins neither with a dot nor, as an option does, with a dash. */
bool ks_name_is_plain(const char *name);

/* The name as in an address ("a%20b.json"), decoded; NULL where it is none that may be. */
const char *ks_name_decoded(const char *sent, ks_arena *arena);

/* The names of the folder's plain files, in the order of the alphabet; returns how many. */
int ks_folder_names(const char *folder, ks_arena *arena, const char ***names);

/* The ETag of a file in this state. */
const char *ks_etag_of(const struct stat *about, ks_arena *arena);

/* The answers to /api/files and /api/files/NAME. */
void ks_folder_list(ks_call *call);
void ks_folder_get(ks_call *call);
void ks_folder_put(ks_call *call);

#endif
