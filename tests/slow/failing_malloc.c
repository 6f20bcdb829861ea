/* Stands in front of malloc, calloc and realloc (LD_PRELOAD) and lets one allocation fail. The file
 * that FAILING_MALLOC names holds two numbers, shared by a process and its children: allocations so
 * far, and which of them fails, 0 = none. For tests/slow/allocations.py. */
#include <errno.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <unistd.h>

extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *old, size_t size);

static struct {
    _Atomic int64_t so_far, failing;
} * shared;

__attribute__((constructor)) static void share(void)
{
    const char *path = getenv("FAILING_MALLOC");
    int fd = path ? open(path, O_RDWR | O_CLOEXEC) : -1;
    if (fd < 0)
        return;
    void *map = mmap(NULL, sizeof *shared, PROT_READ | PROT_WRITE, MAP_SHARED, fd, 0);
    (void)close(fd);
    shared = map == MAP_FAILED ? NULL : map;
}

static bool is_to_fail(void)
{
    if (!shared || atomic_fetch_add(&shared->so_far, 1) + 1 != atomic_load(&shared->failing))
        return false;
    errno = ENOMEM; /* as malloc has it */
    return true;
}

void *malloc(size_t size)
{
    return is_to_fail() ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
    return is_to_fail() ? NULL : __libc_calloc(count, size);
}

void *realloc(void *old, size_t size)
{
    return is_to_fail() ? NULL : __libc_realloc(old, size);
}
