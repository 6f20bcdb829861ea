#include "check.h"
#include "kilnstow/draw.h"

#include <string.h>

/* 2000-02-29 00:00 UTC, loading; then a day of firing and cooling. */
static ks_dated_load sample(void)
{
    return (ks_dated_load){.uid = "1a2b3c4d",
                           .kiln = "round, 580",
                           .title = "Glaze, cone 6",
                           .where = "Brook Street; studio",
                           .about = "two forms\nand 40 mugs \\ bowls",
                           .load = 1,
                           .at = {.loading_s = 951782400,
                                  .on_s = 951786060,
                                  .cone_down_s = 951825600,
                                  .ended_s = 951829200,
                                  .open_s = 951868740, /* 2000-02-29 23:59 */
                                  .unloading_s = 951897600,
                                  .empty_s = 951901200}};
}

static const char *file_of(int n, const ks_dated_load *loads, const char *zone, const char *before,
                           ks_arena *arena)
{
    const ks_calendar calendar = {
        .studio = "Brook Street", .zone = zone, .n_loads = n, .loads = loads, .stamp_s = 951696000};
    return ks_calendar_text(&calendar, before, arena);
}

static int count_of(const char *text, const char *what)
{
    int n = 0;
    for (const char *at = text; (at = strstr(at, what)); at += strlen(what))
        n++;
    return n;
}

/* RFC 5545, 3.1: lines end in CRLF and have at most 75 octets; a fold is CRLF and one space. */
static void lines_are_folded_at_seventy_five_octets_and_unfold_to_what_was_said(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_dated_load load = sample();
    char about[400] = "";
    for (int i = 0; i < 60; i++)
        strcat(about, i % 3 ? "é" : "mug ");
    load.about = about;
    const char *text = file_of(1, &load, "UTC0", NULL, &arena);
    char plain[4000] = "";
    size_t used = 0, line = 0;
    for (const char *at = text; *at; at++) {
        if (at[0] == '\r') {
            assert_int_equal(at[1], '\n');
            assert_true(line <= 75);
            line = 0;
            at++;
            if (at[1] == ' ') {
                at++;
                line = 1;
                assert_int_not_equal(at[1] & 0xC0, 0x80);
                continue;
            }
            plain[used++] = '\n';
            continue;
        }
        assert_int_not_equal(*at, '\n');
        plain[used++] = *at;
        line++;
    }
    assert_non_null(strstr(plain, about));
    ks_arena_finish(&arena);
}

/* 3.3.11: backslash, semicolon, comma and newline are escaped in text. 3.3.5: times in UTC. */
static void text_is_escaped_and_times_are_utc(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_dated_load load = sample();
    const char *text = file_of(1, &load, "UTC0", NULL, &arena);
    assert_non_null(
        strstr(text, "SUMMARY:Load the kiln: round\\, 580\\, Glaze\\, cone 6\\, load 1\r\n"));
    assert_non_null(strstr(text, "LOCATION:Brook Street\\; studio\r\n"));
    assert_non_null(strstr(text, "DESCRIPTION:two forms\\nand 40 mugs \\\\ bowls\r\n"));
    assert_non_null(strstr(text, "DTSTAMP:20000228T000000Z\r\n"));
    assert_non_null(strstr(text, "DTSTART:20000229T000000Z\r\nDTEND:20000229T010100Z\r\n"));
    assert_non_null(strstr(text, "DTSTART:20000229T120000Z\r\nDTEND:20000229T235900Z\r\n"));
    const char *floating = file_of(1, &load, "", NULL, &arena);
    assert_non_null(strstr(floating, "DTSTART:20000229T000000\r\nDTEND:20000229T010100\r\n"));
    ks_arena_finish(&arena);
}

static void every_event_has_what_the_standard_requires_and_its_own_uid(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_dated_load load = sample();
    const char *text = file_of(1, &load, "UTC0", NULL, &arena);
    assert_int_equal(strncmp(text, "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:", 37), 0);
    assert_int_equal(count_of(text, "BEGIN:VEVENT"), 4);
    assert_int_equal(count_of(text, "END:VEVENT"), 4);
    assert_int_equal(count_of(text, "DTSTAMP:"), 4);
    static const char *const kinds[] = {"loading", "firing", "cooling", "unloading"};
    for (int i = 0; i < 4; i++)
        assert_int_equal(
            count_of(text, ks_arena_print(&arena, "UID:1a2b3c4d-%s@kilnstow.invalid", kinds[i])),
            1);
    ks_arena_finish(&arena);
}

