#include "base/text.h"
#include "base/words.h"
#include "check.h"

#include <string.h>

static void utf8_is_told_from_what_is_not(void **state)
{
    (void)state;
    /* Boundaries by table 3-7 of the Unicode Standard. */
    static const struct {
        const char *bytes;
        int length;
        uint32_t code;
    } cases[] = {
        {"\x7F", 1, 0x7F},
        {"\xC2\x80", 2, 0x80},
        {"\xDF\xBF", 2, 0x7FF},
        {"\xE0\xA0\x80", 3, 0x800},
        {"\xED\x9F\xBF", 3, 0xD7FF},
        {"\xEE\x80\x80", 3, 0xE000},
        {"\xEF\xBF\xBF", 3, 0xFFFF},
        {"\xF0\x90\x80\x80", 4, 0x10000},
        {"\xF4\x8F\xBF\xBF", 4, 0x10FFFF},
        {"\x80", 0, 0},
        {"\xBF", 0, 0},
        {"\xC0\x80", 0, 0},
        {"\xC1\xBF", 0, 0},
        {"\xC2", 0, 0},
        {"\xC2\x41", 0, 0},
        {"\xE0\x9F\xBF", 0, 0},
        {"\xE2\x82", 0, 0},
        {"\xED\xA0\x80", 0, 0},
        {"\xF0\x8F\xBF\xBF", 0, 0},
        {"\xF0\x9F\x98", 0, 0},
        {"\xF4\x90\x80\x80", 0, 0},
        {"\xF5\x80\x80\x80", 0, 0},
        {"\xFF", 0, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        uint32_t code = 0;
        int length = ks_utf8_next(cases[i].bytes, strlen(cases[i].bytes), &code);
        assert_int_equal(length, cases[i].length);
        assert_int_equal(code, cases[i].code);
    }
    assert_int_equal(ks_utf8_next("", 0, NULL), 0);
    assert_int_equal(ks_utf8_valid("a\xC3\xA9\xFFz", 5), 3);
    assert_int_equal(ks_utf8_count("a\xC3\xA9\xF0\x9F\x98\x80"), 3);
}

static void every_code_point_goes_there_and_back(void **state)
{
    (void)state;
    for (uint32_t code = 0; code <= 0x10FFFF; code += code < 0x3000 ? 1 : 97) {
        if (code >= 0xD800 && code <= 0xDFFF)
            continue;
        char bytes[4];
        uint32_t back = 1;
        int length = ks_utf8_put(code, bytes);
        assert_int_equal(ks_utf8_next(bytes, (size_t)length, &back), length);
        assert_int_equal(back, code);
    }
}

static void edits_between_words_are_counted(void **state)
{
    (void)state;
    /* kitten/sitting and Saturday/Sunday: the examples usual in textbooks. */
    static const struct {
        const char *a, *b;
        int edits;
    } cases[] = {
        {"kitten", "sitting", 3}, {"Saturday", "Sunday", 3},
        {"", "abc", 3},           {"abc", "", 3},
        {"abc", "abc", 0},        {"ABC", "abc", 0},
        {"heigth", "height", 1},  {"ca", "abc", 3},
        {"wdith", "width", 1},    {"a", "b", 1},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        assert_int_equal(ks_edit_distance(cases[i].a, cases[i].b), cases[i].edits);
        assert_int_equal(ks_edit_distance(cases[i].b, cases[i].a), cases[i].edits);
    }
    char longer[200] = "";
    memset(longer, 'x', 199);
    assert_int_equal(ks_edit_distance(longer, "x"), 199);
}

static void the_nearest_word_is_one_that_could_be_meant(void **state)
{
    (void)state;
    static const char *const words[] = {"height", "width", "depth", "id", "must_go"};
    assert_string_equal(ks_nearest("hieght", words, 5), "height");
    assert_string_equal(ks_nearest("Width", words, 5), "width");
    assert_string_equal(ks_nearest("mustgo", words, 5), "must_go");
    assert_string_equal(ks_nearest("must go", words, 5), "must_go");
    assert_null(ks_nearest("colour", words, 5));
    assert_null(ks_nearest("x", words, 5));
    assert_null(ks_nearest("height", words, 0));
}

static void a_text_grows_by_what_is_added(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_text text = {.arena = &arena};
    assert_string_equal(ks_text_end(&text), "");
    for (int i = 0; i < 3000; i++)
        ks_text_print(&text, "%d,", i);
    ks_text_add_number(&text, 0.25);
    assert_int_equal(text.length, strlen(ks_text_end(&text)));
    assert_int_equal(text.length, 10 * 2 + 90 * 3 + 900 * 4 + 2000 * 5 + 4);
    assert_string_equal(ks_text_end(&text) + text.length - 9, "2999,0.25");
    ks_arena_finish(&arena);
}

static void letter_case_does_not_part_words(void **state)
{
    (void)state;
    assert_true(ks_same_word("Height", "hEIGHT"));
    assert_false(ks_same_word("height", "heights"));
    assert_false(ks_same_word("\xC3\x89", "\xC3\xA9")); /* ASCII letters only */
}

static void words_are_found_in_their_list(void **state)
{
    (void)state;
    ks_arena arena = {0};
    assert_int_equal(ks_words_find("top|front|side", "front", false), 1);
    assert_int_equal(ks_words_find("top|front|side", "Front", false), -1);
    assert_int_equal(ks_words_find("top|front|side", "SIDE", true), 2);
    assert_int_equal(ks_words_find("a[|b", "A{", true), -1); /* these differ as letters' cases do */
    assert_int_equal(ks_words_find("top|front|side", "fron", false), -1);
    assert_int_equal(ks_words_find("", "", false), -1);
    assert_true(ks_word_among("top", "top|front"));
    assert_string_equal(ks_word_nearest("frnt", "top|front", &arena), "front");
    assert_string_equal(ks_words_print("top|front|side", &arena), "\"top\", \"front\" or \"side\"");
    assert_string_equal(ks_words_print("top", &arena), "\"top\"");
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(utf8_is_told_from_what_is_not),
        cmocka_unit_test(every_code_point_goes_there_and_back),
        cmocka_unit_test(edits_between_words_are_counted),
        cmocka_unit_test(the_nearest_word_is_one_that_could_be_meant),
        cmocka_unit_test(a_text_grows_by_what_is_added),
        cmocka_unit_test(letter_case_does_not_part_words),
        cmocka_unit_test(words_are_found_in_their_list),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
