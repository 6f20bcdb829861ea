/* What an output may replace: nothing that was read, nothing of another kind, unless told so. */
#include "app/machine/target.h"
#include "check.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[PATH_MAX];
static ks_arena arena;

static const char *in_folder(const char *name)
{
    return ks_arena_print(&arena, "%s/%s", folder, name);
}

static const char *file_made(const char *name, const char *text)
{
    FILE *file = fopen(in_folder(name), "w");
    fputs(text, file);
    fclose(file);
    return in_folder(name);
}

static int folder_made(void **state)
{
    char path[] = "/tmp/kilnstow-target-XXXXXX";
    if (!mkdtemp(path))
        return -1;
    strcpy(folder, path);
    return 0;
}

static int folder_removed(void **state)
{
    char command[PATH_MAX + 16];
    snprintf(command, sizeof command, "rm -r %s", folder);
    ks_arena_finish(&arena);
    return system(command);
}

static ks_status tried(const char *path, ks_target_kind kind, const char *read, bool force)
{
    ks_inputs inputs = {.arena = &arena};
    ks_error err = {0};
    ks_inputs_add(&inputs, read);
    ks_status status = ks_target_try(path, kind, &inputs, force, &err);
    assert_int_equal(status != KS_OK, err.count > 0);
    return status;
}

static void what_was_read_is_spared_whatever_it_is_called(void **state)
{
    const char *plan = file_made("plan.json", "{\"format\": \"kilnstow-plan/1\"}");
    assert_int_equal(tried(plan, KS_TARGET_PLAN, NULL, false), KS_OK);
    assert_int_equal(tried(plan, KS_TARGET_PLAN, plan, false), KS_BAD_USAGE);
    assert_int_equal(link(plan, in_folder("hard.json")), 0);
    assert_int_equal(symlink(plan, in_folder("soft.json")), 0);
    assert_int_equal(tried(in_folder("hard.json"), KS_TARGET_PLAN, plan, false), KS_BAD_USAGE);
    assert_int_equal(tried(in_folder("soft.json"), KS_TARGET_PLAN, plan, false), KS_BAD_USAGE);
    assert_int_equal(tried(in_folder("hard.json"), KS_TARGET_PLAN, plan, true), KS_OK);
    assert_int_equal(tried(in_folder("new.json"), KS_TARGET_PLAN, plan, false), KS_OK);
    assert_int_equal(access(in_folder("new.json"), F_OK), -1);
}

/* Each kind by how such files begin: ISO 32000, W3C PNG and SVG 1.1, HTML, RFC 5545; our own by
 * docs/files.md and docs/commands.md. */
static const struct {
    ks_target_kind kind;
    const char *begins;
} begins[] = {
    {KS_TARGET_PLAN, "{\n  \"format\": \"kilnstow-plan/1\",\n"},
    {KS_TARGET_PDF, "%PDF-1.5\n"},
    {KS_TARGET_SVG, "<?xml version=\"1.0\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\">"},
    {KS_TARGET_PNG, "\x89PNG\r\n\x1a\n"},
    {KS_TARGET_HTML, "<!DOCTYPE html>\n<html>"},
    {KS_TARGET_CALENDAR, "BEGIN:VCALENDAR\r\nPRODID:-//kilnstow//kilnstow//EN\r\n"},
    {KS_TARGET_COSTS, "load,level,id,copy,owner,firing_EUR\r\n"},
    {KS_TARGET_SUMS, "member,name,what,how,amount_EUR\r\n"},
    {KS_TARGET_CURVE_TABLE, "time_h,set_c,chamber_c\r\n"},
    {KS_TARGET_CURVE, "{\n  \"format\": \"kilnstow-curve/1\",\n"},
    {KS_TARGET_PROBLEM, "\\* Problem: Unknown *\\\n"},
};
enum { BEGINS = sizeof begins / sizeof *begins };

static void only_a_file_of_its_kind_is_replaced(void **state)
{
    for (int there = 0; there < BEGINS; there++) {
        const char *path = file_made("there", begins[there].begins);
        for (int k = 0; k < BEGINS; k++) {
            ks_status wanted = k == there ? KS_OK : KS_BAD_USAGE;
            assert_int_equal(tried(path, begins[k].kind, NULL, false), wanted);
            assert_int_equal(tried(path, begins[k].kind, NULL, true), KS_OK);
        }
    }
    for (int k = 0; k < BEGINS; k++) {
        assert_int_equal(
            tried(file_made("there", "id,count\nmug,3\n"), begins[k].kind, NULL, false),
            KS_BAD_USAGE);
        assert_int_equal(tried(file_made("there", "x"), begins[k].kind, NULL, false), KS_BAD_USAGE);
        assert_int_equal(tried(file_made("there", ""), begins[k].kind, NULL, false), KS_OK);
    }
}

static void where_nothing_can_be_written_is_found_before(void **state)
{
    assert_int_equal(tried(in_folder("no/plan.json"), KS_TARGET_PLAN, NULL, false), KS_SYSTEM);
    assert_int_equal(tried(folder, KS_TARGET_PLAN, NULL, false), KS_SYSTEM);
    assert_int_equal(tried(folder, KS_TARGET_PLAN, NULL, true), KS_SYSTEM);
    assert_int_equal(tried("/dev/null", KS_TARGET_PLAN, NULL, false), KS_SYSTEM);
    assert_int_equal(tried("/proc/plan.json", KS_TARGET_PLAN, NULL, false), KS_SYSTEM);
    assert_int_equal(tried("-", KS_TARGET_PLAN, NULL, false), KS_OK);
    assert_int_equal(tried(NULL, KS_TARGET_PLAN, NULL, false), KS_OK);
}

static void what_cannot_be_written_goes_under_a_free_name(void **state)
{
    assert_int_equal(
        mkdir(in_folder("plan.json"), 0777) == 0 || access(in_folder("plan.json"), 0) == 0, 1);
    file_made("p-saved-1.json", "somebody's");
    const char *saved = ks_target_rescue(in_folder("p.json"), "text", 4, &arena);
    assert_string_equal(saved, in_folder("p-saved-2.json"));
    setenv("TMPDIR", folder, 1);
    char here[PATH_MAX];
    assert_non_null(getcwd(here, sizeof here));
    assert_int_equal(chdir("/proc"), 0); /* takes no files */
    saved = ks_target_rescue("/proc/q.json", "text", 4, &arena);
    assert_int_equal(chdir(here), 0);
    assert_string_equal(saved, in_folder("q-saved-1.json"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_read_is_spared_whatever_it_is_called),
        cmocka_unit_test(only_a_file_of_its_kind_is_replaced),
        cmocka_unit_test(where_nothing_can_be_written_is_found_before),
        cmocka_unit_test(what_cannot_be_written_goes_under_a_free_name),
    };
    return cmocka_run_group_tests(tests, folder_made, folder_removed);
}
