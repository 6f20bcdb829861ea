#include "target.h"

#include "base/file.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>

void require(bool holds)
{
    if (!holds)
        abort();
}

int file_of(const void *bytes, size_t length, char path[40])
{
    int fd = memfd_create("fuzz", MFD_CLOEXEC);
    require(fd >= 0 && ks_fd_write(fd, "fuzz", bytes, length, NULL) == KS_OK);
    snprintf(path, 40, "/proc/self/fd/%d", fd);
    return fd;
}

void require_words(ks_status status, const ks_error *err)
{
    require(status == KS_OK || status == KS_BAD_INPUT || status == KS_SYSTEM);
    require(status == KS_OK || (err->count > 0 && err->status == status && *err->text));
}
