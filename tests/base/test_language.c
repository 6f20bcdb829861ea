/* Which words are said in which language. The catalogue itself is compared with the sources by
 * tests/messages.py. */
#include "base/language.h"
#include "base/language_table.h"
#include "base/text.h"
#include "kilnstow/error.h"
#include "check.h"

#include <stdio.h>
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
    (void)ks_fail(&err, KS_BAD_INPUT, "%s: cannot %s: %s", "a.json", "open", "broken");
    assert_true(ks_language_use("en"));
    assert_string_equal(ks_text_end(&text), "lóád 3");
    assert_string_equal(err.text, "a.json: cánnót open: broken");
    ks_arena_finish(&arena);
}

/* A literal is ours; what lies elsewhere was written by someone, and quotes hold keys and names. */
static void only_texts_of_our_own_are_looked_up_in_arguments(void **state)
{
    ks_arena arena = {0};
    char theirs[] = "glazed";
    assert_true(ks_language_use("qaa"));
    assert_string_equal(ks_arena_print(&arena, "%s|%s|\"%s\"", "glazed", theirs, "glazed"),
                        "glázéd|glazed|\"glazed\"");
    assert_true(ks_language_use("en"));
    ks_arena_finish(&arena);
}

static void widths_count_letters(void **state)
{
    ks_arena arena = {0};
    assert_true(ks_language_use("qaa"));
    assert_string_equal(
        ks_arena_print(&arena, "%-8s|%8s|%-*s|%.3s", "glazed", "glazed", 7, "dry", "abcd"),
        "glázéd  |  glázéd|drý    |abc");
    assert_true(ks_language_use("en"));
    ks_arena_finish(&arena);
}

/* Against the C library: every conversion that the sources use, in one format. */
static void numbers_are_printed_as_by_the_c_library(void **state)
{
    static const double reals[] = {0, -0.04, 1.5, 12345.678, 1e-9, 1e300, -1e20};
    static const int wholes[] = {0, -1, 7, 2147483647, -2147483647};
    ks_arena arena = {0};
    for (size_t r = 0; r < sizeof reals / sizeof *reals; r++)
        for (size_t w = 0; w < sizeof wholes / sizeof *wholes; w++) {
            double x = reals[r];
            int n = wholes[w];
            char text[1600];
            (void)snprintf(text, sizeof text,
                           "%5.1f%%%+.2f|%g|%.6g|%-9.3g|%d|%02d|%04d|%5d|%c|%X|%ld|%zu|%lld|%.*f",
                           x, x, x, x, x, n, n, n, n, 'x', (unsigned)n, (long)n, (size_t)w,
                           (long long)n * 5, 3, x);
            assert_true(ks_language_use("qaa"));
            const char *ours = ks_arena_print(
                &arena, "%5.1f%%%+.2f|%g|%.6g|%-9.3g|%d|%02d|%04d|%5d|%c|%X|%ld|%zu|%lld|%.*f", x,
                x, x, x, x, n, n, n, n, 'x', (unsigned)n, (long)n, (size_t)w, (long long)n * 5, 3,
                x);
            assert_true(ks_language_use("en"));
            assert_string_equal(ours, text);
        }
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
        cmocka_unit_test(only_texts_of_our_own_are_looked_up_in_arguments),
        cmocka_unit_test(widths_count_letters),
        cmocka_unit_test(numbers_are_printed_as_by_the_c_library),
        cmocka_unit_test(every_catalogue_is_sorted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
