#include "base/data/csv.h"
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

static ks_csv parsed_n(const char *bytes, size_t length)
{
    ks_csv table;
    ks_error err = {0};
    if (ks_csv_parse("w.csv", bytes, length, &arena, &table, &err) != KS_OK)
        fail_msg("%s", err.text);
    return table;
}

static ks_csv parsed(const char *text)
{
    return parsed_n(text, strlen(text));
}

static void check_refused(const char *bytes, size_t length, const char *message)
{
    ks_csv table;
    ks_error err = {0};
    assert_int_equal(ks_csv_parse("w.csv", bytes, length, &arena, &table, &err), KS_BAD_INPUT);
    assert_string_equal(err.text, message);
}

/* Rows as "a|b/c|d", the header first. */
static const char *shown(const ks_csv *table)
{
    char *text = ks_arena_take(&arena, 4000, 1);
    for (int i = -1; i < table->n_rows; i++) {
        const ks_csv_row *row = i < 0 ? &table->header : &table->rows[i];
        for (int j = 0; j < row->n; j++) {
            strcat(text, j > 0 ? "|" : i >= 0 ? "/" : "");
            strcat(text, row->cells[j].text);
        }
    }
    return text;
}

/* RFC 4180, section 2: its seven rules, with its own examples. */
static void the_seven_rules_of_rfc_4180_hold(void **state)
{
    (void)state;
    static const struct {
        const char *text, *rows;
    } cases[] = {
        {"aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", "aaa|bbb|ccc/zzz|yyy|xxx"},
        {"aaa,bbb,ccc\r\nzzz,yyy,xxx", "aaa|bbb|ccc/zzz|yyy|xxx"},
        {"field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
         "field_name|field_name|field_name/aaa|bbb|ccc/zzz|yyy|xxx"},
        {"aaa,bbb,ccc\r\n1,,3\r\n,,\r\n", "aaa|bbb|ccc/1||3"},
        {"\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", "aaa|bbb|ccc/zzz|yyy|xxx"},
        {"\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", "aaa|b\r\nbb|ccc/zzz|yyy|xxx"},
        {"\"aaa\",\"b\"\"bb\",\"ccc\"", "aaa|b\"bb|ccc"},
        {"\"a,b\",\"\",\"\"\"\"\r\n", "a,b||\""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ks_csv table = parsed(cases[i].text);
        assert_string_equal(shown(&table), cases[i].rows);
        assert_int_equal(table.separator, ',');
        assert_false(table.decimal_comma);
        assert_string_equal(table.warning, "");
    }
}

static void what_spreadsheets_write_is_read(void **state)
{
    (void)state;
    static const struct {
        const char *text, *rows;
        char separator;
    } cases[] = {
        {"a;b\n1,5;2\n", "a|b/1,5|2", ';'},
        {"a\tb\n1,5\t2\n", "a|b/1,5|2", '\t'},
        {"a\tb\n\t2\n1\t\n", "a|b/|2/1|", '\t'},
        {"a,b\n1,2\n", "a|b/1|2", ','},
        {"a,b\r1,2\r", "a|b/1|2", ','},
        {"\xEF\xBB\xBF"
         "a;b\n1;2\n",
         "a|b/1|2", ';'},
        {"\n\r\n  \n a , b \n\n1 ,\t2\n,\n\n", "a|b/1|2", ','},
        {"id\nmug\nbowl\n", "id/mug/bowl", ','},
        {"id,height (\")\nmug,4 1/2\"\n", "id|height (\")/mug|4 1/2\"", ','},
        {"id;\"a, b, c\";d\nmug;1;2\n", "id|a, b, c|d/mug|1|2", ';'},
        {"a,b\n1\n1,2,3\n", "a|b/1/1|2|3", ','},
        {"a,b\n  \"x\"  , y\n", "a|b/x|y", ','},
        {"a,b\n5\",6'\n", "a|b/5\"|6'", ','},
        {"a,b\n\"5\"\"\",x\"y\"z\n", "a|b/5\"|x\"y\"z", ','},
        {"sep=;\r\na,b;c\r\n1;2\r\n", "a,b|c/1|2", ';'},
        {"\xEF\xBB\xBF"
         "\"SEP=;\"\na,b,c;d\n1;2\n",
         "a,b,c|d/1|2", ';'},
        {"sep=\t\na\tb\n", "a|b", '\t'},
        {"sep=|\na,x|b\n", "a,x|b", '|'},
        {"sep=;,b\n1,2\n", "sep=;|b/1|2", ','},
        {"a\u00A0,\u00A0b \u00A0\n1,c\u00A0d\u00A0\u00A0\n", "a|b/1|c\u00A0d", ','},
        {"a,b\n\"x\ny\r\nz\rw\",2\n", "a|b/x\ny\r\nz\rw|2", ','},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ks_csv table = parsed(cases[i].text);
        assert_string_equal(shown(&table), cases[i].rows);
        assert_int_equal(table.separator, cases[i].separator);
        assert_int_equal(table.decimal_comma, cases[i].separator != ',');
    }
}

static void a_separator_line_counts_as_a_line(void **state)
{
    (void)state;
    ks_csv table = parsed("sep=;\nid;\"a\r\nb\"\nmug;1\n");
    assert_int_equal(table.header.line, 2);
    assert_int_equal(table.rows[0].line, 4);
}

static void cells_know_where_they_stand(void **state)
{
    (void)state;
    ks_csv table = parsed("id,name\r\n\r\nmug,\"two\r\nlines\", \xC3\xA9\xC3\xA9,x\r\nbowl,b\r\n");
    assert_int_equal(table.n_rows, 2);
    assert_int_equal(table.rows[0].line, 3);
    assert_int_equal(table.rows[0].cells[1].column, 5);
    assert_int_equal(table.rows[0].cells[2].line, 4);
    assert_int_equal(table.rows[0].cells[2].column, 9);
    assert_int_equal(table.rows[0].cells[3].column, 12);
    assert_int_equal(table.rows[1].line, 5);
}

static void other_encodings_are_understood(void **state)
{
    (void)state;
    ks_csv little = parsed_n("\xFF\xFE"
                             "a\0;\0\xE9\0\n\0=\xD8\0\xDE;\0\x31\0",
                             18);
    assert_string_equal(shown(&little), "a|\xC3\xA9/\xF0\x9F\x98\x80|1");
    ks_csv big = parsed_n("\xFE\xFF\0a\0;\0\xE9\0\n\0x\0;\0\x31", 16);
    assert_string_equal(shown(&big), "a|\xC3\xA9/x|1");
    ks_csv old = parsed("name;price\nCaf\xE9;5 \x80\n");
    assert_string_equal(shown(&old), "name|price/Caf\xC3\xA9|5 \xE2\x82\xAC");
    assert_string_equal(old.warning, "w.csv is not UTF-8; its letters were taken as Windows-1252");
}

static void what_is_no_table_is_refused_with_its_place(void **state)
{
    (void)state;
    static const struct {
        const char *bytes;
        size_t length;
        const char *message;
    } cases[] = {
        {"", 0, "w.csv:1:1: found no header row; name the columns in the first"},
        {"\n , ,\n\n", 7, "w.csv:4:1: found no header row; name the columns in the first"},
        {"a,b\n1,\"x\n2,3\n", 13,
         "w.csv:2:3: found a quote \" that is never closed; close it, or take it away"},
        {"a,b\n\"x\"y,2\n", 11,
         "w.csv:2:4: found text behind a closed quote; write a quote within quotes twice"},
        {"a,b\n1,\x01\n", 8, "w.csv:2:3: found a control character; save the table as CSV"},
        {"a,b\n1\0,2\n", 9,
         "w.csv:2: found the byte 0x00, which is no letter; save the table as UTF-8"},
        {"a,b\nCaf\x81,2\n", 12,
         "w.csv:2: found the byte 0x81, which is no letter; save the table as UTF-8"},
        {"\xFF\xFE"
         "a\0\n\0b",
         7, "w.csv:2: found broken UTF-16; save the table as UTF-8"},
        {"\xFE\xFF\xDC\0", 4, "w.csv:1: found broken UTF-16; save the table as UTF-8"},
        {"\xFE\xFF\xD8\0\0a", 6, "w.csv:1: found broken UTF-16; save the table as UTF-8"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        check_refused(cases[i].bytes, cases[i].length, cases[i].message);
}

static void the_limits_hold_and_are_told(void **state)
{
    (void)state;
    char *wide = ks_arena_take(&arena, 5002, 1);
    memset(wide, ',', 1000);
    wide[1000] = 'x';
    check_refused(wide, 1001,
                  "w.csv:1:1000: found more than 1000 cells in a row; take the empty columns away");
    memset(wide, 'x', 5000);
    check_refused(wide, 5000, "w.csv:1:1: found a cell of more than 4096 bytes; make it shorter");
    wide[0] = '"';
    check_refused(wide, 5000,
                  "w.csv:1:1: found a cell of more than 4096 bytes; a quote \" may be missing");
    char *large = ks_arena_take(&arena, KS_CSV_LARGEST + 1, 1);
    check_refused(large, KS_CSV_LARGEST + 1, "w.csv: found more than 8 MiB; split the table");
}

static const char good[] = "id;name;height (in);count;price\r\n"
                           "mug;\"blue \"\"sky\"\"\";4 1/2\";12;11,50\r\n"
                           "\r\nbowl;\"two\r\nlines\";3\";;\r\ncaf\xC3\xA9;;;1;\r\n";

static void a_table_with_any_byte_changed_is_read_or_refused(void **state)
{
    (void)state;
    ks_random random = ks_random_of(4180, 0);
    int taken = 0, total = 20000;
    for (int i = 0; i < total; i++) {
        char changed[sizeof good];
        memcpy(changed, good, sizeof good);
        changed[ks_random_below(&random, sizeof good - 1)] = (char)ks_random_below(&random, 256);
        ks_csv table;
        ks_error err = {0};
        ks_status status = ks_csv_parse("w.csv", changed, sizeof good - 1, &arena, &table, &err);
        for (int row = 0; status == KS_OK && row < table.n_rows; row++)
            for (int cell = 0; cell < table.rows[row].n; cell++)
                assert_true(strlen(table.rows[row].cells[cell].text) < sizeof good * 2);
        if (status)
            assert_true(strncmp(err.text, "w.csv:", 6) == 0 && err.count == 1);
        taken += !status;
        ks_arena_finish(&arena);
    }
    assert_true(taken > total / 2 && taken < total);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(the_seven_rules_of_rfc_4180_hold, freed),
        cmocka_unit_test_teardown(what_spreadsheets_write_is_read, freed),
        cmocka_unit_test_teardown(a_separator_line_counts_as_a_line, freed),
        cmocka_unit_test_teardown(cells_know_where_they_stand, freed),
        cmocka_unit_test_teardown(other_encodings_are_understood, freed),
        cmocka_unit_test_teardown(what_is_no_table_is_refused_with_its_place, freed),
        cmocka_unit_test_teardown(the_limits_hold_and_are_told, freed),
        cmocka_unit_test_teardown(a_table_with_any_byte_changed_is_read_or_refused, freed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
