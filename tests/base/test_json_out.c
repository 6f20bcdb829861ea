#include "base/data/json.h"
#include "base/data/json_out.h"
#include "base/random.h"
#include "check.h"

#include <string.h>

static ks_arena arena;

static int freed(void **state)
{
    (void)state;
    ks_arena_finish(&arena);
    return 0;
}

static void values_stand_on_lines_of_their_own_but_flat_ones_on_one(void **state)
{
    (void)state;
    ks_json_out out = {.text.arena = &arena};
    ks_out_object(&out, NULL);
    ks_out_text(&out, "format", "kilnstow-plan/1");
    ks_out_array(&out, "empty");
    ks_out_end(&out);
    ks_out_array(&out, "rows");
    for (int i = 0; i < 2; i++) {
        ks_out_object_flat(&out, NULL);
        ks_out_array(&out, "at");
        ks_out_number(&out, NULL, 123.456);
        ks_out_number(&out, NULL, -0.001);
        ks_out_end(&out);
        ks_out_bool(&out, "glazed", i > 0);
        ks_out_end(&out);
    }
    ks_out_end(&out);
    ks_out_null(&out, "on");
    ks_out_number(&out, "worth", NAN);
    ks_out_whole(&out, "seed", INT64_MIN);
    ks_out_money(&out, "price", -5, 2);
    ks_out_json(&out, "more", "{\n  \"a\": [\n    1\n  ]\n}\n");
    ks_out_object_flat(&out, "flat");
    ks_out_json(&out, "more", "{\n  \"a\": 1\n}\n");
    ks_out_end(&out);
    ks_out_end(&out);
    assert_string_equal(ks_out_done(&out), "{\n"
                                           "  \"format\": \"kilnstow-plan/1\",\n"
                                           "  \"empty\": [],\n"
                                           "  \"rows\": [\n"
                                           "    {\"at\": [123.456, -0.001], \"glazed\": false},\n"
                                           "    {\"at\": [123.456, -0.001], \"glazed\": true}\n"
                                           "  ],\n"
                                           "  \"on\": null,\n"
                                           "  \"worth\": null,\n"
                                           "  \"seed\": -9223372036854775808,\n"
                                           "  \"price\": -0.05,\n"
                                           "  \"more\": {\n"
                                           "    \"a\": [\n"
                                           "      1\n"
                                           "    ]\n"
                                           "  },\n"
                                           "  \"flat\": {\"more\": {\"a\": 1}}\n"
                                           "}\n");
}

static void texts_of_any_letters_read_back_as_themselves(void **state)
{
    (void)state;
    ks_random random = ks_random_of(2, 0);
    for (int i = 0; i < 3000; i++) {
        ks_text text = {.arena = &arena};
        for (int n = ks_random_below(&random, 30); n > 0; n--) {
            char bytes[4];
            int kind = ks_random_below(&random, 3);
            int code = kind == 0   ? 1 + ks_random_below(&random, 127)
                       : kind == 1 ? 0x80 + ks_random_below(&random, 0xD000)
                                   : 0xE000 + ks_random_below(&random, 0x102000);
            ks_text_add_n(&text, bytes, (size_t)ks_utf8_put((uint32_t)code, bytes));
        }
        ks_json_out out = {.text.arena = &arena};
        ks_out_object(&out, NULL);
        ks_out_text(&out, ks_text_end(&text), ks_text_end(&text));
        ks_out_end(&out);
        const char *json = ks_out_done(&out);
        const ks_json *top = NULL;
        ks_error err = {0};
        assert_int_equal(ks_json_parse("t", json, strlen(json), &arena, &top, &err), KS_OK);
        assert_string_equal(top->items[0].key, ks_text_end(&text));
        assert_string_equal(top->items[0].text, ks_text_end(&text));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(values_stand_on_lines_of_their_own_but_flat_ones_on_one, freed),
        cmocka_unit_test_teardown(texts_of_any_letters_read_back_as_themselves, freed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
