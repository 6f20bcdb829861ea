#include "check.h"

#include "place/job/stream.h"

#include <stdlib.h>

enum { ROUNDS = 200, TASKS = 17 };

static int by_value(const void *a, const void *b)
{
    uint64_t x = *(const uint64_t *)a, y = *(const uint64_t *)b;
    return (x > y) - (x < y);
}

/* 64 bits of so few rows are the same by chance once in 10^10. */
static void no_purpose_round_or_task_shares_its_numbers_with_another(void **state)
{
    enum { N = KS_N_PURPOSES * ROUNDS * TASKS };
    uint64_t *first = calloc(N, sizeof *first);
    int n = 0;
    for (int p = 0; p < KS_N_PURPOSES; p++)
        for (int r = 0; r < ROUNDS; r++)
            for (int t = 0; t < TASKS; t++) {
                ks_random random = ks_stream(1, (ks_purpose)p, r, t);
                first[n++] = ks_random_bits(&random);
            }
    qsort(first, N, sizeof *first, by_value);
    for (int i = 1; i < N; i++)
        assert_true(first[i] != first[i - 1]);
    free(first);
}

static void the_same_seed_repeats_and_another_does_not(void **state)
{
    ks_random a = ks_stream(7, KS_FOR_PRICING, 3, 2), b = ks_stream(7, KS_FOR_PRICING, 3, 2),
              c = ks_stream(8, KS_FOR_PRICING, 3, 2);
    uint64_t bits = ks_random_bits(&a);
    assert_true(bits == ks_random_bits(&b));
    assert_true(bits != ks_random_bits(&c));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_purpose_round_or_task_shares_its_numbers_with_another),
        cmocka_unit_test(the_same_seed_repeats_and_another_does_not),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
