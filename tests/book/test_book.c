#include "check.h"

#include "base/file.h"
#include "base/text.h"
#include "book/book_file.h"
#include "book/schema_steps.h"
#include "book/tables.h"
#include "kilnstow/book.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static char folder[] = "/tmp/kilnstow-book-XXXXXX";
static ks_arena arena;
static ks_error err;

static const char *place(const char *name)
{
    return ks_path_join(folder, name, &arena);
}

static ks_book *opened(const char *name, ks_book_use use)
{
    ks_book *book = NULL;
    ks_status status = ks_book_open(place(name), use, &book, &err);
    if (status)
        fail_msg("%s", err.text);
    return book;
}

static ks_cone_seen cones[] = {{"1", "", "6", 0.02}, {"3 left", "back", "5.5+0.4", NAN}};
static ks_loss losses[] = {
    {"mug", 2, "cracked at the handle; \"S\" shaped, a l\u00f6ss", "middle"}};
static ks_ware_fired ware[] = {{"mug", "ruth", "celadon + white", "middle", 12},
                               {"mug", "ruth", "celadon + white", "top", 3}};
static ks_loss again[] = {{"bowl", 1, "pinholes", ""}};
static ks_correction corrections[] = {{"mug", "3 left", -2}, {"bowl", "", 1}};
static ks_photo photos[] = {{"level 3.jpg"}};
static ks_logged_reading readings[] = {{"top", 0, 21.5}, {"top", 1.0 / 3, 1234.5678901234567}};
static ks_charge charges[] = {{"ruth", "Ruth", 12, 1234}, {"", "", 0, -1}};
static ks_waited waited[] = {{"mo", "vase", "tall vase", "no room left this time", 3}};

static ks_book_firing firing_of(const char *written, const char *started)
{
    return (ks_book_firing){.mark = {.written = written},
                            .plan = "abc",
                            .load = 2,
                            .kiln = "round-690",
                            .title = "Thursday",
                            .started = started,
                            .ended = "",
                            .kwh = 61.3,
                            .meter_from = 1000.1,
                            .meter_to = 1061.4,
                            .meter_unit = "kWh",
                            .minutes = NAN,
                            .currency = "EUR",
                            .digits = 2,
                            .bill_minor = 1233,
                            .note = "",
                            .struck = "",
                            .n_cones = 2,
                            .cones = cones,
                            .n_losses = 1,
                            .losses = losses,
                            .n_again = 1,
                            .again = again,
                            .n_corrections = 2,
                            .corrections = corrections,
                            .n_photos = 1,
                            .photos = photos,
                            .n_readings = 2,
                            .readings = readings,
                            .n_charges = 2,
                            .charges = charges,
                            .n_waited = 1,
                            .waited = waited,
                            .n_ware = 2,
                            .ware = ware};
}

static void written(ks_book *book, ks_book_firing *firing)
{
    if (ks_book_write_firing(book, firing, "{\"plan\": \"\u00e4\"}\n", &err))
        fail_msg("%s", err.text);
}

static ks_book_firing *asked(ks_book *book, ks_book_asked what, int n)
{
    ks_book_firing *firings;
    int found;
    if (ks_book_firings(book, &what, &arena, &found, &firings, &err))
        fail_msg("%s", err.text);
    assert_int_equal(found, n);
    return firings;
}

static const char *exported(ks_book *book)
{
    const char *json;
    if (ks_book_export(book, &arena, &json, &err))
        fail_msg("%s", err.text);
    return json;
}

static int imported(ks_book *book, const char *json)
{
    int added = -1;
    const char *path = place("import.json");
    assert_int_equal(ks_file_write(path, json, strlen(json), &err), KS_OK);
    if (ks_book_import(book, path, &arena, &added, &err))
        fail_msg("%s", err.text);
    return added;
}

