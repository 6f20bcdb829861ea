/* Good files with single bytes changed are read or refused at a place; never anything else. Meant
 * to run under the address and undefined-behaviour sanitisers too. */
#include "base/file.h"
#include "base/random.h"
#include "check.h"
#include "kilnstow/plan.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { CHANGES = 1500 };

static ks_status read_kiln(const char *path, ks_arena *arena, ks_error *err)
{
    ks_kiln kiln;
    return ks_kiln_read(path, arena, &kiln, err);
}

static ks_status read_order(const char *path, ks_arena *arena, ks_error *err)
{
    ks_order *order;
    return ks_order_read(path, "tests/bad/good", arena, &order, err);
}

static ks_status read_plan(const char *path, ks_arena *arena, ks_error *err)
{
    ks_plan *plan;
    ks_status status = ks_plan_read(path, arena, &plan, err);
    if (status == KS_OK) /* what was understood can be written and read again */
        assert_true(strlen(ks_plan_json(plan, arena)) > 100);
    return status;
}

/* As the ware of an order that stands beside it for the moment. */
static ks_status read_table(const char *path, ks_arena *arena, ks_error *err)
{
    static const char around[] =
        "{\"format\": \"kilnstow-order/1\", \"units\": {\"length\": \"mm\", \"mass\": \"kg\"},"
        " \"kilns\": [\"small\"], \"firings\": [{\"id\": \"glaze\", \"cone\": \"6\"}],"
        " \"glazes\": [{\"id\": \"green\"}, {\"id\": \"white\"}], \"ware_files\": [\"%s\"]}\n";
    char root[2048];
    assert_non_null(getcwd(root, sizeof root));
    const char *absolute = ks_path_join(root, path, arena);
    const char *text = ks_arena_print(arena, around, absolute);
    char name[] = "/tmp/kilnstow-around-XXXXXX.json";
    int fd = mkstemps(name, 5);
    assert_true(fd >= 0);
    assert_int_equal(ks_fd_write(fd, name, text, strlen(text), NULL), KS_OK);
    close(fd);
    ks_order *order;
    ks_status status = ks_order_read(name, "tests/bad/good", arena, &order, err);
    unlink(name);
    return status;
}

typedef ks_status (*file_reader)(const char *path, ks_arena *arena, ks_error *err);

/* One byte becomes another, goes, or is doubled; half of the time one of those that matter. */
static size_t changed(char *bytes, size_t length, ks_random *random)
{
    static const char signs[] = "\"{}[]:,.-0129eE \n\\untf'#/";
    size_t at = (size_t)ks_random_below(random, (int)length);
    switch (ks_random_below(random, 4)) {
    case 0:
        bytes[at] = (char)ks_random_below(random, 256);
        return length;
    case 1:
        memmove(bytes + at, bytes + at + 1, length - at - 1);
        return length - 1;
    case 2:
        memmove(bytes + at + 1, bytes + at, length - at);
        return length + 1;
    default:
        bytes[at] = signs[ks_random_below(random, sizeof signs - 1)];
        return length;
    }
}

static void check_change(const ks_bytes *good, file_reader read, ks_random *random, int *taken)
{
    ks_arena arena = {0};
    char name[] = "/tmp/kilnstow-change-XXXXXX.json";
    char *bytes = ks_arena_take(&arena, good->length + 1, 1);
    memcpy(bytes, good->bytes, good->length);
    size_t length = changed(bytes, good->length, random);
    int fd = mkstemps(name, 5);
    assert_true(fd >= 0);
    assert_int_equal(ks_fd_write(fd, name, bytes, length, NULL), KS_OK);
    close(fd);
    ks_error err = {0};
    ks_status status = read(name, &arena, &err);
    unlink(name);
    assert_true(status == KS_OK || status == KS_BAD_INPUT || status == KS_SYSTEM);
    if (status != KS_OK)
        assert_true(err.count > 0 && err.status == status && *err.text);
    *taken += status == KS_OK;
    ks_arena_finish(&arena);
}

static void check_changes(const char *path, file_reader read)
{
    ks_arena arena = {0};
    ks_bytes good;
    ks_error err = {0};
    assert_int_equal(ks_file_read(path, 1 << 20, &arena, &good, &err), KS_OK);
    assert_int_equal(read(path, &arena, &err), KS_OK);
    ks_random random = ks_random_of(20261125, good.length);
    int taken = 0;
    for (int i = 0; i < CHANGES; i++)
        check_change(&good, read, &random, &taken);
    assert_true(taken > 0 && taken < CHANGES);
    ks_arena_finish(&arena);
}

static void a_changed_kiln_is_read_or_refused(void **state)
{
    (void)state;
    check_changes("tests/bad/good/kiln.json", read_kiln);
}

static void a_changed_order_is_read_or_refused(void **state)
{
    (void)state;
    check_changes("tests/bad/good/order-alone.json", read_order);
}

static void a_changed_plan_is_read_or_refused(void **state)
{
    (void)state;
    check_changes("tests/bad/good/plan.json", read_plan);
}

static void a_changed_table_is_read_or_refused(void **state)
{
    (void)state;
    check_changes("tests/bad/good/ware.csv", read_table);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_changed_kiln_is_read_or_refused),
        cmocka_unit_test(a_changed_order_is_read_or_refused),
        cmocka_unit_test(a_changed_plan_is_read_or_refused),
        cmocka_unit_test(a_changed_table_is_read_or_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
