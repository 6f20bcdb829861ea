#include "base/file.h"
#include "check.h"
#include "draw/scene/letter.h"
#include "draw/scene/type.h"

/* Of the package that the built-in fonts are from. */
#define OTHER_FONT "/usr/share/fonts/truetype/dejavu/DejaVuSansMono.ttf"

static ks_arena arena;
static ks_type *type;

static int ready(void **state)
{
    (void)state;
    return ks_type_create(&arena, NULL, &type, NULL) == KS_OK ? 0 : -1;
}

static int done(void **state)
{
    (void)state;
    ks_type_destroy(type);
    ks_arena_finish(&arena);
    return 0;
}

/* Advance widths in the font's own table, 2048 units to the em: M 1767, space 651, 1 1303
 * (read from DejaVu Sans 2.37 with a font viewer, from memory for M). */
static void widths_are_those_of_the_font(void **state)
{
    (void)state;
    check_near(ks_type_width(type, "1", false), 1303 / 2048.0, 1e-9);
    check_near(ks_type_width(type, "1234567890", false), 13030 / 2048.0, 1e-9);
    check_near(ks_type_width(type, "", false), 0, 0);
    assert_true(ks_type_width(type, "kiln", true) > ks_type_width(type, "kiln", false));
}

static void shortened_text_fits_and_ends_in_an_ellipsis(void **state)
{
    (void)state;
    const char *long_name = "A tall bottle with a very long name, ünïcödé and all";
    for (double em = 0.2; em < 32; em += 0.37) {
        const char *fitted = ks_type_fitted(type, long_name, false, em);
        assert_true(ks_type_width(type, fitted, false) <= em);
        size_t length = strlen(fitted);
        assert_int_equal(ks_utf8_valid(fitted, length), length);
        if (length > 0 && strcmp(fitted, long_name) != 0)
            assert_string_equal(fitted + length - 3, "…");
    }
    assert_string_equal(ks_type_fitted(type, "mug", false, 10), "mug");
}

static void wrapped_text_keeps_its_words_and_its_width(void **state)
{
    (void)state;
    const char *lines[6];
    int n = ks_type_wrap(type, "one two three four five six seven", false, 6, 6, lines);
    assert_true(n > 1);
    char all[100] = "";
    for (int i = 0; i < n; i++) {
        assert_true(ks_type_width(type, lines[i], false) <= 6);
        strcat(all, lines[i]);
        if (i + 1 < n)
            strcat(all, " ");
    }
    assert_string_equal(all, "one two three four five six seven");
    assert_int_equal(ks_type_wrap(type, "", false, 6, 6, lines), 0);
    assert_int_equal(ks_type_wrap(type, "   ", false, 6, 6, lines), 0);
    assert_int_equal(ks_type_wrap(type, "WWWWWWWWWWWWWWWWWWWWWWWW", false, 6, 2, lines), 2);
    assert_non_null(strstr(lines[1], "…"));
}

static void clusters_cover_every_byte_and_every_glyph(void **state)
{
    (void)state;
    const char *const texts[] = {"plain",    "e\xcc\x81tude", "fi ffi",
                                 "ספל גדול", "قدح شاي",       "mug ספל (2) قدح 17",
                                 "日本",     "a日b",          "👍🏽"};
    for (size_t t = 0; t < sizeof texts / sizeof texts[0]; t++) {
        ks_line line = ks_type_line(type, texts[t], false);
        int bytes = 0;
        for (int r = 0; r < line.n_runs; r++) {
            int run_bytes = 0, run_glyphs = 0;
            for (int c = 0; c < line.runs[r].n_clusters; c++) {
                assert_true(line.runs[r].clusters[c].n_bytes > 0);
                run_bytes += line.runs[r].clusters[c].n_bytes;
                run_glyphs += line.runs[r].clusters[c].n_glyphs;
            }
            assert_int_equal(run_bytes, line.runs[r].length);
            assert_int_equal(run_glyphs, line.runs[r].n_glyphs);
            bytes += run_bytes;
        }
        assert_int_equal(bytes, strlen(texts[t]));
    }
}

/* Unicode Standard Annex 9: Hebrew runs backward, digits in it forward, Latin around it forward. */
static void right_to_left_runs_are_put_in_the_order_seen(void **state)
{
    (void)state;
    ks_line line = ks_type_line(type, "ab אבג cd", false);
    assert_false(line.backward);
    assert_int_equal(line.n_runs, 3);
    assert_false(line.runs[0].backward);
    assert_true(line.runs[1].backward);
    line = ks_type_line(type, "אבג 12 דה", false);
    assert_true(line.backward);
    assert_int_equal(line.n_runs, 3);
    assert_true(line.runs[0].from > line.runs[2].from);
    assert_false(line.runs[1].backward);
    for (int i = 1; i < line.n_runs; i++)
        assert_true(line.runs[i].glyphs[0].x > line.runs[i - 1].glyphs[0].x);
}

static void arabic_letters_join(void **state)
{
    (void)state;
    double joined = ks_type_width(type, "قدح", false);
    double apart = ks_type_width(type, "ق", false) + ks_type_width(type, "د", false) +
                   ks_type_width(type, "ح", false);
    assert_true(fabs(joined - apart) > 0.05);
}

