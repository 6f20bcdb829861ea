/* Reasons: one list for plans, texts and languages. */
#include "base/data/json.h"
#include "base/language.h"
#include "check.h"
#include "studio/files/reason_file.h"
#include "studio/left_out.h"
#include "studio/reason_list.h"
#include "studio/reason_words.h"

#include <string.h>

static const ks_display inches = {.length = "in", .mass = "lb", .temp = "F"};

/* Each figure told, so that whatever its text names is there. */
static ks_reason full(ks_reason_name name)
{
    return (ks_reason){.name = name,
                       .by_mm = 12.34,
                       .length_mm = 25.4,
                       .margin_mm = 50.8,
                       .carbide_mm = 20,
                       .wet_mm = 28,
                       .room_mm = 19.96,
                       .mass_kg = 12,
                       .most_kg = 10,
                       .lifted_kg = 31,
                       .hoist_kg = 41,
                       .lost_kg = 0.1,
                       .percent = 93.5,
                       .people = 2,
                       .load = 3,
                       .level = "2 Q1",
                       .id = "Q2",
                       .kiln = "Q3",
                       .firing = "Q4",
                       .member = "Q5",
                       .asks = "Q6",
                       .has = "Q7",
                       .atmosphere = "reduction",
                       .fired_in = "oxidation",
                       .material = "cordierite",
                       .kiln_name = "Q8",
                       .part = "slab",
                       .of = KS_OF_GLAZE};
}

static void every_reason_has_a_name_of_its_own_and_no_figure_unfilled(void **state)
{
    ks_arena arena = {0};
    for (int i = KS_UNTOLD + 1; i < KS_REASONS; i++) {
        ks_reason reason = full((ks_reason_name)i);
        const ks_reason_entry *entry = ks_reason_entry_of(reason.name);
        const char *words = ks_reason_words(&reason, &inches, &arena);
        assert_non_null(entry->name);
        assert_int_equal(ks_reason_called(entry->name), i);
        assert_int_equal(entry->why != NULL, i < KS_CHANGE_NONE);
        assert_string_equal(words, ks_reason_english(&reason, &inches, &arena));
        for (const char *at = entry->says; (at = strchr(at, '{')); at++) {
            ks_reason empty = {.name = reason.name};
            assert_string_not_equal(words, ks_reason_words(&empty, &inches, &arena));
        }
        if (strpbrk(words, "{}") || strstr(words, "  "))
            fail_msg("%s: %s", entry->name, words);
    }
    ks_arena_finish(&arena);
}

/* In units as they are asked for, rounded to the side where nothing is promised. */
static void figures_are_told_in_the_readers_units(void **state)
{
    ks_arena arena = {0};
    ks_display mm = {.length = "mm", .mass = "kg", .temp = "C"};
    ks_reason tall = full(KS_WHY_TOO_TALL), hands = full(KS_CHANGE_HAND_ROOM);
    ks_reason lower = full(KS_CHANGE_LOWER);
    assert_string_equal(ks_reason_words(&tall, &mm, &arena), "by 12.4 mm, standing by itself");
    assert_string_equal(ks_reason_words(&tall, &inches, &arena), "by 0.49 in, standing by itself");
    assert_non_null(strstr(ks_reason_words(&hands, &mm, &arena), "\"19.9 mm\""));
    assert_string_equal(ks_reason_words(&lower, &mm, &arena),
                        "make it 26 mm lower (28 mm of wet clay)");
    lower.wet_mm = 0;
    assert_string_equal(ks_reason_words(&lower, &inches, &arena), "make it 1 in lower");
    ks_arena_finish(&arena);
}

