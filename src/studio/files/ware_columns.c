#include "studio/files/ware_columns.h"

#include "base/fold.h"
#include "base/language.h"
#include "base/text.h"
#include "base/words.h"

#include <string.h>

enum { MOST_WORDS = 200, TITLE_ROWS = 10 };

/* The key in JSON, and what headings may call it, in the form of ks_text_plain. */
static const struct {
    const char *key;
    ks_cell_sort sort;
    const char *names; /* "a|b" */
} columns[] = {
    {"id", KS_CELL_TEXT, "id|piece|piece id|no|no.|nr|nr.|#"},
    {"name", KS_CELL_TEXT, "name|description|what|item|form"},
    {"owner", KS_CELL_TEXT, "owner|member|maker|potter|who"},
    {"count", KS_CELL_NUMBER, "count|quantity|qty|qty.|copies|how many|pcs"},
    {"stage", KS_CELL_STAGE, "stage|state"},
    {"role", KS_CELL_TEXT, "role"},
    {"pose", KS_CELL_TEXT, "pose"},
    {"clay", KS_CELL_TEXT, "clay|body|clay body"},
    {"glaze", KS_CELL_LIST, "glaze|glazes"},
    {"size", KS_CELL_SIZE, "size|sizes|dimensions|measurements"},
    {"shape", KS_CELL_TEXT, "shape"},
    {"diameter", KS_CELL_LENGTH,
     "diameter|dia|dia.|diam|diam.|d|d.|width across|across|\u00F8|\u2300"},
    {"width", KS_CELL_LENGTH, "width|w"},
    {"depth", KS_CELL_LENGTH, "depth|length|l"},
    {"height", KS_CELL_LENGTH, "height|tall|h|ht|ht."},
    {"corner", KS_CELL_LENGTH, "corner"},
    {"foot", KS_CELL_LENGTH, "foot|foot diameter|base"},
    {"handle", KS_CELL_HANDLE, "handle|handles"},
    {"spout", KS_CELL_HANDLE, "spout"},
    {"profile", KS_CELL_PROFILE, "profile"},
    {"mass", KS_CELL_MASS, "mass|weight"},
    {"wet_ball", KS_CELL_MASS, "wet ball|ball|wet weight|clay weight"},
    {"weighed", KS_CELL_MASS, "weighed"},
    {"weighed_again", KS_CELL_MASS, "weighed again|weighed a day later"},
    {"wall", KS_CELL_LENGTH, "wall|wall thickness"},
    {"price", KS_CELL_NUMBER, "price"},
    {"labour", KS_CELL_LABOUR, "labour|labor|work|work time|making time"},
    {"must_go", KS_CELL_TEXT, "must go|must"},
    {"wait", KS_CELL_TEXT, "wait|hold back"},
    {"waited", KS_CELL_NUMBER, "waited|left out"},
    {"set", KS_CELL_TEXT, "set"},
    {"due", KS_CELL_TEXT, "due|due date|deadline"},
    {"tags", KS_CELL_LIST, "tags|tag"},
    {"cones", KS_CELL_CONES, "cones|cone"},
    {"atmosphere", KS_CELL_TEXT, "atmosphere"},
    {"schedule", KS_CELL_TEXT, "schedule"},
    {"around", KS_CELL_LENGTH, "around|clearance"},
    {"dries_in_kiln", KS_CELL_TEXT, "dries in kiln"},
    {"runny", KS_CELL_TEXT, "runny|runs"},
    {"glazed", KS_CELL_TEXT, "glazed"},
    {"earlier_firings", KS_CELL_NUMBER, "earlier firings"},
    {"turn", KS_CELL_TEXT, "turn"},
    {"stack", KS_CELL_LIST, "stack|stacked|stacks"},
    {"lid_of", KS_CELL_TEXT, "lid of"},
    {"floor", KS_CELL_LENGTH, "floor|floor thickness"},
    {"closed", KS_CELL_TEXT, "closed"},
    {"keep", KS_CELL_TEXT, "keep|level"},
};
enum { N_COLUMNS = sizeof columns / sizeof columns[0] };
static const char passed_over[] = "none";

static const char *spaced(const char *key, ks_arena *arena)
{
    char *words = ks_arena_text(arena, key);
    for (char *at = words; *at; at++)
        *at = *at == '_' ? ' ' : *at;
    return words;
}

