/* Stands in front of the calls that write plain files (LD_PRELOAD) and lets one of them fail.
 * FAILING_IO names a file of counters, shared by a process and its children; FAILING_CALL which
 * call it is about. For tests/refused.py. */
#include <errno.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

static struct {
    _Atomic int64_t so_far; /* calls until now */
    int64_t failing,
        error; /* which fails, 0 = none, and with what; error 0: half of it is written */
} * shared;
static const char *failing_call = "";

__attribute__((constructor)) static void share(void)
{
    const char *path = getenv("FAILING_IO"), *call = getenv("FAILING_CALL");
    int fd = path ? open(path, O_RDWR | O_CLOEXEC) : -1;
    if (fd < 0 || !call)
        return;
    void *map = mmap(NULL, sizeof *shared, PROT_READ | PROT_WRITE, MAP_SHARED, fd, 0);
    (void)syscall(SYS_close, fd);
    shared = map == MAP_FAILED ? NULL : map;
    failing_call = call;
}

static bool is_written_file(int fd)
{
    struct stat about;
    int flags = fcntl(fd, F_GETFL);
    return flags >= 0 && (flags & O_ACCMODE) != O_RDONLY && fstat(fd, &about) == 0 &&
           S_ISREG(about.st_mode);
}

/* Counts the call; true when it is the one to fail. */
static bool is_to_fail(const char *call)
{
    if (!shared || strcmp(call, failing_call) != 0)
        return false;
    return atomic_fetch_add(&shared->so_far, 1) + 1 == shared->failing;
}

static int failed(void)
{
    errno = (int)shared->error;
    return -1;
}

ssize_t write(int fd, const void *bytes, size_t length)
{
    if (is_written_file(fd) && is_to_fail("write")) {
        if (shared->error)
            return failed();
        length = length / 2 + 1;
    }
    return syscall(SYS_write, fd, bytes, length);
}

int fsync(int fd)
{
    return is_to_fail("fsync") ? failed() : (int)syscall(SYS_fsync, fd);
}

int rename(const char *from, const char *to)
{
    return is_to_fail("rename") ? failed() : (int)syscall(SYS_rename, from, to);
}

int close(int fd)
{
    bool fails = is_written_file(fd) && is_to_fail("close");
    int closed = (int)syscall(SYS_close, fd);
    return fails ? failed() : closed;
}
