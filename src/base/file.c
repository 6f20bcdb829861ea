#include "base/file.h"

#include "base/opened.h"
#include "base/temp_file.h"
#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { FIRST_ROOM = 16 * 1024 };

static ks_status refuse(ks_error *err, const char *name, const char *what)
{
    return ks_fail(err, KS_SYSTEM, "%s: cannot %s: %s", name, what, strerror(errno));
}

/* Reads to the end, or one byte beyond `most`, by which the caller sees that there is more. */
static bool all_read(int fd, size_t most, size_t room, ks_arena *arena, ks_bytes *out)
{
    char *bytes = ks_arena_take(arena, room + 1, 1);
    size_t have = 0;
    for (;;) {
        ssize_t got = read(fd, bytes + have, room - have);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return false;
        have += (size_t)got;
        if (got == 0 || have > most)
            break;
        if (have == room) {
            char *moved = ks_arena_take(arena, 2 * room + 1, 1);
            bytes = memcpy(moved, bytes, have);
            room *= 2;
        }
    }
    bytes[have] = '\0';
    *out = (ks_bytes){bytes, have};
    return true;
}

static const char *kind_of(mode_t mode)
{
    return S_ISDIR(mode)    ? "a folder"
           : S_ISFIFO(mode) ? "a pipe"
           : S_ISSOCK(mode) ? "a socket"
                            : "a device";
}

static ks_status read_open(int fd, const char *path, size_t most, ks_arena *arena, ks_bytes *out,
                           ks_error *err)
{
    struct stat about;
    if (fstat(fd, &about) != 0)
        return refuse(err, path, "read it");
    bool plain = S_ISREG(about.st_mode);
    if (!plain && fd != STDIN_FILENO)
        return ks_fail(err, KS_BAD_INPUT, "%s: found %s; name a file%s", path,
                       kind_of(about.st_mode),
                       S_ISDIR(about.st_mode) ? "" : ", or - for standard input");
    bool sized = plain && about.st_size >= 0 && (size_t)about.st_size < most;
    size_t room = sized ? (size_t)about.st_size + 1 : FIRST_ROOM;
    if (!all_read(fd, most, room, arena, out))
        return refuse(err, path, "read it");
    if (out->length > most)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: found more than %zu KiB; such a file has at most that", path,
                       most / 1024);
    return KS_OK;
}

static ks_status read_standard(size_t most, ks_arena *arena, ks_bytes *out, ks_error *err)
{
    const char *name = ks_path_show("-");
    ks_status status = read_open(STDIN_FILENO, name, most, arena, out, err);
    if (!status && out->length == 0)
        return ks_fail(err, KS_BAD_INPUT, "%s: found nothing; it can be read once, as one file",
                       name);
    return status;
}

ks_status ks_file_read(const char *path, size_t most, ks_arena *arena, ks_bytes *out, ks_error *err)
{
    if (ks_path_is_standard(path))
        return read_standard(most, arena, out, err);
    ks_status kept = ks_opened_look(path, false, err);
    if (kept)
        return kept;
    int fd = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
    if (fd < 0)
        return refuse(err, path, "open it");
    ks_status status = read_open(fd, path, most, arena, out, err);
    (void)close(fd); /* nothing was written, so nothing can be lost here */
    return status;
}

ks_status ks_fd_write(int fd, const char *name, const char *bytes, size_t length, ks_error *err)
{
    while (length > 0) {
        ssize_t put = write(fd, bytes, length);
        if (put < 0 && errno == EINTR)
            continue;
        if (put < 0)
            return refuse(err, name, "write it");
        bytes += put;
        length -= (size_t)put;
    }
    return KS_OK;
}

