#include "check.h"
#include "kilnstow/arena.h"
#include "kilnstow/error.h"

#include <string.h>

static void taken_memory_is_zeroed_and_aligned(void **state)
{
    (void)state;
    ks_arena arena = {0};
    for (size_t size = 1; size < 200000; size = size * 3 + 1) {
        unsigned char *bytes = ks_arena_take(&arena, size, 1);
        assert_int_equal((uintptr_t)bytes % _Alignof(max_align_t), 0);
        for (size_t i = 0; i < size; i++)
            assert_int_equal(bytes[i], 0);
        memset(bytes, 0xAA, size);
    }
    ks_arena_finish(&arena);
    assert_null(arena.newest);
}

static void a_grown_array_keeps_what_it_held(void **state)
{
    (void)state;
    ks_arena arena = {0};
    int *numbers = NULL, room = 0;
    for (int i = 0; i < 10000; i++) {
        numbers = KS_GROW(&arena, numbers, i, &room, int);
        numbers[i] = i;
    }
    for (int i = 0; i < 10000; i++)
        assert_int_equal(numbers[i], i);
    ks_arena_finish(&arena);
}

static void failures_are_counted_and_the_first_twenty_told(void **state)
{
    (void)state;
    ks_error err = {0};
    for (int i = 1; i <= 25; i++)
        assert_int_equal(ks_fail(&err, KS_BAD_INPUT, "line %d", i), KS_BAD_INPUT);
    assert_int_equal(err.count, 25);
    assert_int_equal(err.status, KS_BAD_INPUT);
    assert_non_null(strstr(err.text, "line 20"));
    assert_null(strstr(err.text, "line 21"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(taken_memory_is_zeroed_and_aligned),
        cmocka_unit_test(a_grown_array_keeps_what_it_held),
        cmocka_unit_test(failures_are_counted_and_the_first_twenty_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
