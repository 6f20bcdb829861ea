#include "base/temp_file.h"

#include "base/path.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

enum { NAMES_TRIED = 100 };
static const char prefix[] = ".kilnstow-", digits[] = "0123456789";

/* ".kilnstow-PROCESS-NUMBER" and nothing else. */
static bool is_temp_name(const char *name)
{
    if (strncmp(name, prefix, sizeof prefix - 1) != 0)
        return false;
    name += sizeof prefix - 1;
    size_t process = strspn(name, digits);
    if (process == 0 || name[process] != '-')
        return false;
    name += process + 1;
    return *name && name[strspn(name, digits)] == '\0';
}

/* Whoever writes a temporary file holds its lock until it is renamed, and a killed process holds
 * none: so a lock that can be had tells a file that nobody will come back for, whatever machine or
 * container its process ran in. Where a file system has no locks, files are left. */
static void remove_if_left(const char *path)
{
    struct stat about;
    int fd = open(path, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (fd < 0)
        return;
    if (fstat(fd, &about) == 0 && S_ISREG(about.st_mode) && about.st_uid == geteuid() &&
        flock(fd, LOCK_EX | LOCK_NB) == 0)
        (void)unlink(path);
    (void)close(fd);
}

static void remove_left(const char *folder, ks_arena *arena)
{
    DIR *dir = opendir(folder);
    if (!dir)
        return;
    for (const struct dirent *entry; (entry = readdir(dir));)
        if (is_temp_name(entry->d_name))
            remove_if_left(ks_path_join(folder, entry->d_name, arena));
    (void)closedir(dir);
}

/* Between making a file and locking it another process may take it for one that was left. */
static bool is_still_ours(int fd)
{
    struct stat about;
    bool elsewhere = flock(fd, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
    return !elsewhere && fstat(fd, &about) == 0 && about.st_nlink > 0;
}

int ks_temp_open(const char *target, ks_arena *arena, const char **beside, int *lock)
{
    const char *folder = ks_path_folder(target, arena);
    remove_left(folder, arena);
    for (int i = 0; i < NAMES_TRIED; i++) {
        const char *name = ks_arena_print(arena, "%s%ld-%d", prefix, (long)getpid(), i);
        *beside = ks_path_join(folder, name, arena);
        int fd = open(*beside, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
        if (fd < 0 && errno != EEXIST)
            return -1;
        if (fd < 0)
            continue;
        *lock = is_still_ours(fd) ? fcntl(fd, F_DUPFD_CLOEXEC, 0) : -1;
        if (*lock >= 0)
            return fd;
        (void)unlink(*beside);
        (void)close(fd);
    }
    errno = EEXIST;
    return -1;
}