/* The column of that key, `must_go` or `must go`; -1 = none. */
static int column_keyed(const char *word, ks_arena *arena)
{
    for (int i = 0; i < N_COLUMNS; i++)
        if (strcmp(spaced(columns[i].key, arena), spaced(ks_text_plain(word, arena), arena)) == 0)
            return i;
    return -1;
}

static void add_word(ks_reading *reading, const char *heading, int column)
{
    ks_arena *arena = reading->fields.arena;
    reading->columns =
        KS_GROW(arena, reading->columns, reading->n_columns, &reading->columns_room, ks_own_column);
    reading->columns[reading->n_columns++] = (ks_own_column){ks_text_plain(heading, arena), column};
}

/* A column's key, or "none"; false if it is neither. */
static bool key_known(const char *key, ks_arena *arena, int *column)
{
    *column = column_keyed(key, arena);
    return *column >= 0 || ks_text_alike(key, passed_over);
}

static const char *tell_keys(ks_arena *arena)
{
    ks_text told = {.arena = arena};
    for (int i = 0; i < N_COLUMNS; i++)
        ks_text_print(&told, "%s, ", spaced(columns[i].key, arena));
    ks_text_add(&told, "or none to pass it over");
    return ks_text_end(&told);
}

ks_status ks_columns_parse(ks_reading *reading, const char *text)
{
    ks_arena *arena = reading->fields.arena;
    for (const char *at = text; *at;) {
        size_t length = strcspn(at, ",");
        const char *pair = ks_arena_text_n(arena, at, length), *equals = strrchr(pair, '=');
        int column = -1;
        if (!equals || equals == pair)
            return ks_fail(reading->fields.err, KS_BAD_USAGE,
                           "--columns: found \"%.60s\"; it takes \"Durchmesser=diameter,…\": a "
                           "heading of the table and what it is here",
                           pair);
        if (!key_known(equals + 1, arena, &column))
            return ks_fail(reading->fields.err, KS_BAD_USAGE,
                           "--columns: found \"%.60s\"; a column is one of %s", equals + 1,
                           tell_keys(arena));
        add_word(reading, ks_arena_text_n(arena, pair, (size_t)(equals - pair)), column);
        at += length + (at[length] == ',');
    }
    return KS_OK;
}

void ks_columns_read(ks_reading *reading, const ks_json *node)
{
    ks_arena *arena = reading->fields.arena;
    if (node && (node->kind != KS_JSON_OBJECT || node->n > MOST_WORDS)) {
        ks_json_fail(node, reading->fields.err,
                     "found %s; write {\"Durchmesser\": \"diameter\", …}, at most %d headings",
                     ks_json_found(node).words, MOST_WORDS);
        return;
    }
    for (int i = 0; node && i < node->n; i++) {
        const ks_json *item = &node->items[i];
        int column = -1;
        if (item->kind != KS_JSON_TEXT || !key_known(item->text, arena, &column))
            ks_json_fail(item, reading->fields.err, "found %s; a column is one of %s",
                         ks_json_found(item).words, tell_keys(arena));
        else
            add_word(reading, item->key, column);
    }
}

typedef struct {
    ks_reading *reading;
    const ks_csv *csv;
    const ks_json *named_at; /* the order's mention of the file */
} table;

/* What a heading says: its word without unit, and the unit. */
typedef struct {
    const char *word, *unit; /* unit NULL = none */
    int column;              /* -1 = not known, or passed over */
    bool passed_over;        /* because the user says so */
} heading_word;

static int column_called(const char *word)
{
    for (int i = 0; i < N_COLUMNS; i++)
        if (ks_word_among(word, columns[i].names))
            return i;
    return -1;
}

static bool looked_up(const ks_reading *reading, const char *text, heading_word *out)
{
    out->word = spaced(ks_text_plain(text, reading->fields.arena), reading->fields.arena);
    for (int i = 0; i < reading->n_columns; i++)
        if (strcmp(spaced(reading->columns[i].heading, reading->fields.arena), out->word) == 0) {
            out->column = reading->columns[i].column;
            out->passed_over = out->column < 0;
            return true;
        }
    out->column = *out->word ? column_called(out->word) : -1;
    return out->column >= 0;
}