/* What is to be replaced: the file itself where `path` is a link to it. */
static ks_status find_target(const char *path, ks_arena *arena, const char **target, mode_t *mode,
                             ks_error *err)
{
    struct stat about;
    ks_status kept = ks_opened_look(path, true, err);
    *target = path;
    *mode = 0;
    if (kept)
        return kept;
    if (lstat(path, &about) != 0)
        return errno == ENOENT ? KS_OK : refuse(err, path, "write it");
    if (S_ISLNK(about.st_mode)) {
        char *real = realpath(path, NULL);
        if (!real)
            return refuse(err, path, "follow this link");
        *target = ks_arena_text(arena, real);
        free(real);
        if (stat(*target, &about) != 0)
            return refuse(err, path, "write it");
    }
    if (!S_ISREG(about.st_mode))
        return ks_fail(err, KS_SYSTEM, "%s: found no plain file there; name a file to write", path);
    if (access(*target, W_OK) != 0)
        return refuse(err, path, "write it");
    *mode = about.st_mode & 07777;
    return KS_OK;
}

static ks_status fill(int fd, const char *path, mode_t mode, ks_bytes bytes, ks_error *err)
{
    ks_status status = ks_fd_write(fd, path, bytes.bytes, bytes.length, err);
    if (!status && mode && fchmod(fd, mode) != 0)
        status = refuse(err, path, "keep its mode");
    if (!status && fsync(fd) != 0)
        status = refuse(err, path, "bring it to disk");
    if (close(fd) != 0 && !status)
        status = refuse(err, path, "write it");
    return status;
}

/* Makes the rename last through a power cut. By now the new file is in place; folders that cannot
 * be opened for reading, and file systems that have no such request, are left to themselves. */
static ks_status settle_folder(const char *path, const char *target, ks_arena *arena, ks_error *err)
{
    int fd = open(ks_path_folder(target, arena), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0)
        return KS_OK;
    bool settled = fsync(fd) == 0 || errno == EINVAL || errno == ENOTSUP;
    ks_status status = settled ? KS_OK : refuse(err, path, "bring its folder to disk");
    (void)close(fd);
    return status;
}

static ks_status replace(const char *path, ks_bytes bytes, ks_arena *arena, ks_error *err)
{
    const char *target, *beside;
    mode_t mode;
    ks_status status = find_target(path, arena, &target, &mode, err);
    if (status)
        return status;
    int lock, fd = ks_temp_open(target, arena, &beside, &lock);
    if (fd < 0)
        return refuse(err, path, "write beside it");
    status = fill(fd, path, mode, bytes, err);
    if (!status && rename(beside, target) != 0)
        status = refuse(err, path, "put it in place");
    if (status)
        (void)unlink(beside);
    else
        status = settle_folder(path, target, arena, err);
    (void)close(lock);
    return status;
}

ks_status ks_file_try(const char *path, ks_error *err)
{
    ks_arena arena = {0};
    const char *target, *beside;
    mode_t mode;
    ks_status status = find_target(path, &arena, &target, &mode, err);
    int lock = -1, fd = status ? -1 : ks_temp_open(target, &arena, &beside, &lock);
    if (!status && fd < 0)
        status = refuse(err, path, "write into its folder");
    if (fd >= 0) {
        (void)close(fd);
        (void)unlink(beside);
        (void)close(lock);
    }
    ks_arena_finish(&arena);
    return status;
}

ks_status ks_file_write(const char *path, const char *bytes, size_t length, ks_error *err)
{
    if (ks_path_is_standard(path))
        return ks_fd_write(STDOUT_FILENO, "standard output", bytes, length, err);
    ks_arena arena = {0};
    ks_status status = replace(path, (ks_bytes){bytes, length}, &arena, err);
    ks_arena_finish(&arena);
    return status;
}

bool ks_path_is_free(const char *path)
{
    struct stat about;
    return lstat(path, &about) != 0 && (errno == ENOENT || errno == ENOTDIR);
}

bool ks_path_is_standard(const char *path)
{
    return strcmp(path, "-") == 0;
}

const char *ks_path_show(const char *path)
{
    return ks_path_is_standard(path) ? "standard input" : path;
}

bool ks_path_is_same(const char *a, const char *b)
{
    struct stat one, other;
    return stat(a, &one) == 0 && stat(b, &other) == 0 && one.st_dev == other.st_dev &&
           one.st_ino == other.st_ino;
}
