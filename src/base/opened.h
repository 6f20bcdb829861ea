/* opened.h: the folders that the program keeps to, where it works for somebody else's wishes. */
#ifndef KILNSTOW_BASE_OPENED_H
#define KILNSTOW_BASE_OPENED_H

#include "kilnstow/error.h"

#include <stdbool.h>

/* A folder's real path; below it files are read, and written too if `writes`. */
typedef struct {
    const char *path;
    bool writes;
} ks_opened;

enum { KS_OPENED_MOST = 4 };

/* From here on this process reads and writes only below these folders (KS_OPENED_MOST at most,
 * copied), wherever a link leads. Until then it goes wherever its user may go. */
void ks_opened_keep_to(int n, const ks_opened *folders);

/* KS_BAD_INPUT where the file at `path`, whether it is there yet or not, is not to be read (to be
 * written). */
ks_status ks_opened_look(const char *path, bool writes, ks_error *err);

#endif