static bool is_unit(const char *word)
{
    return ks_unit_known(KS_LENGTH, word) || ks_unit_known(KS_MASS, word) ||
           ks_unit_known(KS_TIME, word);
}

/* "Height (IN)" into "Height" and "IN". */
static bool in_brackets(const char *text, ks_arena *arena, const char **head, const char **unit)
{
    size_t open = strcspn(text, "([");
    if (!text[open])
        return false;
    *head = ks_arena_text_n(arena, text, open);
    *unit = ks_arena_text_n(arena, text + open + 1, strcspn(text + open + 1, ")]"));
    return true;
}

/* In plain words, "height cm", "height, cm", "height/cm", "height in cm": the word before a unit at
 * the end. */
static bool at_the_end(const char *text, ks_arena *arena, const char **head, const char **unit)
{
    size_t length = strlen(text);
    while (length > 0 && !strchr(" ,/:", text[length - 1]))
        length--;
    if (length == 0 || !is_unit(text + length))
        return false;
    *unit = text + length;
    while (length > 0 && strchr(" ,/:", text[length - 1]))
        length--;
    if (length > 3 && strncmp(text + length - 3, " in", 3) == 0)
        length -= 3;
    *head = ks_arena_text_n(arena, text, length);
    return true;
}

/* "Throwing (min)", "Handles (min)": minutes of a piece are a step of its labour. A column that is
 * known by its word and measures something else stays what it is: "height (min)". */
static void minutes_are_labour(heading_word *found)
{
    bool free = found->column < 0 || columns[found->column].sort == KS_CELL_HANDLE;
    if (free && *found->word && found->unit && ks_word_among(found->unit, "min|mins|minutes|min."))
        found->column = column_called("labour");
}

static heading_word heading_of(const ks_reading *reading, const char *text)
{
    ks_arena *arena = reading->fields.arena;
    heading_word found = {.column = -1};
    const char *head, *unit;
    if (looked_up(reading, text, &found))
        return found;
    bool parted = in_brackets(text, arena, &head, &unit);
    if (parted || at_the_end(found.word, arena, &head, &unit)) {
        heading_word inner = {.column = -1};
        if (looked_up(reading, head, &inner) || parted)
            found = inner;
        found.unit = unit;
    }
    if (parted)
        minutes_are_labour(&found);
    return found;
}

/* Only what is a slip of the hand away: other columns of a studio's sheet are none of ours. */
static const char *nearest_column(const char *word, ks_arena *arena)
{
    int most = strlen(word) >= 6 ? 2 : 1;
    for (int i = 0; i < N_COLUMNS; i++)
        if (strlen(word) > 2 && ks_edit_distance(word, spaced(columns[i].key, arena)) <= most)
            return spaced(columns[i].key, arena);
    return NULL;
}

static void check_slip(const table *t, const ks_csv_cell *cell, const char *word)
{
    const char *nearest = nearest_column(word, t->reading->fields.arena);
    if (nearest)
        ks_fail(t->reading->fields.err, KS_BAD_INPUT,
                "%s:%d:%d: found the column \"%.60s\"; the nearest known is \"%s\" (if it is none: "
                "--columns \"%.60s=none\")",
                t->csv->file, cell->line, cell->column, cell->text, nearest, cell->text);
}

static void check_unit(const table *t, const ks_csv_cell *cell, ks_told_column told)
{
    bool mass = told.sort == KS_CELL_MASS, time = told.sort == KS_CELL_LABOUR;
    bool measured = mass || time || told.sort == KS_CELL_LENGTH || told.sort == KS_CELL_HANDLE ||
                    told.sort == KS_CELL_PROFILE || told.sort == KS_CELL_SIZE;
    ks_quantity quantity = mass ? KS_MASS : time ? KS_TIME : KS_LENGTH;
    if (!told.unit || !measured || ks_unit_known(quantity, told.unit))
        return;
    ks_fail(t->reading->fields.err, KS_BAD_INPUT, "%s:%d:%d: found the unit \"%.20s\"; %s is known",
            t->csv->file, cell->line, cell->column, told.unit,
            mass   ? "kg, g, lb or oz"
            : time ? "h, min or s"
                   : "mm, cm, m, in or ft");
}

