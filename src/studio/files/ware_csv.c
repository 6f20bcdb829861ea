#include "studio/files/order_file.h"
#include "base/language.h"
#include "studio/files/sizing.h"
#include "studio/reading/ware_cells.h"
#include "studio/files/ware_columns.h"
#include "studio/files/ware_table.h"

#include "base/data/csv.h"
#include "base/fold.h"
#include "base/rational.h"
#include "base/text.h"
#include "base/unit_names.h"
#include "base/words.h"

#include <string.h>

typedef struct {
    ks_reading *reading;
    const ks_csv *csv;
    ks_column_heading heading;
    ks_text passed_over; /* what rows that are no ware say: `"Total", "Anna's shelf"` */
    int n_passed_over;
    bool points_are_decimal;
    bool *mixed_told; /* of each column: that its bare numbers are in doubt has been told */
} sheet;

static ks_error *errors_of(const sheet *csv)
{
    return csv->reading->fields.err;
}

static const ks_told_column *column_of(const sheet *csv, int i)
{
    return i < csv->heading.n && csv->heading.told[i].key ? &csv->heading.told[i] : NULL;
}

/* The sizes of the body, which are measured together. */
static bool is_size(const ks_told_column *told)
{
    return told && ks_word_among(told->key, "diameter|width|depth|height|foot");
}

/* The unit that a cell carries, its own or the heading's; NULL = a bare number. */
static const ks_unit *unit_carried(const ks_csv_cell *cell, const ks_told_column *told)
{
    const char *at = cell->text;
    ks_rational number;
    if (ks_rational_read(&at, &number) != NULL)
        return NULL;
    const ks_unit *own = ks_unit_take(KS_LENGTH, &at);
    return own ? own : ks_unit_named(KS_LENGTH, told->unit);
}

/* The first size of the row in another unit than the order's; NULL = none. */
static const ks_csv_cell *in_another_unit(const sheet *csv, const ks_csv_row *row)
{
    const ks_unit *bare = ks_unit_named(KS_LENGTH, csv->reading->fields.units.length);
    for (int i = 0; bare && i < row->n; i++) {
        const ks_told_column *told = column_of(csv, i);
        const ks_unit *carried = NULL;
        if (is_size(told))
            carried = unit_carried(&row->cells[i], told);
        if (carried && carried != bare)
            return &row->cells[i];
    }
    return NULL;
}

static bool is_bare(const ks_csv_cell *cell, const ks_told_column *told)
{
    double number;
    return !told->unit && ks_number_parse(cell->text, &number) == NULL;
}

/* A bare number beside a length in another unit could be meant in either. */
static void mix_check(sheet *csv, const ks_csv_row *row)
{
    const ks_csv_cell *other = in_another_unit(csv, row);
    for (int i = 0; other && i < row->n; i++) {
        const ks_told_column *told = column_of(csv, i);
        if (!is_size(told) || !is_bare(&row->cells[i], told))
            continue;
        const ks_csv_cell *cell = &row->cells[i];
        const char *heading = csv->heading.last->cells[other - row->cells].text;
        bool by_heading = column_of(csv, (int)(other - row->cells))->unit != NULL;
        if (by_heading && csv->mixed_told[i])
            errors_of(csv)->count++;
        else
            ks_fail(errors_of(csv), KS_BAD_INPUT,
                    "%s:%d:%d: found \"%.30s\" without a unit beside \"%.40s\"; it could be that "
                    "unit or the order's (%s): write the unit to it%s",
                    csv->csv->file, cell->line, cell->column, cell->text,
                    by_heading ? heading : other->text, csv->reading->fields.units.length,
                    by_heading ? ", or to its heading" : "");
        csv->mixed_told[i] = by_heading;
    }
}

static void check_either_way(const sheet *csv, const ks_csv_cell *cell, ks_cell_sort sort)
{
    bool number = sort == KS_CELL_NUMBER || sort == KS_CELL_LENGTH || sort == KS_CELL_MASS ||
                  sort == KS_CELL_HANDLE || sort == KS_CELL_PROFILE || sort == KS_CELL_SIZE ||
                  sort == KS_CELL_LABOUR;
    if (number && csv->csv->decimal_comma && !csv->points_are_decimal &&
        ks_cell_has_thousands_point(cell->text))
        ks_fail(errors_of(csv), KS_BAD_INPUT,
                "%s:%d:%d: found \"%.60s\"; in a table parted by %s a point before three digits "
                "could mean either: write 1,25 or 1250",
                csv->csv->file, cell->line, cell->column, cell->text,
                csv->csv->separator == '\t' ? "tabs" : "semicolons");
}

