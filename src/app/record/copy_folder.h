/* copy_folder.h: the studio's folder and record in one dated file, and back on another machine. */
#ifndef KILNSTOW_APP_RECORD_COPY_FOLDER_H
#define KILNSTOW_APP_RECORD_COPY_FOLDER_H

#include "kilnstow/book.h"

typedef struct {
    const char *path; /* the copy, or the folder */
    int n;            /* files beside the record */
    double kilobytes; /* of these */
    int n_outside;
    const char **outside; /* files that an order of the folder reads, but are not in it */
} ks_folder_copy;

/* The record with all files of its folder and the folders in it, hidden ones, links and other
 * records aside. `path` NULL = kilnstow-DATE.book in the current folder. `record_only`: no files.
 * KS_BAD_USAGE where there are more than a studio's folder has. */
ks_status ks_folder_copy_write(const char *book_path, const char *path, bool record_only,
                               ks_arena *arena, ks_folder_copy *out, ks_error *err);

/* Into a folder that is not there yet or is empty; NULL = named like the copy. All of it or
 * nothing. */
ks_status ks_folder_copy_open(const char *path, const char *folder, ks_arena *arena,
                              ks_folder_copy *out, ks_error *err);

#endif
