/* The system refuses a step of writing a file, one step after the other: the file is then the old
 * one or the new one, whole, and nothing is left beside it. The calls below stand in front of those
 * of the C library for the whole program. */
#include "base/file.h"
#include "check.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

typedef enum { NONE, WRITE, SHORT_WRITE, READ, FSYNC, RENAME, CLOSE, FCHMOD } call;

static struct {
    call refused;
    int at, met; /* which of its calls, from 1; how many there were */
    int error;
} fault;

static bool refuses(call which)
{
    if (fault.refused != which || ++fault.met != fault.at)
        return false;
    errno = fault.error;
    return true;
}

ssize_t write(int fd, const void *bytes, size_t length)
{
    if (refuses(WRITE))
        return -1;
    if (fault.refused == SHORT_WRITE && length > 1)
        length = length / 3 + 1;
    return syscall(SYS_write, fd, bytes, length);
}

ssize_t read(int fd, void *bytes, size_t length)
{
    return refuses(READ) ? -1 : syscall(SYS_read, fd, bytes, length);
}

int fsync(int fd)
{
    return refuses(FSYNC) ? -1 : (int)syscall(SYS_fsync, fd);
}

int rename(const char *from, const char *to)
{
    return refuses(RENAME) ? -1 : (int)syscall(SYS_rename, from, to);
}

int close(int fd)
{
    int closed = (int)syscall(SYS_close, fd);
    return refuses(CLOSE) ? -1 : closed;
}

int fchmod(int fd, mode_t mode)
{
    return refuses(FCHMOD) ? -1 : (int)syscall(SYS_fchmod, fd, mode);
}

static const char old_text[] = "the old file\n", new_text[] = "what the new file holds\n";
static char folder[] = "/tmp/kilnstow-faults-XXXXXX", path[64];

static int folder_made(void **state)
{
    (void)state;
    if (!mkdtemp(folder))
        return -1;
    snprintf(path, sizeof path, "%s/plan.json", folder);
    return 0;
}

static int folder_removed(void **state)
{
    (void)state;
    fault.refused = NONE;
    return unlink(path) != 0 || rmdir(folder) != 0;
}

static int files_in_folder(void)
{
    DIR *dir = opendir(folder);
    assert_non_null(dir);
    int count = 0;
    for (struct dirent *entry; (entry = readdir(dir));)
        count += *entry->d_name != '.' || strlen(entry->d_name) > 2;
    closedir(dir);
    return count;
}

static void check_holds(const char *text)
{
    ks_arena arena = {0};
    ks_bytes file;
    fault.refused = NONE;
    assert_int_equal(ks_file_read(path, 1000, &arena, &file, NULL), KS_OK);
    assert_string_equal(file.bytes, text);
    assert_int_equal(files_in_folder(), 1);
    ks_arena_finish(&arena);
}

/* Writes over the old file while the call's at-th time is refused. */
static ks_status written_with(call refused, int at, int error, ks_error *err)
{
    memset(err, 0, sizeof *err);
    fault.refused = NONE;
    assert_int_equal(ks_file_write(path, old_text, strlen(old_text), NULL), KS_OK);
    fault.refused = refused;
    fault.at = at;
    fault.met = 0;
    fault.error = error;
    return ks_file_write(path, new_text, strlen(new_text), err);
}

static void a_refused_step_leaves_the_old_file_and_is_told(void **state)
{
    (void)state;
    static const struct {
        call refused;
        int error;
        const char *words;
    } cases[] = {
        {WRITE, ENOSPC, "cannot write it: No space left on device"},
        {WRITE, EIO, "cannot write it: Input/output error"},
        {FSYNC, EIO, "cannot bring it to disk: Input/output error"},
        {FSYNC, ENOSPC, "cannot bring it to disk: No space left on device"},
        {CLOSE, EIO, "cannot write it: Input/output error"},
        {FCHMOD, EPERM, "cannot keep its mode: Operation not permitted"},
        {RENAME, EACCES, "cannot put it in place: Permission denied"},
        {RENAME, ENOSPC, "cannot put it in place: No space left on device"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ks_error err;
        assert_int_equal(written_with(cases[i].refused, 1, cases[i].error, &err), KS_SYSTEM);
        assert_int_equal(err.count, 1);
        assert_non_null(strstr(err.text, cases[i].words));
        check_holds(old_text);
    }
}

static void an_interrupted_or_short_write_goes_on(void **state)
{
    (void)state;
    ks_error err;
    assert_int_equal(written_with(WRITE, 1, EINTR, &err), KS_OK);
    check_holds(new_text);
    assert_int_equal(written_with(SHORT_WRITE, 1, 0, &err), KS_OK);
    check_holds(new_text);
}

/* The folder's own sync comes after the new file is in place. */
static void a_folder_that_cannot_be_synced_has_the_new_file(void **state)
{
    (void)state;
    ks_error err;
    assert_int_equal(written_with(FSYNC, 2, EINVAL, &err), KS_OK); /* not every file system can */
    check_holds(new_text);
    assert_int_equal(written_with(FSYNC, 2, EIO, &err), KS_SYSTEM);
    assert_non_null(strstr(err.text, "cannot bring its folder to disk: Input/output error"));
    check_holds(new_text);
}

static void a_refused_read_is_told_and_an_interrupted_one_goes_on(void **state)
{
    (void)state;
    ks_error err;
    ks_arena arena = {0};
    ks_bytes file;
    assert_int_equal(written_with(NONE, 0, 0, &err), KS_OK);
    fault.refused = READ;
    fault.met = 0;
    fault.at = 1;
    fault.error = EINTR;
    assert_int_equal(ks_file_read(path, 1000, &arena, &file, &err), KS_OK);
    assert_string_equal(file.bytes, new_text);
    fault.met = 0;
    fault.error = EIO;
    assert_int_equal(ks_file_read(path, 1000, &arena, &file, &err), KS_SYSTEM);
    assert_non_null(strstr(err.text, "cannot read it: Input/output error"));
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_refused_step_leaves_the_old_file_and_is_told),
        cmocka_unit_test(an_interrupted_or_short_write_goes_on),
        cmocka_unit_test(a_folder_that_cannot_be_synced_has_the_new_file),
        cmocka_unit_test(a_refused_read_is_told_and_an_interrupted_one_goes_on),
    };
    return cmocka_run_group_tests(tests, folder_made, folder_removed);
}