static void an_entry_comes_back_as_it_was_written(void **state)
{
    ks_book *book = opened("back", KS_BOOK_MAKE);
    ks_book_firing firing = firing_of("2026-11-28T18:20:00Z", "2026-11-27 09:00");
    written(book, &firing);
    assert_int_equal(firing.mark.n, 1);
    assert_int_equal(firing.mark.edition, 1);
    ks_book_close(book);
    book = opened("back", KS_BOOK_LOOK);
    assert_int_equal(asked(book, (ks_book_asked){.lists = KS_LISTS_SHORT}, 1)->n_readings, 0);
    const ks_book_firing *back = asked(book, (ks_book_asked){.lists = KS_LISTS_ALL}, 1);
    assert_string_equal(back->kiln, "round-690");
    assert_true(isnan(back->minutes));
    assert_true(back->kwh == 61.3 && back->readings[1].time_h == 1.0 / 3);
    assert_true(back->readings[1].temp_c == 1234.5678901234567);
    assert_string_equal(back->cones[1].level, "3 left");
    assert_string_equal(back->losses[0].why, losses[0].why);
    assert_int_equal(back->charges[1].minor, -1);
    assert_int_equal(back->waited[0].copies, 3);
    assert_string_equal(back->losses[0].third, "middle");
    assert_int_equal(back->ware[1].copies, 3);
    const char *text;
    assert_int_equal(ks_book_plan(book, "abc", &arena, &text, &err), KS_OK);
    assert_string_equal(text, "{\"plan\": \"\u00e4\"}\n");
    ks_book_close(book);
}

static void mending_keeps_what_stood_before(void **state)
{
    ks_book *book = opened("mend", KS_BOOK_MAKE);
    ks_book_firing firing = firing_of("2026-11-28T18:20:00Z", "2026-11-27 09:00");
    written(book, &firing);
    firing.mark.written = "2026-11-29T08:00:00Z";
    firing.kwh = 63.1;
    firing.n_losses = 0;
    written(book, &firing);
    assert_int_equal(firing.mark.n, 1);
    assert_int_equal(firing.mark.edition, 2);
    const ks_book_firing *last = asked(book, (ks_book_asked){.lists = KS_LISTS_SHORT}, 1);
    assert_true(last->kwh == 63.1 && last->n_losses == 0);
    const ks_book_firing *all =
        asked(book, (ks_book_asked){.editions = true, .lists = KS_LISTS_SHORT}, 2);
    assert_true(all[0].kwh == 61.3 && all[0].n_losses == 1);
    ks_book_close(book);
}

static void what_is_mended_must_be_there(void **state)
{
    ks_book *book = opened("none", KS_BOOK_MAKE);
    ks_book_firing firing = firing_of("2026-11-28T18:20:00Z", "2026-11-27 09:00");
    firing.mark.n = 7;
    ks_error failure = {0};
    assert_int_equal(ks_book_write_firing(book, &firing, "{}", &failure), KS_BAD_USAGE);
    assert_non_null(strstr(failure.text, "has no entry 7"));
    assert_int_equal(firing.mark.n, 7);
    asked(book, (ks_book_asked){.editions = true}, 0);
    ks_book_close(book);
}

/* Also for other programs that open the file. */
static void no_row_can_be_changed_or_taken_out(void **state)
{
    ks_book *book = opened("stay", KS_BOOK_MAKE);
    ks_book_firing firing = firing_of("2026-11-28T18:20:00Z", "2026-11-27 09:00");
    written(book, &firing);
    ks_error failure = {0};
    assert_int_not_equal(ks_book_do(book, "UPDATE firing SET kwh = 1", &failure), KS_OK);
    assert_int_not_equal(ks_book_do(book, "DELETE FROM firing", &failure), KS_OK);
    assert_true(asked(book, (ks_book_asked){0}, 1)->kwh == 61.3);
    ks_book_close(book);
}