static void letters_that_the_font_lacks_are_listed_once_in_order(void **state)
{
    (void)state;
    const uint32_t *points;
    int before = ks_type_missing(type, &points);
    ks_type_line(type, "本日本", false);
    ks_type_line(type, "plain", false);
    int after = ks_type_missing(type, &points);
    assert_true(after >= before);
    int found = 0;
    for (int i = 0; i < after; i++) {
        if (i > 0)
            assert_true(points[i] > points[i - 1]);
        found += points[i] == 0x65E5 || points[i] == 0x672C;
    }
    assert_int_equal(found, 2);
    check_near(ks_type_width(type, "日", false), 1, 1e-3); /* wide, by Unicode Standard Annex 11 */
    check_near(ks_type_width(type, "\U0001D696", false), ks_type_width(type, "?", false), 1e-9);
}

/* Mathematical monospace letters are in DejaVu Sans Mono and not in DejaVu Sans. */
static void letters_that_the_font_lacks_are_taken_from_another(void **state)
{
    (void)state;
    ks_bytes bytes;
    assert_int_equal(ks_file_read(OTHER_FONT, 1 << 24, &arena, &bytes, NULL), KS_OK);
    const ks_font font = {OTHER_FONT, (const unsigned char *)bytes.bytes, bytes.length};
    ks_type *two;
    const uint32_t *points;
    assert_int_equal(ks_type_create(&arena, &font, &two, NULL), KS_OK);
    ks_line line = ks_type_line(two, "a \U0001D696\U0001D69E\u0301 b", true);
    assert_int_equal(line.n_runs, 3);
    assert_false(line.runs[0].more);
    assert_true(line.runs[1].more);
    assert_int_equal(line.runs[1].length, 10); /* its mark stays with the letter */
    assert_int_equal(ks_type_missing(two, &points), 0);
    check_near(line.width - line.runs[1].glyphs[0].x, 2 * 0.602 + ks_type_width(two, " b", true),
               0.01); /* 1233 of 2048 units each */
    ks_type_destroy(two);
}

static void what_is_no_font_is_refused(void **state)
{
    (void)state;
    ks_type *none;
    ks_error err = {0};
    const ks_font junk = {"junk.ttf", (const unsigned char *)"GIF89a no font at all", 21};
    assert_int_equal(ks_type_create(&arena, &junk, &none, &err), KS_BAD_INPUT);
    assert_non_null(strstr(err.text, "junk.ttf"));
}

/* Unicode Standard Annex 9, P2 and P3: the paragraph's first letter decides for all its lines. */
static void lines_of_one_text_read_the_same_way(void **state)
{
    (void)state;
    const char *lines[9];
    int n = ks_type_wrap(type, "ספל גדול mug and bowl 12 cups", false, 5, 9, lines);
    assert_true(n > 2);
    for (int i = 0; i < n; i++)
        assert_true(ks_type_line(type, lines[i], false).backward);
    n = ks_type_wrap(type, "mug and bowl ספל גדול", false, 5, 9, lines);
    for (int i = 0; i < n; i++)
        assert_false(ks_type_line(type, lines[i], false).backward);
}

static void cleaned_text_is_valid_and_cannot_turn_its_surroundings(void **state)
{
    (void)state;
    assert_string_equal(ks_type_clean(&arena, "a\nb\tc\x7f"), "a b c ");
    assert_string_equal(ks_type_clean(&arena, "x\xe2\x80\xaey\xe2\x81\xa6z"), "xyz");
    assert_string_equal(ks_type_clean(&arena, "\xff\xc3"), "\xef\xbf\xbd\xef\xbf\xbd");
    assert_string_equal(ks_type_clean(&arena, "ok é 日 👍"), "ok é 日 👍");
    assert_string_equal(ks_type_clean(&arena, "\xed\xa0\x80"),
                        "\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd");
    uint64_t state_ = 1;
    for (int i = 0; i < 3000; i++) {
        char noise[24] = "";
        for (int k = 0; k < 23; k++) {
            state_ = state_ * 6364136223846793005u + 1442695040888963407u;
            noise[k] = (char)(state_ >> 40);
        }
        const char *clean = ks_type_clean(&arena, noise);
        assert_int_equal(ks_utf8_valid(clean, strlen(clean)), strlen(clean));
        ks_type_line(type, clean, false);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(widths_are_those_of_the_font),
        cmocka_unit_test(shortened_text_fits_and_ends_in_an_ellipsis),
        cmocka_unit_test(wrapped_text_keeps_its_words_and_its_width),
        cmocka_unit_test(clusters_cover_every_byte_and_every_glyph),
        cmocka_unit_test(right_to_left_runs_are_put_in_the_order_seen),
        cmocka_unit_test(arabic_letters_join),
        cmocka_unit_test(letters_that_the_font_lacks_are_listed_once_in_order),
        cmocka_unit_test(letters_that_the_font_lacks_are_taken_from_another),
        cmocka_unit_test(what_is_no_font_is_refused),
        cmocka_unit_test(lines_of_one_text_read_the_same_way),
        cmocka_unit_test(cleaned_text_is_valid_and_cannot_turn_its_surroundings),
    };
    return cmocka_run_group_tests(tests, ready, done);
}
