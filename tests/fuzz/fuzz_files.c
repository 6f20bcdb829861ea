/* fuzz_files.c: kilns, orders and plans of any bytes are read or refused at a place; what a plan
 * was understood to be can be written and read again. */
#include "base/file.h"
#include "base/data/json.h"
#include "kilnstow/plan.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

static void require(bool holds)
{
    if (!holds)
        abort();
}

/* The readers take paths: an unnamed file in memory has one. */
static int file_of(const void *bytes, size_t length, char path[40])
{
    int fd = memfd_create("fuzz", MFD_CLOEXEC);
    require(fd >= 0 && ks_fd_write(fd, "fuzz", bytes, length, NULL) == KS_OK);
    snprintf(path, 40, "/proc/self/fd/%d", fd);
    return fd;
}

static void check_words(ks_status status, const ks_error *err)
{
    require(status == KS_OK || status == KS_BAD_INPUT || status == KS_SYSTEM);
    require(status == KS_OK || (err->count > 0 && err->status == status && *err->text));
}

static void check_plan(const char *path, ks_arena *arena)
{
    ks_error err = {0}, again = {0};
    ks_plan *plan, *copy;
    ks_status status = ks_plan_read(path, arena, &plan, &err);
    check_words(status, &err);
    if (status != KS_OK)
        return;
    const char *text = ks_plan_json(plan, arena);
    char second[40];
    int fd = file_of(text, strlen(text), second);
    require(ks_plan_read(second, arena, &copy, &again) == KS_OK);
    close(fd);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    char path[40];
    int fd = file_of(bytes, length, path);
    ks_arena arena = {0};
    ks_error kiln_err = {0}, order_err = {0};
    ks_kiln kiln;
    ks_order *order;
    check_words(ks_kiln_read(path, &arena, &kiln, &kiln_err), &kiln_err);
    check_words(ks_order_read(path, "tests/bad/good", &arena, &order, &order_err), &order_err);
    check_plan(path, &arena);
    close(fd);
    ks_arena_finish(&arena);
    return 0;
}