static void asking_narrows_by_kiln_number_and_day(void **state)
{
    ks_book *book = opened("ask", KS_BOOK_MAKE);
    static const char *const starts[] = {"2026-11-27 09:00", "2026-10-02 22:00",
                                         "2026-11-28 23:59"};
    for (int i = 0; i < 3; i++) {
        ks_book_firing firing = firing_of("2026-11-28T18:20:00Z", starts[i]);
        firing.kiln = i == 1 ? "oval-915" : "round-690";
        written(book, &firing);
    }
    const ks_book_firing *all = asked(book, (ks_book_asked){0}, 3);
    assert_int_equal(all[0].mark.n, 2);
    asked(book, (ks_book_asked){.kiln = "oval-915"}, 1);
    asked(book, (ks_book_asked){.from = "2026-11-01"}, 2);
    asked(book, (ks_book_asked){.from = "2026-11-28", .to = "2026-11-28"}, 1);
    assert_string_equal(asked(book, (ks_book_asked){.n = 3}, 1)->started, starts[2]);
    ks_book_close(book);
}

static void a_record_exported_and_imported_is_the_same_record(void **state)
{
    ks_book *book = opened("out", KS_BOOK_MAKE), *other = opened("in", KS_BOOK_MAKE);
    ks_book_firing firing = firing_of("2026-11-28T18:20:00Z", "2026-11-27 09:00");
    written(book, &firing);
    firing.mark.written = "2026-11-28T19:00:00Z";
    firing.started = "2026-11-20 09:00"; /* mended to a day before another's */
    written(book, &firing);
    firing = firing_of("2026-11-28T18:21:00Z", "2026-11-26 09:00");
    firing.struck = "twice";
    written(book, &firing);
    ks_book_payment payment = {.mark = {.written = "2026-11-30T10:00:00Z"},
                               .day = "2026-11-30",
                               .member = "ruth",
                               .currency = "EUR",
                               .digits = 2,
                               .minor = 500,
                               .note = "cash",
                               .struck = ""};
    assert_int_equal(ks_book_write_payment(book, &payment, &err), KS_OK);
    ks_book_upkeep upkeep = {.mark = {.written = "2026-11-30T11:00:00Z"},
                             .day = "2026-11-30",
                             .kiln = "round-690",
                             .item = "half",
                             .done = "broken",
                             .copies = 1,
                             .note = "dropped",
                             .struck = ""};
    assert_int_equal(ks_book_write_upkeep(book, &upkeep, &err), KS_OK);
    ks_book_fate fate = {.mark = {.written = "2026-11-30T12:00:00Z"},
                         .day = "2026-11-30",
                         .piece = "mug",
                         .member = "ruth",
                         .copies = 2,
                         .became = "sold",
                         .currency = "EUR",
                         .digits = 2,
                         .minor = 5600,
                         .note = "",
                         .struck = ""};
    assert_int_equal(ks_book_write_fate(book, &fate, &err), KS_OK);
    const char *json = exported(book);
    assert_int_equal(imported(other, json), 6);
    assert_string_equal(exported(other), json);
    assert_int_equal(imported(other, json), 0);
    assert_string_equal(exported(other), json);
    ks_book_close(book);
    ks_book_close(other);
}

/* Two laptops of one studio. */
static void entries_of_two_records_come_together(void **state)
{
    ks_book *one = opened("one", KS_BOOK_MAKE), *two = opened("two", KS_BOOK_MAKE);
    ks_book_firing firing = firing_of("2026-11-28T18:20:00Z", "2026-11-27 09:00");
    written(one, &firing);
    firing = firing_of("2026-11-28T18:30:00Z", "2026-11-28 09:00");
    written(two, &firing);
    firing.mark.written = "2026-11-28T18:40:00Z";
    firing.note = "mended";
    written(two, &firing);
    const char *json = exported(two);
    assert_int_equal(imported(one, json), 2);
    const ks_book_firing *all = asked(one, (ks_book_asked){0}, 2);
    assert_int_equal(all[1].mark.n, 2);
    assert_int_equal(all[1].mark.edition, 2);
    assert_string_equal(all[1].note, "mended");
    assert_int_equal(imported(one, json), 0);
    ks_book_close(one);
    ks_book_close(two);
}

