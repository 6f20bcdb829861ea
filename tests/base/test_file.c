#include "base/file.h"
#include "check.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

static ks_arena arena;
static char folder[64];

static int folder_made(void **state)
{
    (void)state;
    strcpy(folder, "/tmp/kilnstow-file-XXXXXX");
    return mkdtemp(folder) ? 0 : -1;
}

static int folder_removed(void **state)
{
    (void)state;
    char command[200];
    snprintf(command, sizeof command, "chmod -R u+w %s && rm -r %s", folder, folder);
    ks_arena_finish(&arena);
    return system(command);
}

static const char *in_folder(const char *name)
{
    return ks_path_join(folder, name, &arena);
}

static int files_in_folder(void)
{
    DIR *dir = opendir(folder);
    assert_non_null(dir);
    int count = 0;
    for (struct dirent *entry; (entry = readdir(dir));)
        count += strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0;
    closedir(dir);
    return count;
}

static void check_holds(const char *path, const char *text)
{
    ks_bytes file;
    ks_error err = {0};
    assert_int_equal(ks_file_read(path, 1 << 20, &arena, &file, &err), KS_OK);
    assert_int_equal(file.length, strlen(text));
    assert_string_equal(file.bytes, text);
}

static ks_status written(const char *path, const char *text, ks_error *err)
{
    memset(err, 0, sizeof *err);
    return ks_file_write(path, text, strlen(text), err);
}

static void what_is_written_is_read(void **state)
{
    (void)state;
    ks_error err;
    const char *path = in_folder("plan.json");
    assert_int_equal(written(path, "one\n", &err), KS_OK);
    check_holds(path, "one\n");
    assert_int_equal(written(path, "", &err), KS_OK);
    check_holds(path, "");
    assert_int_equal(files_in_folder(), 1);
}

static void an_old_file_keeps_its_mode_and_a_new_one_obeys_the_umask(void **state)
{
    (void)state;
    ks_error err;
    struct stat about;
    const char *path = in_folder("plan.json");
    mode_t before = umask(027);
    assert_int_equal(written(path, "one", &err), KS_OK);
    umask(before);
    assert_int_equal(stat(path, &about), 0);
    assert_int_equal(about.st_mode & 07777, 0640);
    assert_int_equal(chmod(path, 0604), 0);
    assert_int_equal(written(path, "two", &err), KS_OK);
    assert_int_equal(stat(path, &about), 0);
    assert_int_equal(about.st_mode & 07777, 0604);
    check_holds(path, "two");
}

static void a_link_stays_a_link(void **state)
{
    (void)state;
    ks_error err;
    struct stat about;
    const char *real = in_folder("real.json"), *link = in_folder("link.json");
    assert_int_equal(written(real, "one", &err), KS_OK);
    assert_int_equal(symlink("real.json", link), 0);
    assert_int_equal(written(link, "two", &err), KS_OK);
    assert_int_equal(lstat(link, &about), 0);
    assert_true(S_ISLNK(about.st_mode));
    check_holds(real, "two");
    const char *lost = in_folder("lost.json");
    assert_int_equal(symlink("nowhere.json", lost), 0);
    assert_int_equal(written(lost, "x", &err), KS_SYSTEM);
    assert_non_null(strstr(err.text, "lost.json: cannot follow this link: No such file"));
    assert_int_equal(files_in_folder(), 3);
}

/* The machine has no room: a size limit stands for a full disk, and lets the first part through. */
static void a_full_disk_leaves_the_old_file(void **state)
{
    (void)state;
    ks_error err;
    const char *path = in_folder("plan.json");
    assert_int_equal(written(path, "old", &err), KS_OK);
    char *large = ks_arena_take(&arena, 300001, 1);
    memset(large, 'x', 300000);
    struct rlimit before, tight;
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    tight = before;
    tight.rlim_cur = 100000;
    void (*handler)(int) = signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &tight), 0);
    ks_status status = written(path, large, &err);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    signal(SIGXFSZ, handler);
    assert_int_equal(status, KS_SYSTEM);
    assert_non_null(strstr(err.text, "plan.json: cannot write it: File too large"));
    check_holds(path, "old");
    assert_int_equal(files_in_folder(), 1);
}