static void add_cell(sheet *csv, ks_json *row, const ks_csv_cell *cell, const ks_told_column *told)
{
    ks_arena *arena = csv->reading->fields.arena;
    check_either_way(csv, cell, told->sort);
    if (told->step) {
        const char *time = ks_cell_with_unit(cell->text, told->unit, arena);
        ks_cell_labour_step(row, told->step, time, cell->line, cell->column, arena);
        return;
    }
    ks_json *node = ks_json_cell(row, told->key, cell->text, cell->line, cell->column);
    switch (told->sort) {
    case KS_CELL_TEXT:
    case KS_CELL_NUMBER:
        break;
    case KS_CELL_LENGTH:
        node->text = ks_cell_with_unit(ks_cell_of_diameter(cell->text), told->unit, arena);
        break;
    case KS_CELL_MASS:
        node->text = ks_cell_with_unit(cell->text, told->unit, arena);
        break;
    case KS_CELL_HANDLE:
        ks_cell_as_handle(node, told->unit, &csv->reading->fields);
        break;
    case KS_CELL_PROFILE:
        ks_cell_as_profile(node, told->unit, &csv->reading->fields);
        break;
    case KS_CELL_LIST:
        ks_cell_as_list(node, ",;|+", arena);
        break;
    case KS_CELL_CONES:
        if (ks_cone_rank(cell->text) < 0)
            ks_cell_as_list(node, "-", arena);
        break;
    case KS_CELL_SIZE:
        node->text = ks_size_with_unit(cell->text, told->unit, arena);
        break;
    case KS_CELL_STAGE:
        node->text = ks_cell_stage(cell->text, arena);
        break;
    case KS_CELL_LABOUR:
        ks_cell_as_labour(node, told->unit, &csv->reading->fields);
    }
}

/* Tabs part tables of either manner: "3.75" in any cell shows that its points are decimal. */
static bool has_decimal_points(const ks_csv *table)
{
    for (int i = 0; i < table->n_rows; i++)
        for (int j = 0; j < table->rows[i].n; j++) {
            const char *text = table->rows[i].cells[j].text;
            double number;
            if (strchr(text, '.') && !ks_cell_has_thousands_point(text) &&
                ks_number_parse(text, &number) == NULL)
                return true;
        }
    return false;
}

/* Its first cell that says anything, and how many do. */
static const ks_csv_cell *fill_first(const ks_csv_row *row, int *n)
{
    const ks_csv_cell *first = NULL;
    *n = 0;
    for (int i = 0; i < row->n; i++)
        if (*row->cells[i].text && (*n)++ == 0)
            first = &row->cells[i];
    return first;
}

static bool tells_size(const sheet *csv, const ks_csv_row *row)
{
    for (int i = 0; i < row->n; i++) {
        const ks_told_column *told = column_of(csv, i);
        if (told && *row->cells[i].text && ks_column_tells_size(told->key))
            return true;
    }
    return false;
}

/* The heading again, as at the top of each printed page. */
static bool is_heading(const sheet *csv, const ks_csv_row *row)
{
    const ks_csv_row *heading = csv->heading.last;
    for (int i = 0; i < row->n; i++)
        if (strcmp(row->cells[i].text, i < heading->n ? heading->cells[i].text : "") != 0)
            return false;
    return true;
}

static bool is_sum(const char *text, ks_arena *arena)
{
    const char *word = ks_text_plain(text, arena);
    size_t length = strcspn(word, ": ");
    return ks_word_among(ks_arena_text_n(arena, word, length),
                         "total|totals|sum|subtotal|sub-total|gesamt|summe|zwischensumme|totaal|"
                         "totale|totaux|suma|somme|\u03A3");
}

/* A title, a note, a sum, a heading again: rows that people put among the ware. A row with anything
 * else that does not tell its size is ware whose size is missing. */
static bool is_no_ware(const sheet *csv, const ks_csv_row *row)
{
    int n;
    const ks_csv_cell *first = fill_first(row, &n);
    if (is_heading(csv, row))
        return true;
    if (tells_size(csv, row))
        return false;
    return n == 1 || is_sum(first->text, csv->reading->fields.arena);
}

static void row_passed_over(sheet *csv, const ks_csv_row *row)
{
    int n;
    const ks_csv_cell *first = fill_first(row, &n);
    csv->n_passed_over++;
    ks_text_print(&csv->passed_over, "%sline %d (\"%.40s\")", csv->n_passed_over > 1 ? ", " : "",
                  row->line, ks_text_plain(first->text, csv->reading->fields.arena));
}

