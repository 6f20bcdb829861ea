/* Good files with one byte changed: read with the same meaning or refused in words, never a crash.
 */
#include "orders.h"

#include "base/file.h"
#include "base/random.h"

/* What a slip of the hand may leave behind. */
static const char strokes[] = "0123456789-.,:;\"'[]{} xen\\/\n\t\x01\x80\xff";

static void one_byte_changed(char *text, size_t *length, ks_random *random)
{
    size_t at = (size_t)ks_random_below(random, (int)*length);
    char stroke = strokes[ks_random_below(random, (int)sizeof strokes - 1)];
    if (ks_random_unit(random) < 0.2) {
        memmove(text + at, text + at + 1, *length - at - 1);
        --*length;
    } else {
        text[at] = stroke;
    }
}

typedef ks_status (*reader)(const char *path, ks_arena *arena, ks_error *err);

static ks_status as_order(const char *path, ks_arena *arena, ks_error *err)
{
    ks_order *order;
    return ks_order_read(path, "kilns", arena, &order, err);
}

static ks_status as_kiln(const char *path, ks_arena *arena, ks_error *err)
{
    ks_kiln kiln;
    return ks_kiln_read(path, arena, &kiln, err);
}

static ks_status as_plan(const char *path, ks_arena *arena, ks_error *err)
{
    ks_plan *plan;
    return ks_plan_read(path, arena, &plan, err);
}

static void edited_and_read(const char *good, const char *name, reader read, int times)
{
    ks_arena arena = {0};
    ks_error err = {0};
    ks_bytes bytes;
    assert_int_equal(ks_file_read(good, 8 << 20, &arena, &bytes, &err), KS_OK);
    workplace place = workplace_made();
    const char *path = file_put(&place, name, "");
    ks_random random = ks_random_of(5, (uint64_t)times);
    int refused = 0;
    for (int i = 0; i < times; i++) {
        ks_arena one = {0};
        ks_error told = {0};
        size_t length = bytes.length;
        char *text = ks_arena_text_n(&one, bytes.bytes, length);
        one_byte_changed(text, &length, &random);
        assert_int_equal(ks_file_write(path, text, length, &err), KS_OK);
        ks_status status = read(path, &one, &told);
        if (status != KS_OK) {
            refused++;
            assert_true(status == KS_BAD_INPUT || status == KS_SYSTEM);
            assert_true(told.count > 0 && *told.text);
        }
        ks_arena_finish(&one);
    }
    assert_true(refused > times / 10);
    workplace_left(&place);
    ks_arena_finish(&arena);
}

static int times_over(void)
{
    const char *told = getenv("KILNSTOW_TIMES"); /* for a long run by hand */
    return told ? atoi(told) : 1;
}

static void kilns_with_a_slip_are_read_or_refused(void **state)
{
    (void)state;
    edited_and_read("kilns/gas-1000.json", "kiln.json", as_kiln, 300 * times_over());
    edited_and_read("kilns/round-580.json", "kiln.json", as_kiln, 300 * times_over());
}

static void orders_with_a_slip_are_read_or_refused(void **state)
{
    (void)state;
    edited_and_read("examples/forms/order.json", "order.json", as_order, 300 * times_over());
}

static void plans_with_a_slip_are_read_or_refused(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    assert_int_equal(ks_order_read("examples/forms/order.json", "kilns", &arena, &order, &err),
                     KS_OK);
    ks_plan plan = {.version = "0", .stopped_by = "rounds", .bound_kind = "", .order = order};
    workplace place = workplace_made();
    edited_and_read(file_put(&place, "good.json", ks_plan_json(&plan, &arena)), "plan.json",
                    as_plan, 200 * times_over());
    workplace_left(&place);
    ks_arena_finish(&arena);
}

/* A sheet of ware stands beside its order, which only names it. */
static void sheets_with_a_slip_are_read_or_refused(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_bytes order, sheet;
    assert_int_equal(ks_file_read("examples/weekly/order.json", 8 << 20, &arena, &order, &err),
                     KS_OK);
    assert_int_equal(ks_file_read("examples/weekly/ware.csv", 8 << 20, &arena, &sheet, &err),
                     KS_OK);
    workplace place = workplace_made();
    const char *path = file_put(&place, "order.json", order.bytes);
    const char *table = file_put(&place, "ware.csv", "");
    ks_random random = ks_random_of(5, 77);
    for (int i = 0; i < 200 * times_over(); i++) {
        ks_arena one = {0};
        ks_error told = {0};
        ks_order *read;
        size_t length = sheet.length;
        char *text = ks_arena_text_n(&one, sheet.bytes, length);
        one_byte_changed(text, &length, &random);
        assert_int_equal(ks_file_write(table, text, length, &err), KS_OK);
        if (ks_order_read(path, "kilns", &one, &read, &told) != KS_OK)
            assert_true(told.count > 0 && *told.text);
        ks_arena_finish(&one);
    }
    workplace_left(&place);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kilns_with_a_slip_are_read_or_refused),
        cmocka_unit_test(orders_with_a_slip_are_read_or_refused),
        cmocka_unit_test(plans_with_a_slip_are_read_or_refused),
        cmocka_unit_test(sheets_with_a_slip_are_read_or_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