static void a_bad_import_changes_nothing(void **state)
{
    static const struct {
        const char *text, *says;
    } rows[] = {
        {"{\"format\": \"kilnstow-book/1\", \"plan\": [], \"firing\": []}", "payment"},
        {"{\"format\": \"kilnstow-plan/1\", \"plan\": [], \"firing\": [], \"payment\": []}",
         "kilnstow-book/1"},
        {"{\"format\": \"kilnstow-book/1\", \"plan\": [], \"firing\": [],\n"
         "\"payment\": [{\"n\": 1, \"edition\": 1, \"written\": \"x\", \"day\": 5}]}",
         "2:"},
        {"{\"format\": \"kilnstow-book/1\", \"plan\": [], \"firing\": [],\n"
         "\"payment\": [{\"n\": 1, \"edition\": 2, \"written\": \"x\", \"day\": \"\",\n"
         "\"member\": \"\", \"currency\": \"EUR\", \"digits\": 2, \"minor\": 5, \"note\": \"\",\n"
         "\"struck\": \"\"}]}",
         "first edition"},
        {"[]", "an object"},
    };
    ks_book *book = opened("bad", KS_BOOK_MAKE);
    const char *before = exported(book), *path = place("bad.json");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ks_error failure = {0};
        int added;
        assert_int_equal(ks_file_write(path, rows[i].text, strlen(rows[i].text), &err), KS_OK);
        assert_int_equal(ks_book_import(book, path, &arena, &added, &failure), KS_BAD_INPUT);
        if (!strstr(failure.text, rows[i].says))
            fail_msg("%s", failure.text);
    }
    assert_string_equal(exported(book), before);
    ks_book_close(book);
}

enum { WRITERS = 3, EACH = 20 };

static void write_many(int who)
{
    ks_book *book = NULL;
    ks_error failure = {0};
    ks_status status = ks_book_open(place("many"), KS_BOOK_MAKE, &book, &failure);
    for (int i = 0; i < EACH && !status; i++) {
        ks_book_firing firing = firing_of(ks_number_print(who * EACH + i, &arena), "2026-11-27");
        status = ks_book_write_firing(book, &firing, "{}", &failure);
    }
    ks_book_close(book);
    _exit(status ? 1 : 0);
}

static void writers_at_the_same_time_lose_nothing(void **state)
{
    for (int w = 0; w < WRITERS; w++) {
        pid_t child = fork();
        assert_true(child >= 0);
        if (child == 0)
            write_many(w);
    }
    for (int w = 0; w < WRITERS; w++) {
        int status;
        assert_true(wait(&status) > 0);
        assert_int_equal(status, 0);
    }
    ks_book *book = opened("many", KS_BOOK_LOOK);
    const ks_book_firing *all = asked(book, (ks_book_asked){0}, WRITERS * EACH);
    for (int i = 0; i < WRITERS * EACH; i++)
        assert_int_equal(all[i].mark.n, i + 1);
    ks_book_close(book);
}

static void a_copy_is_whole_and_replaces_nothing(void **state)
{
    ks_book *book = opened("whole", KS_BOOK_MAKE);
    ks_book_firing firing = firing_of("2026-11-28T18:20:00Z", "2026-11-27 09:00");
    written(book, &firing);
    assert_int_equal(ks_book_copy(book, place("copy"), 0, NULL, &err), KS_OK);
    ks_error failure = {0};
    assert_int_equal(ks_book_copy(book, place("copy"), 0, NULL, &failure), KS_BAD_USAGE);
    ks_book *copy = opened("copy", KS_BOOK_EDIT);
    assert_string_equal(exported(copy), exported(book));
    ks_book_close(copy);
    ks_book_close(book);
}

static ks_status open_status(const char *name, const char **says)
{
    ks_book *book;
    ks_error failure = {0};
    ks_status status = ks_book_open(place(name), KS_BOOK_EDIT, &book, &failure);
    *says = ks_arena_text(&arena, failure.text);
    ks_book_close(book);
    return status;
}