static void places_that_cannot_be_written_are_told(void **state)
{
    (void)state;
    ks_error err;
    assert_int_equal(written(in_folder("no/plan.json"), "x", &err), KS_SYSTEM);
    assert_non_null(strstr(err.text, "cannot write beside it: No such file or directory"));
    assert_int_equal(written(folder, "x", &err), KS_SYSTEM);
    assert_non_null(strstr(err.text, "found no plain file there"));
    assert_int_equal(written("/dev/full", "x", &err), KS_SYSTEM);
    assert_non_null(strstr(err.text, "/dev/full: found no plain file there"));
    assert_int_equal(written("", "x", &err), KS_SYSTEM);
    assert_int_equal(files_in_folder(), 0);
}

static void a_file_that_may_not_be_written_is_left(void **state)
{
    (void)state;
    ks_error err;
    const char *path = in_folder("plan.json");
    assert_int_equal(written(path, "old", &err), KS_OK);
    assert_int_equal(chmod(path, 0444), 0);
    if (geteuid() == 0) { /* who may write everything is not told no */
        assert_int_equal(written(path, "new", &err), KS_OK);
        check_holds(path, "new");
        return;
    }
    assert_int_equal(written(path, "new", &err), KS_SYSTEM);
    check_holds(path, "old");
}

static void names_left_by_a_killed_program_are_passed_over(void **state)
{
    (void)state;
    ks_error err;
    char name[60];
    for (int i = 0; i < 3; i++) {
        snprintf(name, sizeof name, ".kilnstow-%ld-%d", (long)getpid(), i);
        assert_int_equal(symlink("/dev/null", in_folder(name)), 0);
    }
    assert_int_equal(written(in_folder("plan.json"), "x", &err), KS_OK);
    check_holds(in_folder("plan.json"), "x");
    assert_int_equal(files_in_folder(), 4);
}

static void a_full_device_is_told_when_written_to(void **state)
{
    (void)state;
    ks_error err = {0};
    int fd = open("/dev/full", O_WRONLY);
    assert_true(fd >= 0);
    assert_int_equal(ks_fd_write(fd, "standard output", "x", 1, &err), KS_SYSTEM);
    assert_string_equal(err.text, "standard output: cannot write it: No space left on device");
    close(fd);
}

/* Nobody writes to that pipe: opened as files usually are, it would be waited for for ever. */
static void what_is_no_plain_file_is_refused_without_waiting(void **state)
{
    (void)state;
    static const char *const kinds[][2] = {{"pipe", "a pipe"}, {"/dev/zero", "a device"}};
    assert_int_equal(mkfifo(in_folder("pipe"), 0600), 0);
    for (int i = 0; i < 2; i++) {
        ks_bytes file;
        ks_error err = {0};
        const char *path = in_folder(kinds[i][0]);
        assert_int_equal(ks_file_read(path, 1000, &arena, &file, &err), KS_BAD_INPUT);
        assert_string_equal(err.text, ks_arena_print(&arena,
                                                     "%s: found %s; name a file, or - for "
                                                     "standard input",
                                                     path, kinds[i][1]));
    }
}

static void what_a_killed_run_left_is_removed_and_what_is_being_written_is_not(void **state)
{
    (void)state;
    ks_error err;
    const char *left = in_folder(".kilnstow-4194999-0"), *busy = in_folder(".kilnstow-4194999-1"),
               *other = in_folder(".kilnstow-4194999-0.json");
    close(open(left, O_WRONLY | O_CREAT, 0600));
    close(open(other, O_WRONLY | O_CREAT, 0600));
    int fd = open(busy, O_WRONLY | O_CREAT, 0600);
    assert_int_equal(flock(fd, LOCK_EX), 0);
    assert_int_equal(written(in_folder("plan.json"), "x", &err), KS_OK);
    assert_true(ks_path_is_free(left));
    assert_false(ks_path_is_free(busy));
    assert_false(ks_path_is_free(other));
    close(fd);
    assert_int_equal(written(in_folder("plan.json"), "y", &err), KS_OK);
    assert_true(ks_path_is_free(busy));
    check_holds(in_folder("plan.json"), "y");
    assert_int_equal(files_in_folder(), 2);
}

