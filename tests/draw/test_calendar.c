#include "check.h"
#include "kilnstow/draw.h"

#include <string.h>

static ks_firing_times sample(void)
{
    return (ks_firing_times){.title = "Glaze, cone 6",
                             .where = "Brook Street; studio",
                             .about = "two forms\nand 40 mugs \\ bowls",
                             .plan_hash = "1a2b3c4d",
                             .load = 1,
                             .stamp_s = 0,
                             .loading_s = 951782400, /* 2000-02-29 00:00:00 UTC */
                             .start_s = 951786061,
                             .end_s = 951868799,    /* 2000-02-29 23:59:59 */
                             .open_s = 4102444800}; /* 2100-01-01 00:00:00 */
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
    ks_firing_times times = sample();
    char about[400] = "";
    for (int i = 0; i < 60; i++)
        strcat(about, i % 3 ? "é" : "mug ");
    times.about = about;
    const char *text = ks_firing_calendar(&times, &arena);
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
    ks_firing_times times = sample();
    const char *text = ks_firing_calendar(&times, &arena);
    assert_non_null(strstr(text, "SUMMARY:Firing: Glaze\\, cone 6\r\n"));
    assert_non_null(strstr(text, "LOCATION:Brook Street\\; studio\r\n"));
    assert_non_null(strstr(text, "DESCRIPTION:two forms\\nand 40 mugs \\\\ bowls\r\n"));
    assert_non_null(strstr(text, "DTSTAMP:19700101T000000Z\r\n"));
    assert_non_null(strstr(text, "DTSTART:20000229T000000Z\r\nDTEND:20000229T010101Z\r\n"));
    assert_non_null(strstr(text, "DTEND:20000229T235959Z\r\n"));
    assert_non_null(strstr(text, "DTSTART:21000101T000000Z\r\n"));
    ks_arena_finish(&arena);
}

static void every_event_has_what_the_standard_requires_and_its_own_uid(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_firing_times times = sample();
    const char *text = ks_firing_calendar(&times, &arena);
    assert_int_equal(strncmp(text, "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:", 37), 0);
    assert_int_equal(count_of(text, "BEGIN:VEVENT"), 3);
    assert_int_equal(count_of(text, "END:VEVENT"), 3);
    assert_int_equal(count_of(text, "DTSTAMP:"), 3);
    assert_int_equal(count_of(text, "UID:1a2b3c4d-1-loading@"), 1);
    assert_int_equal(count_of(text, "UID:1a2b3c4d-1-firing@"), 1);
    assert_int_equal(count_of(text, "UID:1a2b3c4d-1-opening@"), 1);
    times.loading_s = times.open_s = -1;
    assert_int_equal(count_of(ks_firing_calendar(&times, &arena), "BEGIN:VEVENT"), 1);
    ks_arena_finish(&arena);
}

static void a_line_end_in_a_title_starts_no_property(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_firing_times times = sample();
    times.title = "x\r\nATTENDEE:y\nBEGIN:VEVENT";
    const char *text = ks_firing_calendar(&times, &arena);
    assert_null(strstr(text, "\nATTENDEE"));
    assert_int_equal(count_of(text, "\nBEGIN:VEVENT"), 3);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_are_folded_at_seventy_five_octets_and_unfold_to_what_was_said),
        cmocka_unit_test(text_is_escaped_and_times_are_utc),
        cmocka_unit_test(every_event_has_what_the_standard_requires_and_its_own_uid),
        cmocka_unit_test(a_line_end_in_a_title_starts_no_property),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