/* The row above the heading, a title or a heading over several columns; NULL = none. */
static const ks_csv_row *row_above(const ks_csv *csv, const ks_csv_row *row)
{
    if (row == &csv->header)
        return NULL;
    return row == csv->rows ? &csv->header : row - 1;
}

/* "Size (cm)" over several columns tells the unit of each of them: that of the nearest cell to the
 * left in the row above. */
static const char *unit_above(const table *t, const ks_csv_row *row, int at)
{
    ks_arena *arena = t->reading->fields.arena;
    const ks_csv_row *above = row_above(t->csv, row);
    const char *head, *unit;
    int i = above && at < above->n ? at : above ? above->n - 1 : -1;
    while (i >= 0 && !*above->cells[i].text)
        i--;
    if (i < 0)
        return NULL;
    const char *text = above->cells[i].text;
    bool told = in_brackets(text, arena, &head, &unit) ||
                at_the_end(ks_text_plain(text, arena), arena, &head, &unit);
    return told && ks_unit_known(KS_LENGTH, unit) ? unit : NULL;
}

static int known_words(const ks_reading *reading, const ks_csv_row *row)
{
    int n = 0;
    for (int i = 0; i < row->n; i++) {
        heading_word found = heading_of(reading, row->cells[i].text);
        n += found.column >= 0 || found.passed_over;
    }
    return n;
}

/* The first row, or the first of the next in which two columns are known: above it stand titles. */
static const ks_csv_row *heading_row(const table *t)
{
    const ks_csv *csv = t->csv;
    int known = known_words(t->reading, &csv->header);
    if (known > 1 || (known == 1 && csv->header.n < 3))
        return &csv->header;
    for (int i = 0; i < csv->n_rows && i < TITLE_ROWS; i++)
        if (known_words(t->reading, &csv->rows[i]) > 1)
            return &csv->rows[i];
    return known > 0 ? &csv->header : NULL;
}

static bool is_told(const ks_column_heading *heading, const char *keys)
{
    for (int i = 0; i < heading->n; i++)
        if (heading->told[i].key && ks_word_among(heading->told[i].key, keys))
            return true;
    return false;
}

/* "a", "b" and "c": the headings that are not known. */
static const char *tell_unknown(const table *t, const ks_csv_row *row,
                                const ks_column_heading *heading, int *n)
{
    ks_text told = {.arena = t->reading->fields.arena};
    *n = 0;
    for (int i = 0; i < row->n; i++) {
        heading_word found = heading_of(t->reading, row->cells[i].text);
        if (!*row->cells[i].text || found.passed_over || (heading && heading->told[i].key))
            continue;
        if (found.column < 0)
            ks_text_print(&told, "%s\"%.60s\"", ++*n > 1 ? ", " : "",
                          ks_text_plain(row->cells[i].text, t->reading->fields.arena));
    }
    return ks_text_end(&told);
}

static bool refuse_unknown(const table *t, const ks_csv_row *row, const ks_column_heading *heading)
{
    int n;
    const char *unknown = tell_unknown(t, row, heading, &n);
    ks_fail(
        t->reading->fields.err, KS_BAD_INPUT,
        "%s:%d:1: found %s; %s. Say what they are, such as --columns "
        "\"Durchmesser=diameter,Anzahl=count\"; known are %s",
        t->csv->file, row->line,
        n > 0 ? ks_arena_print(t->reading->fields.arena,
                               ks_tr_count(n, "the unknown heading %s", "the unknown headings %s"),
                               unknown)
              : "no heading but names and notes",
        heading ? "no column tells the sizes, or not all of them" : "not one column is known",
        tell_keys(t->reading->fields.arena));
    return false;
}

static void tell_unused(const table *t, const ks_csv_row *row, const ks_column_heading *heading)
{
    int n;
    const char *unknown = tell_unknown(t, row, heading, &n);
    if (n > 0)
        ks_warn(t->reading, t->named_at,
                ks_tr_count(n, "the column %s of %s is not used%s",
                            "the columns %s of %s are not used%s"),
                unknown, t->csv->file,
                is_told(heading, "count")
                    ? ""
                    : "; none tells how many there are: each row is one piece, unless you name it "
                      "with --columns \"HEADING=count\"");
}

