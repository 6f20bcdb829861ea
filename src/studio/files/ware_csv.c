#include "studio/files/order_file.h"
#include "studio/files/ware_cells.h"

#include "base/csv.h"
#include "base/text.h"

#include <string.h>

enum { MOST_COLUMNS = 200 };

/* How a cell is understood. */
typedef enum { AS_TEXT, AS_LENGTH, AS_MASS, AS_HANDLE, AS_PROFILE, AS_LIST, AS_CONES } cell_sort;

/* What headers may call a column: its key in JSON, first word first, letter case and _ aside. */
static const struct {
    const char *key;
    cell_sort sort;
    const char *names; /* "a|b" */
} columns[] = {
    {"id", AS_TEXT, "id|piece|piece id|no|no.|#"},
    {"name", AS_TEXT, "name|description|what"},
    {"owner", AS_TEXT, "owner|member|maker|potter|who"},
    {"count", AS_TEXT, "count|quantity|qty|copies|how many"},
    {"stage", AS_TEXT, "stage|state"},
    {"role", AS_TEXT, "role"},
    {"pose", AS_TEXT, "pose"},
    {"clay", AS_TEXT, "clay|body|clay body"},
    {"glaze", AS_LIST, "glaze|glazes"},
    {"diameter", AS_LENGTH, "diameter|dia|dia.|width across"},
    {"width", AS_LENGTH, "width"},
    {"depth", AS_LENGTH, "depth|length"},
    {"height", AS_LENGTH, "height|tall"},
    {"corner", AS_LENGTH, "corner"},
    {"foot", AS_LENGTH, "foot|foot diameter|base"},
    {"handle", AS_HANDLE, "handle"},
    {"spout", AS_HANDLE, "spout"},
    {"profile", AS_PROFILE, "profile"},
    {"mass", AS_MASS, "mass|weight"},
    {"wet_ball", AS_MASS, "wet ball|ball|wet weight|clay weight"},
    {"wall", AS_LENGTH, "wall|wall thickness"},
    {"price", AS_TEXT, "price"},
    {"must_go", AS_TEXT, "must go|must"},
    {"wait", AS_TEXT, "wait|hold back"},
    {"set", AS_TEXT, "set"},
    {"due", AS_TEXT, "due|due date|deadline"},
    {"tags", AS_LIST, "tags|tag"},
    {"cones", AS_CONES, "cones|cone"},
    {"atmosphere", AS_TEXT, "atmosphere"},
    {"schedule", AS_TEXT, "schedule"},
    {"around", AS_LENGTH, "around|clearance"},
    {"runny", AS_TEXT, "runny|runs"},
    {"glazed", AS_TEXT, "glazed"},
    {"earlier_firings", AS_TEXT, "earlier firings"},
    {"turn", AS_TEXT, "turn"},
};
enum { N_COLUMNS = sizeof columns / sizeof columns[0] };

/* A column of the file at hand: into `columns`, -1 = passed over. */
typedef struct {
    int column;
    const char *unit; /* from the header, NULL = none */
} told_column;

typedef struct {
    ks_reading *reading;
    const ks_csv *csv;
    const ks_json *named_at; /* the order's mention of the file */
    told_column told[MOST_COLUMNS];
    int n;
} sheet;

static ks_error *errors_of(const sheet *csv)
{
    return csv->reading->fields.err;
}

static bool among(const char *names, const char *word)
{
    size_t length = strlen(word);
    for (const char *at = names; *at;) {
        size_t name = strcspn(at, "|");
        if (name == length && memcmp(at, word, length) == 0)
            return true;
        at += name + (at[name] == '|');
    }
    return false;
}

/* "Height (IN)" into "height" and "in"; the unit is NULL where there is none. */
static const char *header_word(const char *text, const char **unit, ks_arena *arena)
{
    char *word = ks_arena_text(arena, text);
    *unit = NULL;
    size_t open = strcspn(word, "([");
    if (word[open]) {
        char *inside = word + open + 1;
        inside[strcspn(inside, ")]")] = '\0';
        *unit = inside;
        word[open] = '\0';
    }
    size_t length = strlen(word);
    while (length > 0 && word[length - 1] == ' ')
        word[--length] = '\0';
    for (char *at = word; *at; at++)
        *at = *at == '_' ? ' ' : *at >= 'A' && *at <= 'Z' ? (char)(*at + 'a' - 'A') : *at;
    return word;
}

/* Only what is a slip of the hand away: other columns of a studio's sheet are none of ours. */
static const char *nearest_column(const char *word)
{
    int most = strlen(word) >= 6 ? 2 : 1;
    for (int i = 0; i < N_COLUMNS; i++)
        if (ks_edit_distance(word, columns[i].key) <= most)
            return columns[i].key;
    return NULL;
}

static void unknown_column(sheet *csv, const ks_csv_cell *cell, const char *word)
{
    const char *nearest = nearest_column(word);
    if (nearest)
        ks_fail(errors_of(csv), KS_BAD_INPUT,
                "%s:%d:%d: found the column \"%.60s\"; the nearest known is \"%s\"", csv->csv->file,
                cell->line, cell->column, cell->text, nearest);
    else
        ks_warn(csv->reading, csv->named_at, "the column \"%.60s\" of %s is not used", cell->text,
                csv->csv->file);
}