/* Its id, else its name, else its line. */
static const char *called_by(const sheet *csv, const ks_csv_row *row)
{
    const char *name = "";
    for (int i = 0; i < row->n; i++) {
        const ks_told_column *told = column_of(csv, i);
        if (told && strcmp(told->key, "id") == 0 && *row->cells[i].text)
            return row->cells[i].text;
        if (told && strcmp(told->key, "name") == 0)
            name = row->cells[i].text;
    }
    return *name ? name : ks_arena_print(csv->reading->fields.arena, "line-%d", row->line);
}

/* The row as an object that stands in `whole`, so that messages name it; NULL after noting what is
 * wrong with its cells. */
static ks_json *row_node(sheet *csv, const ks_csv_row *row, const ks_json *whole)
{
    int before = errors_of(csv)->count;
    ks_json *node =
        ks_json_row(csv->csv->file, row->line, csv->heading.n + 1, csv->reading->fields.arena);
    node->key = called_by(csv, row);
    node->parent = whole;
    mix_check(csv, row);
    for (int i = 0; i < row->n; i++) {
        const ks_told_column *told = column_of(csv, i);
        if (*row->cells[i].text && i >= csv->heading.n)
            ks_fail(errors_of(csv), KS_BAD_INPUT,
                    "%s:%d:%d: found \"%.60s\" beyond the last column of the header; quote cells "
                    "that hold a separator",
                    csv->csv->file, row->cells[i].line, row->cells[i].column, row->cells[i].text);
        else if (*row->cells[i].text && told)
            add_cell(csv, node, &row->cells[i], told);
    }
    return errors_of(csv)->count == before ? node : NULL;
}

static void read_rows(sheet *csv, const ks_json *whole, const ks_json *named_at,
                      ks_ware_nodes *rows)
{
    ks_arena *arena = csv->reading->fields.arena;
    const ks_csv *table = csv->csv;
    int ware = 0;
    for (int i = 0; i < table->n_rows; i++) {
        const ks_csv_row *row = &table->rows[i];
        if (row->line <= csv->heading.last->line)
            continue;
        if (is_no_ware(csv, row)) {
            row_passed_over(csv, row);
            continue;
        }
        ware++;
        rows->nodes = KS_GROW(arena, rows->nodes, rows->n, &rows->room, const ks_json *);
        ks_json *node = row_node(csv, row, whole);
        if (!node)
            continue;
        rows->nodes[rows->n++] = node;
        if (ks_json_get(node, "id"))
            continue;
        rows->unnamed =
            KS_GROW(arena, rows->unnamed, rows->n_unnamed, &rows->unnamed_room, ks_json *);
        rows->unnamed[rows->n_unnamed++] = node;
    }
    if (csv->n_passed_over > 0)
        ks_warn(csv->reading, named_at,
                ks_tr_count(csv->n_passed_over,
                            "in %s %s is passed over as no ware: a title, a note or a sum",
                            "in %s %s are passed over as no ware: a title, a note or a sum"),
                table->file, ks_text_end(&csv->passed_over));
    if (ware == 0)
        ks_fail(errors_of(csv), KS_BAD_INPUT,
                "%s:%d:1: found a heading, but no ware below it; write a row for each kind",
                table->file, csv->heading.last->line);
}

static void keep_table(ks_reading *reading, const struct ks_ware_table *table)
{
    ks_order *order = reading->order;
    order->tables = KS_GROW(reading->fields.arena, order->tables, order->n_tables,
                            &reading->tables_room, struct ks_ware_table);
    order->tables[order->n_tables++] = *table;
}

bool ks_ware_csv_rows(ks_reading *reading, const char *path, const ks_json *named_at,
                      ks_ware_nodes *rows)
{
    ks_bytes bytes;
    ks_arena *arena = reading->fields.arena;
    ks_csv *table = KS_TAKE(arena, 1, ks_csv);
    ks_error *err = reading->fields.err;
    if (ks_file_read(path, KS_CSV_LARGEST, arena, &bytes, err) ||
        ks_csv_parse(path, bytes.bytes, bytes.length, arena, table, err))
        return false;
    sheet csv = {.reading = reading, .csv = table, .passed_over.arena = arena};
    if (*table->warning)
        ks_warn(reading, named_at, "%s: %s", table->file, table->warning);
    if (!ks_heading_read(reading, table, named_at, &csv.heading))
        return false;
    csv.points_are_decimal = table->separator == '\t' && has_decimal_points(table);
    csv.mixed_told = KS_TAKE(arena, csv.heading.n, bool);
    int first = rows->n;
    read_rows(&csv, ks_json_row(table->file, 1, 0, arena), named_at, rows);
    keep_table(reading,
               &(struct ks_ware_table){path, bytes, table, csv.heading, first, rows->n - first});
    return true;
}