static void what_is_no_record_of_ours_is_refused(void **state)
{
    const char *says;
    assert_int_equal(open_status("nowhere", &says), KS_SYSTEM);
    assert_non_null(strstr(says, "there is no such record"));
    assert_int_equal(ks_file_write(place("text"), "a poem, and nothing else\n", 25, &err), KS_OK);
    assert_int_equal(open_status("text", &says), KS_BAD_INPUT);
    ks_book other = {.path = (char *)place("other")};
    assert_int_equal(sqlite3_open(other.path, &other.db), SQLITE_OK);
    assert_int_equal(ks_book_do(&other, "CREATE TABLE glaze (name)", &err), KS_OK);
    sqlite3_close(other.db);
    assert_int_equal(open_status("other", &says), KS_BAD_INPUT);
    assert_non_null(strstr(says, "no record of kilnstow"));
    ks_book *later = opened("later", KS_BOOK_MAKE);
    assert_int_equal(ks_book_do(later, "PRAGMA user_version = 99", &err), KS_OK);
    ks_book_close(later);
    assert_int_equal(open_status("later", &says), KS_BAD_INPUT);
    assert_non_null(strstr(says, "version 99"));
}

static void what_can_be_read_of_a_damaged_record_is_saved(void **state)
{
    ks_book *book = opened("broken", KS_BOOK_MAKE);
    for (int i = 0; i < 200; i++) {
        ks_book_firing firing = firing_of(ks_number_print(i, &arena), "2026-11-27 09:00");
        written(book, &firing);
    }
    ks_book_close(book);
    ks_book_health health;
    assert_int_equal(ks_book_sound(place("broken"), place("saved"), &arena, &health, &err), KS_OK);
    assert_string_equal(health.says, "");
    assert_int_equal(health.firings, 200);
    assert_null(health.saved_to);
    int file = open(place("broken"), O_RDWR);
    char rubbish[4096];
    memset(rubbish, 0xa5, sizeof rubbish);
    assert_int_equal(pwrite(file, rubbish, sizeof rubbish, 4096 * 40), (int)sizeof rubbish);
    close(file);
    assert_int_equal(ks_book_sound(place("broken"), place("saved"), &arena, &health, &err), KS_OK);
    assert_string_not_equal(health.says, "");
    assert_true(health.firings > 0);
    ks_book *saved = opened("saved", KS_BOOK_LOOK);
    asked(saved, (ks_book_asked){0}, health.firings);
    ks_book_close(saved);
}

static int columns_of(ks_book *book, const char *table, char names[32][64])
{
    sqlite3_stmt *statement;
    int n = 0;
    assert_int_equal(ks_book_prepare(book, ks_joined("PRAGMA table_info(", table, ")", &arena),
                                     &statement, &err),
                     KS_OK);
    while (sqlite3_step(statement) == SQLITE_ROW)
        snprintf(names[n++], 64, "%s", (const char *)sqlite3_column_text(statement, 1));
    sqlite3_finalize(statement);
    return n;
}

static void same_columns(ks_book *book, const char *table, int n, const ks_book_column *columns)
{
    char names[32][64];
    assert_int_equal(columns_of(book, table, names), n + 3);
    for (int i = 0; i < n; i++)
        assert_string_equal(names[i + 3], columns[i].name);
}

static void the_file_has_the_columns_that_the_program_knows(void **state)
{
    ks_book *book = opened("columns", KS_BOOK_MAKE);
    const ks_book_table *const *tables = ks_book_tables;
    for (int t = 0; t < KS_BOOK_TABLES; t++) {
        same_columns(book, tables[t]->name, tables[t]->n_columns, tables[t]->columns);
        for (int l = 0; l < tables[t]->n_lists; l++)
            same_columns(book, tables[t]->lists[l].name, tables[t]->lists[l].n_columns,
                         tables[t]->lists[l].columns);
    }
    ks_book_close(book);
}

/* Every version that was handed out left a fixture: record-1.sql and so on. */
static void make_of(const char *name, const char *sql_path)
{
    ks_bytes sql;
    sqlite3 *db;
    assert_int_equal(ks_file_read(sql_path, 1 << 20, &arena, &sql, &err), KS_OK);
    assert_int_equal(sqlite3_open(place(name), &db), SQLITE_OK);
    assert_int_equal(sqlite3_exec(db, sql.bytes, NULL, NULL, NULL), SQLITE_OK);
    sqlite3_close(db);
}

