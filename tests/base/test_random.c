#include "base/random.h"
#include "check.h"

/* Also on another machine: the numbers are those of this test. From state 1, 2, 3, 4 the
 * generator's definition gives 11520, 0, 1509978240, 1215971899390074240 by hand. */
static void the_row_is_the_one_of_the_definition(void **state)
{
    (void)state;
    ks_random random = {{1, 2, 3, 4}};
    assert_true(ks_random_bits(&random) == 11520);
    assert_true(ks_random_bits(&random) == 0);
    assert_true(ks_random_bits(&random) == 1509978240);
    assert_true(ks_random_bits(&random) == 1215971899390074240u);
}

static void a_seed_repeats_and_seeds_and_streams_differ(void **state)
{
    (void)state;
    ks_random a = ks_random_of(7, 0), b = ks_random_of(7, 0), c = ks_random_of(8, 0),
              d = ks_random_of(7, 1);
    for (int i = 0; i < 100; i++) {
        uint64_t bits = ks_random_bits(&a);
        assert_true(bits == ks_random_bits(&b));
        assert_true(bits != ks_random_bits(&c));
        assert_true(bits != ks_random_bits(&d));
    }
}

/* Chi-square over 10 cells, 9 degrees of freedom: 27.9 is passed once in a thousand rows; the row
 * is fixed, so that it is passed never or always. */
static void bounded_numbers_are_equally_likely(void **state)
{
    (void)state;
    ks_random random = ks_random_of(3, 0);
    int cells[10] = {0}, total = 100000;
    double sum = 0, chi = 0;
    for (int i = 0; i < total; i++) {
        cells[ks_random_below(&random, 10)]++;
        double unit = ks_random_unit(&random);
        assert_true(unit >= 0 && unit < 1);
        sum += unit;
    }
    for (int i = 0; i < 10; i++)
        chi += (cells[i] - total / 10.0) * (cells[i] - total / 10.0) / (total / 10.0);
    assert_true(chi < 27.9);
    check_near(sum / total, 0.5, 4 * sqrt(1.0 / 12 / total));
}

static void bounds_are_kept(void **state)
{
    (void)state;
    ks_random random = ks_random_of(0, 0);
    for (int i = 0; i < 10000; i++) {
        assert_int_equal(ks_random_below(&random, 1), 0);
        int big = ks_random_below(&random, INT32_MAX);
        assert_true(big >= 0 && big < INT32_MAX);
        double between = ks_random_between(&random, -3, 5);
        assert_true(between >= -3 && between <= 5);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_row_is_the_one_of_the_definition),
        cmocka_unit_test(a_seed_repeats_and_seeds_and_streams_differ),
        cmocka_unit_test(bounded_numbers_are_equally_likely),
        cmocka_unit_test(bounds_are_kept),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
