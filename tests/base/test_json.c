#include "base/data/json.h"
#include "base/number.h"
#include "base/random.h"
#include "check.h"
#include "json_cases.h"

#include <stdlib.h>
#include <string.h>

static ks_arena arena;

static int freed(void **state)
{
    (void)state;
    ks_arena_finish(&arena);
    return 0;
}

static const ks_json *parsed(const char *source)
{
    const ks_json *top = NULL;
    ks_error err = {0};
    if (ks_json_parse("t.json", source, strlen(source), &arena, &top, &err) != KS_OK)
        fail_msg("%s", err.text);
    return top;
}

static void check_refused(const char *source, const char *message)
{
    const ks_json *top = NULL;
    ks_error err = {0};
    assert_int_equal(ks_json_parse("t.json", source, strlen(source), &arena, &top, &err),
                     KS_BAD_INPUT);
    assert_string_equal(err.text, message);
}

static void what_the_grammar_takes_is_taken(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof accepted / sizeof *accepted; i++) {
        const ks_json *top = NULL;
        ks_error err = {0};
        if (ks_json_parse("t", accepted[i].bytes, accepted[i].length, &arena, &top, &err) != KS_OK)
            fail_msg("accepted[%zu] %s: %s", i, accepted[i].bytes, err.text);
    }
    assert_true(sizeof accepted / sizeof *accepted >= 90);
}

static void what_the_grammar_does_not_take_is_refused_with_its_place(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        const ks_json *top = NULL;
        ks_error err = {0};
        if (ks_json_parse("t", refused[i].bytes, refused[i].length, &arena, &top, &err) !=
            KS_BAD_INPUT)
            fail_msg("refused[%zu] %s was taken", i, refused[i].bytes);
        if (strncmp(err.text, "t:1:", 4) != 0 || !strstr(err.text, "found ") ||
            !strstr(err.text, "; "))
            fail_msg("refused[%zu] %s: %s", i, refused[i].bytes, err.text);
    }
    assert_true(sizeof refused / sizeof *refused >= 150);
}

static void messages_say_what_was_found_and_what_would_be_right(void **state)
{
    (void)state;
    check_refused("{\n  \"a\": 01\n}", "t.json:2:8: found \"01\"; a number does not start with 0");
    check_refused("[1,\n 2,\n]", "t.json:3:1: found \"]\"; take away the comma before it");
    check_refused("{\"\xC3\xA9\": 'x'}", "t.json:1:7: found \"'\"; texts stand in double quotes");
    check_refused(
        "{\r\n\r\n\"a\": \"x\n\"}",
        "t.json:3:8: found the control character 0x0A; within a text write it as \\n, \\t "
        "or \\u00XX");
    check_refused("{\"a\": 1", "t.json:1:8: found the end of the file; a , or } is needed here");
    check_refused("{\"a\":\r \"b",
                  "t.json:2:2: found a text that is never closed; close it with \"");
    check_refused("{\"x\": 1,\n \"y\": {\"x\": 2},\n \"x\": 3}",
                  "t.json:3: x: found this key twice, first in line 1; keep one");
    check_refused("[{}, {\"x\": 1, \"x\": 2}]",
                  "t.json:1: [2].x: found this key twice, first in line 1; keep one");
    check_refused("[NaN]",
                  "t.json:1:2: found \"NaN\"; a value is a text in double quotes, a number, "
                  "true, false, null, [...] or {...}");
}

static void texts_are_decoded(void **state)
{
    (void)state;
    const ks_json *top =
        parsed("[\"\\u00e9\\n\\\"\\\\\\/\", \"\\ud83d\\ude00\", \"\xE2\x82\xAC\"]");
    assert_string_equal(top->items[0].text, "\xC3\xA9\n\"\\/");
    assert_string_equal(top->items[1].text, "\xF0\x9F\x98\x80");
    assert_string_equal(top->items[2].text, "\xE2\x82\xAC");
}

static void numbers_keep_their_digits_and_round_correctly(void **state)
{
    (void)state;
    const ks_json *top = parsed("[9007199254740993, 0.1, -0, 1.7976931348623157e308, 5e-324,"
                                "2.2250738585072011e-308, "
                                "0.1000000000000000055511151231257827021181583404541015625]");
    assert_string_equal(top->items[0].text, "9007199254740993");
    assert_true(top->items[0].number == 9007199254740992.0);
    assert_true(top->items[1].number == 0.1);
    assert_true(top->items[2].number == 0);
    assert_true(top->items[3].number == 1.7976931348623157e308);
    assert_true(top->items[4].number == 5e-324);
    assert_true(top->items[5].number == 2.2250738585072011e-308);
    assert_true(top->items[6].number == 0.1);
}