static void a_line_end_in_a_title_starts_no_property(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_dated_load load = sample();
    load.title = "x\r\nATTENDEE:y\nBEGIN:VEVENT";
    const char *text = file_of(1, &load, "UTC0", NULL, &arena);
    assert_null(strstr(text, "\nATTENDEE"));
    assert_int_equal(count_of(text, "\nBEGIN:VEVENT"), 4);
    ks_arena_finish(&arena);
}

/* Somebody has to be there three times: to load, when it should end, and to unload. */
static void each_time_someone_has_to_be_there_has_its_reminder(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_dated_load load = sample();
    const char *text = file_of(1, &load, "UTC0", NULL, &arena);
    assert_int_equal(count_of(text, "BEGIN:VALARM"), 3);
    assert_int_equal(count_of(text, "TRIGGER;RELATED=END:-PT30M"), 1);
    assert_int_equal(count_of(text, "TRANSP:TRANSPARENT"), 1);
    ks_arena_finish(&arena);
}

/* RFC 5545, 3.8.7.4, and RFC 5546, 2.1.5: a changed event has the same UID and a higher SEQUENCE.
 */
static void a_file_written_again_updates_what_has_changed_and_calls_off_what_is_gone(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_dated_load loads[2] = {sample(), sample()};
    loads[1].uid = "ffff";
    const char *first = file_of(2, loads, "UTC0", NULL, &arena);
    assert_string_equal(file_of(2, loads, "UTC0", first, &arena), first);
    loads[0].at.open_s += 3600;
    const char *changed = file_of(2, loads, "UTC0", first, &arena);
    assert_int_equal(count_of(changed, "BEGIN:VEVENT"), 8);
    assert_int_equal(count_of(changed, "SEQUENCE:1\r\n"), 1); /* the cooling alone is longer */
    const char *gone = file_of(1, loads, "UTC0", changed, &arena);
    assert_int_equal(count_of(gone, "BEGIN:VEVENT"), 8);
    assert_int_equal(count_of(gone, "STATUS:CANCELLED"), 4);
    assert_int_equal(count_of(gone, "BEGIN:VALARM"), 3);
    assert_string_equal(file_of(1, loads, "UTC0", gone, &arena), gone);
    assert_int_equal(count_of(file_of(2, loads, "UTC0", gone, &arena), "STATUS:CANCELLED"), 0);
    ks_arena_finish(&arena);
}

/* A file that is cut short, or no calendar of ours, is no reason to fail. */
static void what_cannot_be_read_of_the_file_before_is_left_alone(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_dated_load load = sample();
    const char *whole = file_of(1, &load, "UTC0", NULL, &arena);
    for (size_t length = 0; length < strlen(whole); length += 7) {
        const char *cut = ks_arena_text_n(&arena, whole, length);
        assert_int_equal(count_of(file_of(1, &load, "UTC0", cut, &arena), "BEGIN:VEVENT"), 4);
    }
    const char *foreign = "BEGIN:VCALENDAR\r\nPRODID:other\r\nBEGIN:VEVENT\r\nUID:x\r\n"
                          "DTSTAMP:20260101T000000Z\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n";
    assert_int_equal(count_of(file_of(1, &load, "UTC0", foreign, &arena), "BEGIN:VEVENT"), 4);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_are_folded_at_seventy_five_octets_and_unfold_to_what_was_said),
        cmocka_unit_test(text_is_escaped_and_times_are_utc),
        cmocka_unit_test(every_event_has_what_the_standard_requires_and_its_own_uid),
        cmocka_unit_test(a_line_end_in_a_title_starts_no_property),
        cmocka_unit_test(each_time_someone_has_to_be_there_has_its_reminder),
        cmocka_unit_test(a_file_written_again_updates_what_has_changed_and_calls_off_what_is_gone),
        cmocka_unit_test(what_cannot_be_read_of_the_file_before_is_left_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
