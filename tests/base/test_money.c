#include "base/money_text.h"
#include "base/random.h"
#include "check.h"

#include <string.h>

static void currencies_have_the_digits_of_the_standard(void **state)
{
    (void)state;
    /* ISO 4217, list one: every current currency without two digits, and some with. */
    static const struct {
        const char *codes;
        int digits;
    } cases[] = {
        {"BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF", 0},
        {"BHD IQD JOD KWD LYD OMR TND", 3},
        {"EUR USD GBP CHF CAD AUD NZD SEK NOK DKK PLN CZK HUF RON UYU MXN BRL ZAR INR CNY XCD", 2},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        for (const char *at = cases[i].codes; *at; at += at[3] ? 4 : 3) {
            char code[4] = {at[0], at[1], at[2], '\0'};
            assert_int_equal(ks_currency_digits(code), cases[i].digits);
        }
    static const char *const unknown[] = {"", "E", "EU", "EURO", "eur", "XTS", "ABC", "UR ", "R U"};
    for (size_t i = 0; i < sizeof unknown / sizeof *unknown; i++)
        assert_int_equal(ks_currency_digits(unknown[i]), -1);
}

static void amounts_are_read_exactly(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int digits;
        int64_t minor;
    } cases[] = {
        {"12.50", 2, 1250}, {"12.5", 2, 1250},
        {"12,5", 2, 1250},  {"12", 2, 1200},
        {"0.07", 2, 7},     {"-3", 2, -300},
        {"-0.01", 2, -1},   {"12.500", 2, 1250},
        {"1500", 0, 1500},  {"1500.0", 0, 1500},
        {"1.234", 3, 1234}, {" 12.50 ", 2, 1250},
        {"0", 2, 0},        {"90071992547409.93", 2, 9007199254740993},
        {"0.29", 2, 29},    {"1.15", 2, 115}, /* both are a cent off by way of doubles cut short */
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        int64_t minor = -99;
        assert_null(ks_money_parse(cases[i].text, cases[i].digits, &minor));
        assert_true(minor == cases[i].minor);
    }
}

static void amounts_that_are_not_clear_are_refused(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int digits;
    } cases[] = {
        {"12.505", 2}, {"0.5", 0}, {"1.2345", 3}, {"12 EUR", 2},   {"$12", 2},
        {"", 2},       {"abc", 2}, {"1,250", 2},  {"1.250,00", 2}, {"1,250.00", 2},
        {"1/2", 2},    {"1e3", 2}, {"12-50", 2},  {"--3", 2},      {"99999999999999999999", 2},
        {"12.5.0", 2}, {"nan", 2},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        int64_t minor = -99;
        if (!ks_money_parse(cases[i].text, cases[i].digits, &minor))
            fail_msg("%s was taken", cases[i].text);
        assert_true(minor == -99);
    }
}

static void fine_prices_may_have_a_part_of_a_cent(void **state)
{
    (void)state;
    double minor = 0;
    assert_null(ks_money_parse_fine("0.3157", 2, &minor));
    check_near(minor, 31.57, 1e-12);
    assert_non_null(ks_money_parse_fine("0.3157 EUR", 2, &minor));
}

static void written_amounts_read_back_as_themselves(void **state)
{
    (void)state;
    ks_arena arena = {0};
    assert_string_equal(ks_money_print(1250, 2, &arena), "12.50");
    assert_string_equal(ks_money_print(-5, 2, &arena), "-0.05");
    assert_string_equal(ks_money_print(1500, 0, &arena), "1500");
    assert_string_equal(ks_money_print(INT64_MIN, 2, &arena), "-92233720368547758.08");
    ks_random random = ks_random_of(4217, 0);
    for (int i = 0; i < 50000; i++) {
        int64_t minor = (int64_t)(ks_random_bits(&random) >> 6) - (INT64_C(1) << 57), back = 0;
        int digits = i % 4;
        assert_null(ks_money_parse(ks_money_print(minor, digits, &arena), digits, &back));
        assert_true(back == minor);
    }
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(currencies_have_the_digits_of_the_standard),
        cmocka_unit_test(amounts_are_read_exactly),
        cmocka_unit_test(amounts_that_are_not_clear_are_refused),
        cmocka_unit_test(fine_prices_may_have_a_part_of_a_cent),
        cmocka_unit_test(written_amounts_read_back_as_themselves),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