static void a_pipe_is_written_and_standard_input_read_whole(void **state)
{
    (void)state;
    enum { LENGTH = 500000 };
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    pid_t child = fork();
    assert_true(child >= 0);
    char *text = ks_arena_take(&arena, LENGTH + 1, 1);
    memset(text, 'p', LENGTH);
    if (child == 0) {
        close(ends[0]);
        _exit(ks_fd_write(ends[1], "pipe", text, LENGTH, NULL));
    }
    close(ends[1]);
    ks_bytes file;
    ks_error err = {0};
    assert_int_equal(dup2(ends[0], STDIN_FILENO), STDIN_FILENO);
    close(ends[0]);
    assert_int_equal(ks_file_read("-", LENGTH, &arena, &file, &err), KS_OK);
    assert_int_equal(file.length, LENGTH);
    assert_memory_equal(file.bytes, text, LENGTH);
    assert_int_equal(ks_file_read("-", LENGTH, &arena, &file, &err), KS_BAD_INPUT);
    assert_string_equal(err.text,
                        "standard input: found nothing; it can be read once, as one file");
}

static void a_file_over_the_limit_is_refused(void **state)
{
    (void)state;
    ks_bytes file;
    ks_error err = {0};
    const char *path = in_folder("large");
    assert_int_equal(written(path, "12345", &err), KS_OK);
    assert_int_equal(ks_file_read(path, 5, &arena, &file, &err), KS_OK);
    assert_int_equal(ks_file_read(path, 4, &arena, &file, &err), KS_BAD_INPUT);
    memset(&err, 0, sizeof err);
    assert_int_equal(ks_file_read("/proc/self/maps", 1 << 10, &arena, &file, &err), KS_BAD_INPUT);
    assert_string_equal(err.text,
                        "/proc/self/maps: found more than 1 KiB; such a file has at most that");
}

static void paths_come_apart_and_together(void **state)
{
    (void)state;
    assert_string_equal(ks_path_folder("a/b/c.json", &arena), "a/b");
    assert_string_equal(ks_path_folder("c.json", &arena), ".");
    assert_string_equal(ks_path_folder("/c.json", &arena), "/");
    assert_string_equal(ks_path_name("a/b/c.json"), "c.json");
    assert_string_equal(ks_path_name("c.json"), "c.json");
    assert_string_equal(ks_path_join("a", "b.csv", &arena), "a/b.csv");
    assert_string_equal(ks_path_join("a/", "b.csv", &arena), "a/b.csv");
    assert_string_equal(ks_path_join("a", "/b.csv", &arena), "/b.csv");
    assert_true(ks_path_ends("WARE.CSV", ".csv"));
    assert_false(ks_path_ends("csv", ".csv"));
}

#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, folder_made, folder_removed)

int main(void)
{
    const struct CMUnitTest tests[] = {
        IN_FOLDER(what_is_written_is_read),
        IN_FOLDER(an_old_file_keeps_its_mode_and_a_new_one_obeys_the_umask),
        IN_FOLDER(a_link_stays_a_link),
        IN_FOLDER(a_full_disk_leaves_the_old_file),
        IN_FOLDER(places_that_cannot_be_written_are_told),
        IN_FOLDER(a_file_that_may_not_be_written_is_left),
        IN_FOLDER(names_left_by_a_killed_program_are_passed_over),
        IN_FOLDER(a_full_device_is_told_when_written_to),
        IN_FOLDER(a_pipe_is_written_and_standard_input_read_whole),
        IN_FOLDER(what_is_no_plain_file_is_refused_without_waiting),
        IN_FOLDER(what_a_killed_run_left_is_removed_and_what_is_being_written_is_not),
        IN_FOLDER(a_file_over_the_limit_is_refused),
        IN_FOLDER(paths_come_apart_and_together),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