static void unit_checked(sheet *csv, const ks_csv_cell *cell, told_column told)
{
    cell_sort sort = columns[told.column].sort;
    bool mass = sort == AS_MASS;
    bool measured = mass || sort == AS_LENGTH || sort == AS_HANDLE || sort == AS_PROFILE;
    if (!told.unit || !measured || ks_unit_known(mass ? KS_MASS : KS_LENGTH, told.unit))
        return;
    ks_fail(errors_of(csv), KS_BAD_INPUT, "%s:%d:%d: found the unit \"%.20s\"; %s is known",
            csv->csv->file, cell->line, cell->column, told.unit,
            mass ? "kg, g, lb or oz" : "mm, cm, m, in or ft");
}

static told_column column_of(sheet *csv, const ks_csv_cell *cell)
{
    told_column told = {-1, NULL};
    const char *word = header_word(cell->text, &told.unit, csv->reading->fields.arena);
    for (int i = 0; i < N_COLUMNS && told.column < 0; i++)
        if (among(columns[i].names, word))
            told.column = i;
    if (told.column < 0 && *word)
        unknown_column(csv, cell, word);
    if (told.column >= 0)
        unit_checked(csv, cell, told);
    return told;
}

static void header_read(sheet *csv)
{
    const ks_csv_row *header = &csv->csv->header;
    csv->n = header->n < MOST_COLUMNS ? header->n : MOST_COLUMNS;
    for (int i = 0; i < csv->n; i++) {
        csv->told[i] = column_of(csv, &header->cells[i]);
        for (int j = 0; j < i && csv->told[i].column >= 0; j++)
            if (csv->told[j].column == csv->told[i].column)
                ks_fail(errors_of(csv), KS_BAD_INPUT,
                        "%s:%d:%d: found \"%.60s\", but an earlier column already tells the %s",
                        csv->csv->file, header->cells[i].line, header->cells[i].column,
                        header->cells[i].text, columns[csv->told[i].column].key);
    }
}

static void cell_added(sheet *csv, ks_json *row, const ks_csv_cell *cell, told_column told)
{
    ks_arena *arena = csv->reading->fields.arena;
    const char *key = columns[told.column].key;
    ks_json *node = ks_json_cell(row, key, cell->text, cell->line, cell->column);
    switch (columns[told.column].sort) {
    case AS_TEXT:
        break;
    case AS_LENGTH:
    case AS_MASS:
        node->text = ks_cell_with_unit(cell->text, told.unit, arena);
        break;
    case AS_HANDLE:
        ks_cell_as_handle(node, told.unit, &csv->reading->fields);
        break;
    case AS_PROFILE:
        ks_cell_as_profile(node, told.unit, &csv->reading->fields);
        break;
    case AS_LIST:
        ks_cell_as_list(node, ",;|+", arena);
        break;
    case AS_CONES:
        if (ks_cone_rank(cell->text) < 0)
            ks_cell_as_list(node, "-", arena);
    }
}

static const char *text_under(const sheet *csv, const ks_csv_row *row, const char *key)
{
    for (int i = 0; i < row->n && i < csv->n; i++)
        if (csv->told[i].column >= 0 && strcmp(columns[csv->told[i].column].key, key) == 0)
            return row->cells[i].text;
    return "";
}

/* A sheet without ids calls each row by its name, or by its line. */
static const char *id_of(const sheet *csv, const ks_csv_row *row)
{
    const char *id = text_under(csv, row, "id"), *name = text_under(csv, row, "name");
    if (*id || *name)
        return *id ? id : name;
    return ks_arena_print(csv->reading->fields.arena, "line-%d", row->line);
}

/* The row as an object that stands in `whole` by its id, so that messages name it; NULL after
 * noting what is wrong with its cells. */
static const ks_json *row_node(sheet *csv, const ks_csv_row *row, const ks_json *whole)
{
    int before = errors_of(csv)->count;
    ks_json *node = ks_json_row(csv->csv->file, row->line, csv->n + 1, csv->reading->fields.arena);
    node->key = id_of(csv, row);
    node->parent = whole;
    for (int i = 0; i < row->n; i++) {
        if (!*row->cells[i].text)
            continue;
        if (i >= csv->n)
            ks_fail(errors_of(csv), KS_BAD_INPUT,
                    "%s:%d:%d: found \"%.60s\" beyond the last column of the header; quote cells "
                    "that hold a separator",
                    csv->csv->file, row->cells[i].line, row->cells[i].column, row->cells[i].text);
        else if (csv->told[i].column >= 0)
            cell_added(csv, node, &row->cells[i], csv->told[i]);
    }
    if (!ks_json_get(node, "id"))
        ks_json_cell(node, "id", node->key, row->line, 1);
    return errors_of(csv)->count == before ? node : NULL;
}

bool ks_ware_csv_rows(ks_reading *reading, const char *path, const ks_json *named_at,
                      ks_ware_nodes *rows)
{
    ks_csv table;
    if (ks_csv_read(path, reading->fields.arena, &table, reading->fields.err) != KS_OK)
        return false;
    sheet csv = {.reading = reading, .csv = &table, .named_at = named_at};
    ks_json *whole = ks_json_row(table.file, 1, 0, reading->fields.arena);
    int before = reading->fields.err->count;
    if (*table.warning)
        ks_warn(reading, named_at, "%s: %s", table.file, table.warning);
    header_read(&csv);
    if (reading->fields.err->count > before)
        return false;
    for (int i = 0; i < table.n_rows; i++) {
        rows->nodes =
            KS_GROW(reading->fields.arena, rows->nodes, rows->n, &rows->room, const ks_json *);
        const ks_json *node = row_node(&csv, &table.rows[i], whole);
        if (node)
            rows->nodes[rows->n++] = node;
    }
    return true;
}
