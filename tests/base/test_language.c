/* Which words are said in which language. The catalogue itself is compared with the sources by
 * tests/messages.py. */
#include "base/language.h"
#include "base/language_table.h"
#include "base/text.h"
#include "kilnstow/error.h"
#include "check.h"

#include <string.h>

static void english_is_said_as_it_stands(void **state)
{
    assert_string_equal(ks_language(), "en");
    assert_string_equal(ks_tr("\nWaiting:\n"), "\nWaiting:\n");
    assert_string_equal(ks_tr_count(1, "%d load", "%d loads"), "%d load");
    assert_string_equal(ks_tr_count(0, "%d load", "%d loads"), "%d loads");
}

static void an_unknown_language_changes_nothing(void **state)
{
    assert_true(ks_language_use("qaa"));
    assert_false(ks_language_use("xx"));
    assert_string_equal(ks_language(), "qaa");
    assert_true(ks_language_use("en"));
}

static void what_no_catalogue_has_is_said_as_it_stands(void **state)
{
    assert_true(ks_language_use("qaa"));
    assert_string_equal(ks_tr("no source says this"), "no source says this");
    assert_string_equal(ks_tr_count(-1, "no %d", "nos %d"), "no %d");
    assert_true(ks_language_use("en"));
}

static void formats_are_looked_up_where_they_are_printed(void **state)
{
    ks_arena arena = {0};
    ks_text text = {.arena = &arena};
    ks_error err = {0};
    assert_true(ks_language_use("qaa"));
    ks_text_print(&text, "load %d", 3);
    (void)ks_fail(&err, KS_BAD_INPUT, "%s: cannot %s: %s", "a.json", "open", "why");
    assert_true(ks_language_use("en"));
    assert_string_equal(ks_text_end(&text), "lóád 3");
    assert_string_equal(err.text, "a.json: cánnót open: why");
    ks_arena_finish(&arena);
}

/* Binary search needs it. */
static void every_catalogue_is_sorted(void **state)
{
    for (int c = 0; c < ks_n_catalogues; c++)
        for (int i = 1; i < ks_catalogues[c].n; i++)
            assert_true(strcmp(ks_catalogues[c].messages[i - 1].message,
                               ks_catalogues[c].messages[i].message) < 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(english_is_said_as_it_stands),
        cmocka_unit_test(an_unknown_language_changes_nothing),
        cmocka_unit_test(what_no_catalogue_has_is_said_as_it_stands),
        cmocka_unit_test(formats_are_looked_up_where_they_are_printed),
        cmocka_unit_test(every_catalogue_is_sorted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
