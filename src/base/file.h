/* file.h: whole files in, whole files out, or nothing. */
#ifndef KILNSTOW_BASE_FILE_H
#define KILNSTOW_BASE_FILE_H

#include "base/path.h"
#include "kilnstow/arena.h"
#include "kilnstow/error.h"

#include <stdbool.h>
#include <stddef.h>

/* Bytes of a file, with a NUL after the last that is not counted. */
typedef struct {
    const char *bytes;
    size_t length;
} ks_bytes;

/* Reads a whole file of at most `most` bytes: a plain one, so that no pipe or terminal is waited
 * for, or standard input where the path is "-". KS_SYSTEM with the system's words when it cannot;
 * KS_BAD_INPUT when it is larger, or a folder, a pipe, a device, or outside what opened.h keeps to.
 */
ks_status ks_file_read(const char *path, size_t most, ks_arena *arena, ks_bytes *out,
                       ks_error *err);

/* Replaces the file at `path` by these bytes in one step: whoever looks finds the old file or the
 * new one, whole and on disk. A file that was there keeps its mode, and its name if that is a
 * symbolic link (the file it leads to is replaced). On failure KS_SYSTEM, the old file is as it
 * was (where only the folder could not be brought to disk, the new one is there) and nothing is
 * left beside it. Not for devices and pipes, which are refused. The path "-" is
 * standard output, to which the bytes are simply written. */
ks_status ks_file_write(const char *path, const char *bytes, size_t length, ks_error *err);

/* Whether such a file could be written now: KS_SYSTEM with the system's words if not. Nothing is
 * left there, and what was there is as it was. */
ks_status ks_file_try(const char *path, ks_error *err);

/* The same as ks_file_write for bytes written to an open descriptor: the whole length or KS_SYSTEM.
 * For pipes and standard output. */
ks_status ks_fd_write(int fd, const char *name, const char *bytes, size_t length, ks_error *err);

/* Whether there is nothing of that name, not even a link that leads nowhere. What cannot be looked
 * up for another reason (no permission) may be there: false. */
bool ks_path_is_free(const char *path);

bool ks_path_is_standard(const char *path); /* "-" */
const char *ks_path_show(const char *path); /* for messages: "standard input" for "-" */
bool ks_path_is_same(const char *a,
                     const char *b); /* both there, and one file by device and inode */

#endif