static void a_record_of_an_older_version_is_brought_to_todays(void **state)
{
    assert_int_equal(KS_SCHEMA_TODAY, 3); /* else the version before needs its fixture here */
    make_of("first", "tests/book/record-1.sql");
    ks_book *book = opened("first", KS_BOOK_LOOK);
    const ks_book_firing *all =
        asked(book, (ks_book_asked){.editions = true, .lists = KS_LISTS_ALL}, 3);
    assert_true(all[0].kwh == 61.3 && all[1].kwh == 63.1 && isnan(all[2].kwh));
    assert_string_equal(all[1].cones[0].side, "back");
    assert_true(isnan(all[1].cones[0].height));
    assert_true(all[1].readings[0].temp_c == 120.25);
    assert_string_equal(all[2].waited[0].name, "tall vase");
    ks_book_firing firing = firing_of("2026-12-28T18:20:00Z", "2026-12-27 09:00");
    written(book, &firing);
    assert_int_equal(firing.mark.n, 3);
    ks_book_close(book);
}

static void a_record_of_the_second_version_keeps_what_it_tells(void **state)
{
    make_of("second", "tests/book/record-2.sql");
    ks_book *book = opened("second", KS_BOOK_LOOK);
    const ks_book_firing *all =
        asked(book, (ks_book_asked){.editions = true, .lists = KS_LISTS_ALL}, 4);
    assert_int_equal(all[3].ware[0].copies, 6);
    assert_string_equal(all[3].losses[0].third, "bottom");
    assert_true(all[3].cones[0].height == 0.05);
    assert_int_equal(all[3].n_again, 0);
    assert_int_equal(all[3].n_corrections, 0);
    ks_book_close(book);
}

static void an_older_record_that_may_not_be_written_is_told(void **state)
{
    int ended = -1;
    make_of("locked", "tests/book/record-1.sql");
    assert_int_equal(chmod(folder, 0755), 0);
    assert_int_equal(chmod(place("locked"), 0444), 0);
    pid_t child = fork();
    if (child == 0) {
        enum { NOBODY = 65534 }; /* nothing is forbidden to the superuser */
        ks_book *book;
        ks_error own = {0};
        bool as_nobody = geteuid() != 0 || setuid(NOBODY) == 0;
        ks_status status = ks_book_open(place("locked"), KS_BOOK_LOOK, &book, &own);
        _exit(as_nobody && status == KS_SYSTEM && strstr(own.text, "write permission") ? 0 : 1);
    }
    assert_int_equal(waitpid(child, &ended, 0), child);
    assert_int_equal(ended, 0);
}

static int make_folder(void **state)
{
    return mkdtemp(folder) ? 0 : -1;
}

static int remove_folder(void **state)
{
    const char *remove = ks_joined("rm -rf ", folder, "", &arena);
    int status = system(remove);
    ks_arena_finish(&arena);
    return status;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_entry_comes_back_as_it_was_written),
        cmocka_unit_test(mending_keeps_what_stood_before),
        cmocka_unit_test(what_is_mended_must_be_there),
        cmocka_unit_test(no_row_can_be_changed_or_taken_out),
        cmocka_unit_test(asking_narrows_by_kiln_number_and_day),
        cmocka_unit_test(a_record_exported_and_imported_is_the_same_record),
        cmocka_unit_test(entries_of_two_records_come_together),
        cmocka_unit_test(a_bad_import_changes_nothing),
        cmocka_unit_test(writers_at_the_same_time_lose_nothing),
        cmocka_unit_test(a_copy_is_whole_and_replaces_nothing),
        cmocka_unit_test(what_is_no_record_of_ours_is_refused),
        cmocka_unit_test(what_can_be_read_of_a_damaged_record_is_saved),
        cmocka_unit_test(the_file_has_the_columns_that_the_program_knows),
        cmocka_unit_test(a_record_of_an_older_version_is_brought_to_todays),
        cmocka_unit_test(a_record_of_the_second_version_keeps_what_it_tells),
        cmocka_unit_test(an_older_record_that_may_not_be_written_is_told),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