static void nodes_know_where_they_stand(void **state)
{
    (void)state;
    const ks_json *top = parsed("{\n \"ware\": [1,\n   {\"\xC3\xA9\": [], \"height\":\n 3}]}");
    const ks_json *ware = ks_json_get(top, "ware");
    const ks_json *height = ks_json_get(&ware->items[1], "height");
    assert_int_equal(top->line, 1);
    assert_int_equal(ware->line, 2);
    assert_int_equal(ware->column, 2);
    assert_int_equal(ware->items[1].line, 3);
    assert_int_equal(ware->items[1].column, 4);
    assert_int_equal(height->line, 3);
    assert_int_equal(height->column, 14);
    assert_string_equal(ks_json_path(height, &arena), "ware[2].height");
    assert_string_equal(ks_json_path(top, &arena), "the file");
    assert_ptr_equal(height->parent, &ware->items[1]);
    ks_error err = {0};
    assert_int_equal(ks_json_fail(height, &err, "found %s; be taller", ks_json_found(height).words),
                     KS_BAD_INPUT);
    assert_string_equal(err.text, "t.json:3: ware[2].height: found 3; be taller");
}

static void keys_are_found_by_their_exact_letters(void **state)
{
    (void)state;
    const ks_json *top = parsed("{\"Height\": 1, \"height\": 2}");
    assert_true(ks_json_get(top, "height")->number == 2);
    assert_null(ks_json_get(top, "HEIGHT"));
    assert_null(ks_json_get(ks_json_get(top, "height"), "height"));
    assert_null(ks_json_get(NULL, "height"));
}

static void unknown_keys_are_refused_with_the_nearest_known_one(void **state)
{
    (void)state;
    static const char *const keys[] = {"height", "width", "depth"};
    ks_error err = {0};
    assert_int_equal(
        ks_json_only(parsed("{\"heigth\": 1, \"width\": 1,\n\"xyzzy\": 1}"), keys, 3, &err),
        KS_BAD_INPUT);
    assert_string_equal(err.text,
                        "t.json:1: heigth: found an unknown key; did you mean \"height\"?\n"
                        "t.json:2: xyzzy: found an unknown key; take it away");
    assert_int_equal(ks_json_only(parsed("{\"depth\": 1}"), keys, 3, &err), KS_OK);
}

static void what_was_found_is_told_in_a_short_line(void **state)
{
    (void)state;
    const ks_json *top =
        parsed("[\"a\\nb\", true, null, [], {}, 12.50, 12345678901234567890123456789"
               "0123456789012345678901234567890123456789012345678901234567890]");
    assert_string_equal(ks_json_found(&top->items[0]).words, "\"a b\"");
    assert_string_equal(ks_json_found(&top->items[1]).words, "true");
    assert_string_equal(ks_json_found(&top->items[2]).words, "null");
    assert_string_equal(ks_json_found(&top->items[3]).words, "an array [...]");
    assert_string_equal(ks_json_found(&top->items[4]).words, "an object {...}");
    assert_string_equal(ks_json_found(&top->items[5]).words, "12.50");
    assert_int_equal(strlen(ks_json_found(&top->items[6]).words), 71);
    char many[400] = "[\"";
    for (int i = 0; i < 100; i++)
        strcat(many, "\xC3\xA9");
    strcat(many, "\"]");
    const char *cut = ks_json_found(&parsed(many)->items[0]).words;
    assert_string_equal(cut + strlen(cut) - 6, "\xC3\xA9...\"");
}

static char *repeated(const char *head, char body, size_t count, const char *tail)
{
    char *text = ks_arena_take(&arena, strlen(head) + count + strlen(tail) + 1, 1);
    strcpy(text, head);
    memset(text + strlen(head), body, count);
    strcpy(text + strlen(head) + count, tail);
    return text;
}

static void the_limits_hold_and_are_told(void **state)
{
    (void)state;
    char deep[2 * 65 + 1];
    memset(deep, '[', 65);
    memset(deep + 65, ']', 65);
    deep[130] = '\0';
    check_refused(deep,
                  "t.json:1:65: found more than 64 brackets within each other; nest less deeply");
    deep[129] = '\0';
    assert_non_null(parsed(deep + 1));
    check_refused(repeated("", '[', 1000000, ""),
                  "t.json:1:65: found more than 64 brackets within each other; nest less deeply");
    assert_non_null(parsed(repeated("[\"", 'x', 4096, "\"]")));
    check_refused(repeated("[\"", 'x', 4097, "\"]"),
                  "t.json:1:2: found a text of more than 4096 bytes; make it shorter");
    check_refused(repeated("[", '1', 4097, "]"),
                  "t.json:1:2: found a number of more than 4096 digits; make it shorter");
    check_refused(repeated("", ' ', KS_JSON_LARGEST + 1, ""),
                  "t.json: found more than 8 MiB; split the file");
    check_refused(repeated("", ' ', 1000, "[1e999]"),
                  "t.json:1:1002: found \"1e999\"; a number is at most about 1.8e308");
}

