/* Each file of this folder but those in good/ is refused with the exact message in the .expect file
 * beside it. kiln-*, order-* and plan-* are read as their names say; ware-*.csv as the ware of an
 * order. `test_bad write` writes the .expect files anew: review them as you would code. */
#include "base/file.h"
#include "base/text.h"
#include "check.h"
#include "kilnstow/plan.h"

#include <dirent.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define FOLDER "tests/bad"

static ks_arena arena;

static const char order_around[] =
    "{\"format\": \"kilnstow-order/1\", \"units\": {\"length\": \"mm\", \"mass\": \"kg\"},"
    " \"kilns\": [\"%s/tests/bad/good/kiln.json\"], \"firings\": [{\"id\": \"glaze\", \"cone\": "
    "\"6\"}],"
    " \"glazes\": [{\"id\": \"green\"}], \"members\": [{\"id\": \"ada\"}],"
    " \"ware_files\": [\"%s/%s\"]}\n";

/* The text without any "ROOT/", wherever the project lies. */
static void take_root_away(char *text, const char *root)
{
    size_t length = strlen(root) + 1;
    for (char *found = text; (found = strstr(found, root));)
        memmove(found, found + length, strlen(found + length) + 1);
}

static ks_status read_table(const char *path, ks_error *err)
{
    char name[] = "/tmp/kilnstow-order-XXXXXX.json", root[2048];
    int fd = mkstemps(name, 5);
    assert_true(fd >= 0 && getcwd(root, sizeof root));
    ks_text text = {.arena = &arena};
    ks_text_print(&text, order_around, root, root, path);
    assert_int_equal(ks_fd_write(fd, name, ks_text_end(&text), text.length, NULL), KS_OK);
    close(fd);
    ks_order *order;
    ks_status status = ks_order_read(name, "kilns", &arena, &order, err);
    unlink(name);
    if (err)
        take_root_away(err->text, root);
    return status;
}

static ks_status read_as_named(const char *path, ks_error *err)
{
    const char *name = ks_path_name(path);
    ks_kiln kiln;
    ks_order *order;
    ks_plan *plan;
    if (strncmp(name, "kiln-", 5) == 0)
        return ks_kiln_read(path, &arena, &kiln, err);
    if (strncmp(name, "order-", 6) == 0)
        return ks_order_read(path, "kilns", &arena, &order, err);
    if (strncmp(name, "plan-", 5) == 0)
        return ks_plan_read(path, &arena, &plan, err);
    return read_table(path, err);
}

static int by_name(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* The bad files' paths in order. */
static const char **bad_files(int *n)
{
    const char **paths = NULL;
    int room = 0;
    DIR *folder = opendir(FOLDER);
    assert_non_null(folder);
    *n = 0;
    for (struct dirent *entry; (entry = readdir(folder));)
        if (ks_path_ends(entry->d_name, ".json") || ks_path_ends(entry->d_name, ".csv")) {
            paths = KS_GROW(&arena, paths, *n, &room, const char *);
            paths[(*n)++] = ks_path_join(FOLDER, ks_arena_text(&arena, entry->d_name), &arena);
        }
    closedir(folder);
    assert_true(*n > 0);
    qsort(paths, (size_t)*n, sizeof *paths, by_name);
    return paths;
}

static const char *message_of(const char *path)
{
    ks_error err = {0};
    ks_status status = read_as_named(path, &err);
    if (status != KS_BAD_INPUT)
        fail_msg("%s: status %d: %s", path, (int)status, err.text);
    return ks_arena_print(&arena, "%s\n", err.text);
}

/* "tests/bad/NAME:LINE: field: words", in each line. */
static bool is_located(const char *message, const char *path)
{
    size_t length = strlen(path);
    for (const char *line = message; *line; line += strcspn(line, "\n") + 1) {
        if (strncmp(line, path, length) != 0 || line[length] != ':')
            return false;
        size_t digits = strspn(line + length + 1, "0123456789");
        if (digits == 0 || line[length + 1 + digits] != ':')
            return false;
    }
    return true;
}

static void every_bad_file_is_refused_in_the_expected_words(void **state)
{
    (void)state;
    int n, wrong = 0;
    const char **paths = bad_files(&n);
    for (int i = 0; i < n; i++) {
        ks_bytes expected;
        ks_error err = {0};
        const char *message = message_of(paths[i]);
        const char *beside = ks_arena_print(&arena, "%s.expect", paths[i]);
        if (ks_file_read(beside, 1 << 16, &arena, &expected, &err) != KS_OK)
            fail_msg("%s", err.text);
        if (strcmp(message, expected.bytes) != 0) {
            print_error("%sexpected\n%s", message, expected.bytes);
            wrong++;
        }
        assert_true(is_located(message, paths[i]));
    }
    assert_int_equal(wrong, 0);
    assert_true(n >= 80);
}

/* Without an error to fill, the same files are refused as well. */
static void nobody_has_to_ask_for_the_message(void **state)
{
    (void)state;
    int n;
    const char **paths = bad_files(&n);
    for (int i = 0; i < n; i++)
        assert_int_equal(read_as_named(paths[i], NULL), KS_BAD_INPUT);
}

static int written(void)
{
    int n;
    const char **paths = bad_files(&n);
    for (int i = 0; i < n; i++) {
        const char *message = message_of(paths[i]);
        ks_error err = {0};
        if (ks_file_write(ks_arena_print(&arena, "%s.expect", paths[i]), message, strlen(message),
                          &err) != KS_OK)
            return 1;
    }
    return 0;
}

static int freed(void **state)
{
    (void)state;
    ks_arena_finish(&arena);
    return 0;
}

int main(int argc, char **argv)
{
    if (argc == 2 && strcmp(argv[1], "write") == 0)
        return written();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(every_bad_file_is_refused_in_the_expected_words, freed),
        cmocka_unit_test_teardown(nobody_has_to_ask_for_the_message, freed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
