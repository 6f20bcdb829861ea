/* keep_to.h: which folders a command keeps to when the page's server runs it. */
#ifndef KILNSTOW_APP_KEEP_TO_H
#define KILNSTOW_APP_KEEP_TO_H

/* The variables by which the server tells it: the opened folder, and that of a try, in which all
 * stays what is written. */
#define KS_VARIABLE_FOLDER "KILNSTOW_FOLDER"
#define KS_VARIABLE_TRY "KILNSTOW_TRY"

/* From here on only files of `folder` (a real path) and of the kilns that came with the program are
 * read, and only those of `folder` written; where there is a `trial` folder, only those of that.
 * NULL for a folder: there are no bounds; for a trial: none. */
void ks_keep_to(const char *folder, const char *trial);

/* The same, as the environment tells it. */
void ks_keep_to_told(void);

#endif