/* To the byte, whatever the limit: also for a file that a program has made. */
static void a_text_of_the_limit_is_read_and_one_byte_more_is_not(void **state)
{
    (void)state;
    const ks_json *top;
    ks_error err = {0};
    const char *text = "[1,2,3]   ";
    for (size_t length = 7; length <= 9; length++)
        assert_int_equal(ks_json_parse_most("t", (ks_bytes){text, length}, 8, &arena, &top, &err),
                         length <= 8 ? KS_OK : KS_BAD_INPUT);
    assert_non_null(strstr(err.text, "t: found more than"));
    ks_arena_finish(&arena);
}

static const char good[] = "{\"format\": \"kilnstow-order/1\", \"units\": {\"length\": \"mm\"},\n"
                           " \"ware\": [{\"id\": \"caf\\u00e9 \xC3\xA9\\ud83d\\ude00\", "
                           "\"height\": -12.5e1, \"must_go\": true,\n"
                           "   \"outline\": {\"polygon\": [[0, 0], [10, 0.25], [1E2, 1e-2]], "
                           "\"round\": null}}, {}, []]}\n";

static void every_start_of_a_file_is_refused(void **state)
{
    (void)state;
    for (size_t length = 0; length < sizeof good - 2; length++) {
        const ks_json *top = NULL;
        ks_error err = {0};
        assert_int_equal(ks_json_parse("t", good, length, &arena, &top, &err), KS_BAD_INPUT);
        assert_int_equal(err.count, 1);
        ks_arena_finish(&arena);
    }
    assert_non_null(parsed(good));
}

/* Walks a tree, so that every pointer in it is followed. */
static int nodes_under(const ks_json *node)
{
    int count = 1;
    size_t sum = node->key ? strlen(node->key) : 0;
    sum += node->text ? strlen(node->text) : 0;
    assert_true(node->line >= 1 && node->column >= 1 && sum < 10000);
    for (int i = 0; i < node->n; i++) {
        assert_ptr_equal(node->items[i].parent, node);
        count += nodes_under(&node->items[i]);
    }
    return count;
}

static void a_file_with_any_byte_changed_is_read_or_refused(void **state)
{
    (void)state;
    ks_random random = ks_random_of(8259, 0);
    int taken = 0, total = 40000;
    for (int i = 0; i < total; i++) {
        char changed[sizeof good];
        memcpy(changed, good, sizeof good);
        for (int edits = 1 + ks_random_below(&random, 2); edits > 0; edits--)
            changed[ks_random_below(&random, sizeof good - 1)] =
                (char)ks_random_below(&random, 256);
        const ks_json *top = NULL;
        ks_error err = {0};
        if (ks_json_parse("t", changed, sizeof good - 1, &arena, &top, &err) == KS_OK)
            taken += nodes_under(top) > 0;
        else
            assert_true(strncmp(err.text, "t:", 2) == 0 && strstr(err.text, "found "));
        ks_arena_finish(&arena);
    }
    assert_true(taken > total / 20 && taken < total);
}

static void a_file_that_is_missing_is_the_systems_refusal(void **state)
{
    (void)state;
    const ks_json *top = NULL;
    ks_error err = {0};
    assert_int_equal(ks_json_read("tests/no-such-file.json", &arena, &top, &err), KS_SYSTEM);
    assert_string_equal(err.text,
                        "tests/no-such-file.json: cannot open it: No such file or directory");
    memset(&err, 0, sizeof err);
    assert_int_equal(ks_json_read("tests", &arena, &top, &err), KS_BAD_INPUT);
    assert_string_equal(err.text, "tests: found a folder; name a file");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_text_of_the_limit_is_read_and_one_byte_more_is_not),
        cmocka_unit_test_teardown(what_the_grammar_takes_is_taken, freed),
        cmocka_unit_test_teardown(what_the_grammar_does_not_take_is_refused_with_its_place, freed),
        cmocka_unit_test_teardown(messages_say_what_was_found_and_what_would_be_right, freed),
        cmocka_unit_test_teardown(texts_are_decoded, freed),
        cmocka_unit_test_teardown(numbers_keep_their_digits_and_round_correctly, freed),
        cmocka_unit_test_teardown(nodes_know_where_they_stand, freed),
        cmocka_unit_test_teardown(keys_are_found_by_their_exact_letters, freed),
        cmocka_unit_test_teardown(unknown_keys_are_refused_with_the_nearest_known_one, freed),
        cmocka_unit_test_teardown(what_was_found_is_told_in_a_short_line, freed),
        cmocka_unit_test_teardown(the_limits_hold_and_are_told, freed),
        cmocka_unit_test_teardown(every_start_of_a_file_is_refused, freed),
        cmocka_unit_test_teardown(a_file_with_any_byte_changed_is_read_or_refused, freed),
        cmocka_unit_test_teardown(a_file_that_is_missing_is_the_systems_refusal, freed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
