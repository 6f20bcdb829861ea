#include "base/fold.h"
#include "check.h"

#include <string.h>

/* NFC itself is held against Python's unicodedata in oracles.py; cases of UAX #15, table 2 and of
 * CaseFolding.txt of the Unicode Character Database. */
static void letters_are_composed(void **state)
{
    (void)state;
    ks_arena arena = {0};
    assert_string_equal(ks_text_compose("Cafe\xCC\x81", &arena), "Caf\xC3\xA9");
    assert_string_equal(ks_text_compose("A\xCC\x8A", &arena), "\xC3\x85");
    assert_string_equal(ks_text_compose("\xE2\x84\xAB", &arena), "\xC3\x85");
    const char *plain = "Caf\xC3\xA9";
    assert_ptr_equal(ks_text_compose(plain, &arena), plain);
    ks_arena_finish(&arena);
}

static void alike_are_names_of_other_case_and_composing(void **state)
{
    (void)state;
    assert_true(ks_text_alike("Tin White", "tin white"));
    assert_true(ks_text_alike("C\xC3\x89LADON", "ce\xCC\x81ladon"));
    assert_true(ks_text_alike("WEISS", "wei\xC3\x9F"));
    assert_true(ks_text_alike("tin\u00A0white", "tin white"));
    assert_false(ks_text_alike("celadon", "c\xC3\xA9ladon"));
    assert_false(ks_text_alike("clear", "clear 2"));
}

static void plain_words_are_small_and_parted_by_one_blank(void **state)
{
    (void)state;
    ks_arena arena = {0};
    assert_string_equal(ks_text_plain(" \u00A0Ho\xCC\x88he\r\n (CM) ", &arena), "h\xC3\xB6he (cm)");
    assert_string_equal(ks_text_plain("\u00A0", &arena), "");
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(letters_are_composed),
        cmocka_unit_test(alike_are_names_of_other_case_and_composing),
        cmocka_unit_test(plain_words_are_small_and_parted_by_one_blank),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