static void a_reason_is_told_in_the_language_in_use(void **state)
{
    ks_arena arena = {0};
    ks_left_out left = {.count = 1, .id = "pot", .rule = full(KS_WHY_CONE_TOO_LOW)};
    left.change = full(KS_CHANGE_LONGER_POSTS);
    assert_true(ks_language_use("qaa"));
    assert_string_equal(
        ks_left_out_why(&left, &inches, &arena),
        "únsúítéd, thé glázé \"Q2\" nééds cóné Q6 át léást, thé fíríng góés tó cóné Q7");
    assert_string_equal(ks_left_out_nearest(&left, &inches, &arena),
                        "pósts 0.49 in lóngér ón lóád 3, lévél 2 Q1");
    assert_string_equal(ks_left_out_kind(&left), "unsuited");
    assert_string_equal(ks_reason_english(&left.change, &inches, &arena),
                        "posts 0.49 in longer on load 3, level 2 Q1");
    assert_true(ks_language_use("en"));
    ks_arena_finish(&arena);
}

/* What was written when plans had texts alone. */
static void a_plan_without_records_is_told_as_it_stands(void **state)
{
    ks_arena arena = {0};
    ks_left_out left = {0, "pot", 1, "too tall", "by 3 mm", "posts 3 mm longer", {0}, {0}};
    assert_string_equal(ks_left_out_why(&left, &inches, &arena), "too tall, by 3 mm");
    assert_string_equal(ks_left_out_nearest(&left, &inches, &arena), "posts 3 mm longer");
    left.detail = left.nearest = "";
    assert_string_equal(ks_left_out_why(&left, &inches, &arena), "too tall");
    assert_string_equal(ks_left_out_nearest(&left, &inches, &arena), "");
    ks_arena_finish(&arena);
}

static const char *written(const ks_reason *reason, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_out_object(&out, NULL);
    ks_reason_write(&out, "rule", reason);
    ks_out_end(&out);
    return ks_out_done(&out);
}

static ks_status read_back(const char *text, ks_arena *arena, ks_reason *out, ks_error *err)
{
    const ks_json *file;
    ks_reading reading = {.fields = {.units = {"mm", "kg", "C"}, .arena = arena, .err = err}};
    ks_status status = ks_json_parse("plan.json", text, strlen(text), arena, &file, err);
    if (!status)
        ks_reason_read(&reading, ks_json_get(file, "rule"), out);
    return status ? status : err->count > 0 ? err->status : KS_OK;
}

static void what_is_written_is_read_again(void **state)
{
    for (int i = KS_UNTOLD + 1; i < KS_REASONS; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_reason reason = full((ks_reason_name)i), again;
        const char *text = written(&reason, &arena);
        if (read_back(text, &arena, &again, &err) != KS_OK)
            fail_msg("%s", err.text);
        assert_int_equal(again.name, i);
        assert_string_equal(written(&again, &arena), text);
        assert_string_equal(ks_reason_words(&again, &inches, &arena),
                            ks_reason_words(&reason, &inches, &arena));
        ks_arena_finish(&arena);
    }
}

static void what_is_not_of_the_list_is_refused(void **state)
{
    static const struct {
        const char *text, *says;
    } cases[] = {
        {"{\"rule\": {\"name\": \"too-tall\"}}", "found no \"by\""},
        {"{\"rule\": {\"name\": \"too-grand\", \"by\": 1}}", "\"too-grand\""},
        {"{\"rule\": {\"by\": 1}}", "name"},
        {"{\"rule\": {\"name\": 3}}", "3"},
        {"{\"rule\": \"too-tall\"}", "an object"},
        {"{\"rule\": {\"name\": \"too-tall\", \"by\": 1, \"far\": 2}}", "far"},
        {"{\"rule\": {\"name\": \"cone-too-low\", \"of\": \"lid\", \"asks\": \"6\", "
         "\"has\": \"4\"}}",
         "lid"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_reason reason;
        assert_int_equal(read_back(cases[i].text, &arena, &reason, &err), KS_BAD_INPUT);
        if (!strstr(err.text, cases[i].says))
            fail_msg("case %zu: %s", i + 1, err.text);
        ks_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_reason_has_a_name_of_its_own_and_no_figure_unfilled),
        cmocka_unit_test(figures_are_told_in_the_readers_units),
        cmocka_unit_test(a_reason_is_told_in_the_language_in_use),
        cmocka_unit_test(a_plan_without_records_is_told_as_it_stands),
        cmocka_unit_test(what_is_written_is_read_again),
        cmocka_unit_test(what_is_not_of_the_list_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
