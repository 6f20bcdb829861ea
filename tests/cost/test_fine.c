#include "check.h"

#include "base/random.h"
#include "cost/fine.h"

static void products_are_rounded_once_halves_away_from_zero(void **state)
{
    (void)state;
    assert_int_equal(ks_fine_times(31274000, 2), 62548000);
    assert_int_equal(ks_fine_times(1, 0.5), 1);
    assert_int_equal(ks_fine_times(-1, 0.5), -1);
    assert_int_equal(ks_fine_minor(499999), 0);
    assert_int_equal(ks_fine_minor(500000), 1);
    assert_int_equal(ks_fine_minor(-500000), -1);
}

/* The fifteen states of the US census of 1790. Sixty seats among them by Hamilton's method are
 * worked out in full on electowiki.org, "Hamilton method"; the 120 seats are from memory. */
static void seats_fall_as_by_hamiltons_method(void **state)
{
    (void)state;
    static const double people[15] = {630560, 475327, 353523, 432879, 278514,
                                      236841, 331589, 206236, 179570, 141822,
                                      85533,  70835,  68705,  68446,  55540};
    static const struct {
        int64_t all, seats[15];
    } houses[] = {{60, {11, 8, 6, 7, 5, 4, 6, 3, 3, 2, 1, 1, 1, 1, 1}},
                  {120, {21, 16, 12, 14, 9, 8, 11, 7, 6, 5, 3, 2, 2, 2, 2}}};
    ks_arena arena = {0};
    for (int h = 0; h < 2; h++) {
        int64_t parts[15];
        ks_share_out(houses[h].all, 15, people, parts, &arena);
        for (int i = 0; i < 15; i++)
            assert_int_equal(parts[i], houses[h].seats[i]);
    }
    ks_arena_finish(&arena);
}

static void a_million_random_bills_add_up(void **state)
{
    (void)state;
    ks_random random = ks_random_of(11, 0);
    ks_arena arena = {0};
    for (int round = 0; round < 1000000; round++) {
        double weights[12];
        int64_t parts[12], sum = 0;
        int n = 1 + (int)ks_random_below(&random, 12);
        int64_t total = (int64_t)ks_random_below(&random, 10000000) - 1000;
        for (int i = 0; i < n; i++)
            weights[i] = ks_random_below(&random, 4) ? ks_random_unit(&random) * 1e6 : 0;
        double all = 0;
        for (int i = 0; i < n; i++)
            all += weights[i];
        ks_share_out(total, n, weights, parts, &arena);
        for (int i = 0; i < n; i++) {
            sum += parts[i];
            if (all > 0 && weights[i] == 0)
                assert_int_equal(parts[i], 0);
            if (all > 0)
                assert_true(fabs((double)parts[i] - (double)total * weights[i] / all) <= 1);
        }
        assert_int_equal(sum, total);
        if (round % 1000 == 0)
            ks_arena_finish(&arena);
    }
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(products_are_rounded_once_halves_away_from_zero),
        cmocka_unit_test(seats_fall_as_by_hamiltons_method),
        cmocka_unit_test(a_million_random_bills_add_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
