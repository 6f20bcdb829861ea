/* trial.h: a folder for one call, in which the opened folder is seen with other files in it. */
#ifndef KILNSTOW_WEB_TRIAL_H
#define KILNSTOW_WEB_TRIAL_H

#include "web/asked.h"

/* Makes it among the temporary files: links to the plain files and folders of `folder`, and `files`
 * as they were sent in their place. *path is its real path, in `arena`. */
ks_status ks_trial_make(const char *folder, int n, const ks_sent_file *files, ks_arena *arena,
                        const char **path, ks_error *err);

/* Removes it with all that is in it, and nothing that its links lead to. NULL does nothing. */
void ks_trial_remove(const char *path);

#endif