static void refuse_twice(const table *t, const ks_csv_row *row, const ks_column_heading *heading,
                         int at)
{
    for (int j = 0; j < at && heading->told[at].key; j++)
        if (heading->told[j].key && strcmp(heading->told[j].key, heading->told[at].key) == 0 &&
            heading->told[at].sort != KS_CELL_LABOUR)
            ks_fail(t->reading->fields.err, KS_BAD_INPUT,
                    "%s:%d:%d: found \"%.60s\", but an earlier column already tells the %s",
                    t->csv->file, row->cells[at].line, row->cells[at].column, row->cells[at].text,
                    heading->told[at].key);
}

bool ks_column_tells_size(const char *key)
{
    return key && ks_word_among(key, "diameter|width|profile|size|shape");
}

/* Whether all of a body can be told by these columns. */
static bool tells_sizes(const ks_column_heading *heading)
{
    return is_told(heading, "size|shape|profile") ||
           (is_told(heading, "diameter|width") && is_told(heading, "height"));
}

/* A column "piece" is the id beside one of names, else the name. */
static void pieces_are_names(const ks_csv_row *row, ks_column_heading *heading,
                             const ks_reading *reading)
{
    int piece = -1;
    for (int i = 0; i < heading->n; i++) {
        if (heading->told[i].key && strcmp(heading->told[i].key, "name") == 0)
            return;
        if (heading->told[i].key && strcmp(heading->told[i].key, "id") == 0 &&
            strcmp(heading_of(reading, row->cells[i].text).word, "piece") == 0)
            piece = i;
    }
    if (piece >= 0)
        heading->told[piece].key = "name";
}

/* A column "d" beside one of widths is the depth, else the diameter. */
static void d_is_depth(const ks_csv_row *row, ks_column_heading *heading, const ks_reading *reading)
{
    if (!is_told(heading, "width") || is_told(heading, "depth"))
        return;
    for (int i = 0; i < heading->n; i++)
        if (heading->told[i].key && strcmp(heading->told[i].key, "diameter") == 0 &&
            ks_word_among(heading_of(reading, row->cells[i].text).word, "d|d."))
            heading->told[i].key = "depth";
}

/* One column of labour is a lump or a list; of several each is a step, called as it is headed. */
static void name_steps(const ks_csv_row *row, ks_column_heading *heading, const ks_reading *reading)
{
    int n = 0;
    for (int i = 0; i < heading->n; i++)
        n += heading->told[i].sort == KS_CELL_LABOUR;
    for (int i = 0; i < heading->n; i++) {
        ks_told_column *told = &heading->told[i];
        const char *text = row->cells[i].text, *unit = NULL;
        if (told->sort != KS_CELL_LABOUR)
            continue;
        bool parted = in_brackets(text, reading->fields.arena, &text, &unit);
        const char *word = ks_text_plain(text, reading->fields.arena);
        if (parted && !told->unit && ks_unit_known(KS_TIME, unit))
            told->unit = unit;
        if (n > 1 || column_called(word) < 0)
            told->step = word;
    }
}

bool ks_heading_read(ks_reading *reading, const ks_csv *csv, const ks_json *named_at,
                     ks_column_heading *out)
{
    table t = {reading, csv, named_at};
    int before = reading->fields.err->count;
    const ks_csv_row *row = heading_row(&t);
    if (!row)
        return refuse_unknown(&t, &csv->header, NULL);
    *out = (ks_column_heading){row->n, KS_TAKE(reading->fields.arena, row->n, ks_told_column), row};
    for (int i = 0; i < row->n; i++) {
        heading_word found = heading_of(reading, row->cells[i].text);
        if (found.column >= 0)
            out->told[i] = (ks_told_column){columns[found.column].key, columns[found.column].sort,
                                            found.unit, NULL};
        if (out->told[i].sort == KS_CELL_LENGTH && !out->told[i].unit)
            out->told[i].unit = unit_above(&t, row, i);
        if (found.column < 0 && !found.passed_over)
            check_slip(&t, &row->cells[i], found.word);
        check_unit(&t, &row->cells[i], out->told[i]);
        refuse_twice(&t, row, out, i);
    }
    if (reading->fields.err->count > before)
        return false;
    if (!tells_sizes(out))
        return refuse_unknown(&t, row, out);
    pieces_are_names(row, out, reading);
    d_is_depth(row, out, reading);
    name_steps(row, out, reading);
    tell_unused(&t, row, out);
    return true;
}
