/* Lowers the counts of ware tables: rows that change are written anew, all else stays as it is. */
#include "studio/files/ware_table.h"

#include "base/rational.h"
#include "base/text.h"
#include "base/words.h"
#include "studio/names.h"

#include <stdlib.h>
#include <string.h>

static const char mark[] = "\xEF\xBB\xBF"; /* of UTF-8 */

/* A firing that ends by temperature is a bisque firing up to about where that cone bends. */
#define BISQUE_MOST_C 1070

static bool is_bisque_firing(const ks_firing *firing)
{
    if (!firing->cone || !*firing->cone)
        return firing->top_temp_c > 0 && firing->top_temp_c <= BISQUE_MOST_C;
    return ks_cone_rank(firing->cone) <= ks_cone_rank(KS_BISQUE_CONE);
}

ks_stage ks_stage_after(const ks_piece *piece, const ks_firing *firing)
{
    bool bare = piece->stage <= KS_BISQUE && !piece->glazed;
    return bare && is_bisque_firing(firing) ? KS_BISQUE : KS_FIRED;
}

/* One table on its way into text. */
typedef struct {
    const ks_order *order;
    const struct ks_ware_table *table;
    int at; /* of the table in the order */
    int n;
    const ks_ware_taken *taken;
    int stage_column; /* -1 = a row that tells none */
    bool adds_stage;  /* a column for it goes behind the last */
    const char *line_end;
    ks_arena *arena;
    ks_text text;
    ks_ware_lowered *out;
} lowering;

static int column_keyed(const ks_column_heading *heading, const char *key)
{
    for (int i = 0; i < heading->n; i++)
        if (heading->told[i].key && strcmp(heading->told[i].key, key) == 0)
            return i;
    return -1;
}

/* "3.75" or "3,75", as the table writes it: to a tenth, below ten to a hundredth. */
static void add_scaled(const lowering *l, ks_text *to, double number)
{
    double steps = number < 10 ? 100 : 10;
    const char *digits = ks_number_print(floor(steps * number + 0.5) / steps, l->arena);
    for (; *digits; digits++)
        ks_text_add_n(to, *digits == '.' && l->table->csv->decimal_comma ? "," : digits, 1);
}

/* Every number of the cell times `part`: "34x18@20-80", "0:36 5:36", "3 3/4 in". */
static const char *scaled(const lowering *l, const char *cell, double part)
{
    ks_text text = {.arena = l->arena};
    while (*cell) {
        const char *at = cell;
        ks_rational number;
        bool begins = *cell >= '0' && *cell <= '9';
        if (begins && ks_rational_read(&at, &number) == NULL && at > cell)
            add_scaled(l, &text, ks_rational_double(number) * part);
        else
            ks_text_add_n(&text, cell, (size_t)((at = cell + 1) - cell));
        cell = at;
    }
    return ks_text_end(&text);
}

static bool is_length(const ks_told_column *told)
{
    return (told->sort == KS_CELL_LENGTH && strcmp(told->key, "around") != 0) ||
           told->sort == KS_CELL_HANDLE || told->sort == KS_CELL_PROFILE ||
           told->sort == KS_CELL_SIZE;
}

static void note(ks_ware_lowered *out, ks_arena *arena, const char *text)
{
    out->notes = KS_GROW(arena, out->notes, out->n_notes, &out->notes_room, const char *);
    out->notes[out->n_notes++] = text;
}

/* A cell of copies that are another kind now; of a firing that is over nothing is kept. */
static const char *moved_cell(lowering *l, const ks_csv_cell *cell, const ks_told_column *told,
                              const ks_ware_moved *moved)
{
    if (ks_word_among(told->key, "keep|wait|waited|weighed|weighed_again|earlier_firings"))
        return "";
    if (strcmp(told->key, "mass") == 0)
        return scaled(l, cell->text, moved->lighter_to);
    if (!is_length(told) || !*cell->text)
        return cell->text;
    const char *text = scaled(l, cell->text, moved->shrunk_to);
    if (strcmp(text, cell->text) == 0 && moved->shrunk_to < 1)
        note(l->out, l->arena,
             ks_arena_print(l->arena,
                            "%s: \"%.40s\" tells no number, so that it stays as it is; the fired "
                            "ware is %.1f %% smaller",
                            l->table->path, cell->text, 100 * (1 - moved->shrunk_to)));
    return text;
}

static bool is_taken(const lowering *l, const char *id)
{
    for (int i = 0; i < l->order->n_pieces; i++)
        if (strcmp(l->order->pieces[i].id, id) == 0)
            return true;
    return false;
}

/* "mug bisque", where that is taken "mug bisque 2". */
static const char *new_id(const lowering *l, const char *id, const char *suffix)
{
    const char *named = ks_joined(id, " ", suffix, l->arena);
    for (int i = 2; is_taken(l, named); i++) {
        ks_text text = {.arena = l->arena};
        ks_text_add(&text, ks_joined(id, " ", ks_joined(suffix, " ", "", l->arena), l->arena));
        ks_text_add_number(&text, i);
        named = ks_text_end(&text);
    }
    return named;
}

static void add_cell(lowering *l, int at, const char *text)
{
    char separator[2] = {l->table->csv->separator, '\0'};
    if (at > 0)
        ks_text_add(&l->text, separator);
    size_t length = strlen(text);
    bool quoted = strpbrk(text, "\"\r\n") || strstr(text, separator) ||
                  (length > 0 && (text[0] == ' ' || text[length - 1] == ' '));
    if (!quoted) {
        ks_text_add(&l->text, text);
        return;
    }
    ks_text_add(&l->text, "\"");
    for (; *text; text++)
        ks_text_add_n(&l->text, *text == '"' ? "\"\"" : text, *text == '"' ? 2 : 1);
    ks_text_add(&l->text, "\"");
}

static const char *whole(const lowering *l, int number)
{
    return ks_number_print(number, l->arena);
}

/* The row with another count. */
static void add_left(lowering *l, const ks_csv_row *row, int left)
{
    int count = column_keyed(&l->table->heading, "count");
    for (int i = 0; i < row->n; i++)
        add_cell(l, i, i == count ? whole(l, left) : row->cells[i].text);
    ks_text_add(&l->text, l->line_end);
}

/* The row once more for copies that are another kind now. A row is as wide as the heading. */
static void add_moved(lowering *l, const ks_csv_row *row, const ks_ware_moved *moved,
                      const char *id)
{
    static const ks_csv_cell empty = {.text = ""};
    const ks_column_heading *heading = &l->table->heading;
    int width = heading->n + l->adds_stage;
    for (int i = 0; i < width; i++) {
        const ks_csv_cell *cell = i < row->n ? &row->cells[i] : &empty;
        const ks_told_column *told =
            i < heading->n && heading->told[i].key ? &heading->told[i] : NULL;
        if (i == l->stage_column)
            add_cell(l, i, ks_stage_name(moved->stage));
        else if (told && strcmp(told->key, "count") == 0)
            add_cell(l, i, whole(l, moved->copies));
        else if (told && strcmp(told->key, "id") == 0 && *cell->text)
            add_cell(l, i, id);
        else
            add_cell(l, i, told ? moved_cell(l, cell, told, moved) : cell->text);
    }
    ks_text_add(&l->text, l->line_end);
}

/* What is left of the row: with fewer copies, not at all, and the copies that are another kind. */
static void add_row(lowering *l, const ks_csv_row *row, const ks_ware_taken *taken)
{
    const ks_piece *piece = &l->order->pieces[taken->piece];
    int left = piece->count - taken->taken;
    bool id_free = left == 0;
    if (left > 0)
        add_left(l, row, left);
    for (int i = 0; i < taken->n_moved; i++) {
        if (taken->moved[i].copies == 0)
            continue;
        add_moved(l, row, &taken->moved[i],
                  id_free ? piece->id : new_id(l, piece->id, taken->moved[i].suffix));
        id_free = false;
    }
}

static const ks_ware_taken *taken_of(const lowering *l, const ks_csv_row *row)
{
    for (int i = 0; i < l->n; i++) {
        const ks_piece *piece = &l->order->pieces[l->taken[i].piece];
        if (piece->table == l->at && piece->file_line == row->line && !piece->fill)
            return &l->taken[i];
    }
    return NULL;
}

static const char *line_end_of(const ks_csv_row *row)
{
    size_t n = row->raw_length;
    if (n > 1 && row->raw[n - 2] == '\r' && row->raw[n - 1] == '\n')
        return "\r\n";
    return n > 0 && row->raw[n - 1] == '\r' ? "\r" : "\n";
}

static bool moves_some(const lowering *l)
{
    for (int i = 0; i < l->n; i++)
        for (int m = 0; m < l->taken[i].n_moved; m++)
            if (l->order->pieces[l->taken[i].piece].table == l->at &&
                l->taken[i].moved[m].copies > 0)
                return true;
    return false;
}

/* The heading, with a column for the stage behind it where none tells it. */
static void add_heading(lowering *l)
{
    const ks_csv_row *row = l->table->heading.last;
    if (!l->adds_stage) {
        ks_text_add_n(&l->text, row->raw, row->raw_length);
        return;
    }
    for (int i = 0; i < row->n; i++)
        add_cell(l, i, row->cells[i].text);
    add_cell(l, row->n, "stage");
    ks_text_add(&l->text, l->line_end);
}

static const ks_csv_row *row_of(const ks_csv *csv, int i)
{
    return i == 0 ? &csv->header : &csv->rows[i - 1];
}

static const char *lowered(lowering *l)
{
    const ks_csv *csv = l->table->csv;
    const char *at = csv->text;
    l->line_end = line_end_of(&csv->header);
    l->stage_column = column_keyed(&l->table->heading, "stage");
    l->adds_stage = l->stage_column < 0 && moves_some(l);
    l->stage_column = l->adds_stage ? l->table->heading.n : l->stage_column;
    if (*csv->warning || strncmp(l->table->bytes.bytes, mark, 3) == 0 ||
        (l->table->bytes.length > 1 && (unsigned char)l->table->bytes.bytes[0] >= 0xFE))
        ks_text_add(&l->text, mark);
    for (int i = 0; i <= csv->n_rows; i++) {
        const ks_csv_row *row = row_of(csv, i);
        const ks_ware_taken *taken = taken_of(l, row);
        bool heading = row->line == l->table->heading.last->line;
        if (!taken && !heading)
            continue;
        ks_text_add_n(&l->text, at, (size_t)(row->raw - at));
        at = row->raw + row->raw_length;
        if (heading)
            add_heading(l);
        else
            add_row(l, row, taken);
    }
    ks_text_add(&l->text, at);
    return ks_text_end(&l->text);
}

static void tell_inline(const ks_order *order, const ks_ware_taken *taken, ks_arena *arena,
                        ks_ware_lowered *out)
{
    const ks_piece *piece = &order->pieces[taken->piece];
    if (piece->table < 0)
        note(out, arena,
             ks_arena_print(arena,
                            "%s:%d: %s stands in the order itself, and only tables of ware are "
                            "lowered: take %d of it out by hand",
                            order->file, piece->file_line, piece->id, taken->taken));
}

static ks_status refuse(const ks_order *order, const ks_ware_taken *taken, ks_error *err)
{
    const ks_piece *piece = &order->pieces[taken->piece];
    if (piece->table < 0 || piece->fill || piece->count >= taken->taken)
        return KS_OK;
    return ks_fail(err, KS_BAD_INPUT,
                   "%s:%d: found %d x %s, and %d were in the load; the table was lowered before, "
                   "or is another than the plan was made of",
                   order->tables[piece->table].path, piece->file_line, piece->count, piece->id,
                   taken->taken);
}

static bool is_concerned(const ks_order *order, int table, int n, const ks_ware_taken *taken)
{
    for (int i = 0; i < n; i++)
        if (order->pieces[taken[i].piece].table == table && !order->pieces[taken[i].piece].fill)
            return true;
    return false;
}

ks_status ks_ware_lower(const ks_order *order, int n, const ks_ware_taken *taken, ks_arena *arena,
                        ks_ware_lowered *out, ks_error *err)
{
    ks_status status = KS_OK;
    *out = (ks_ware_lowered){.tables = KS_TAKE(arena, order->n_tables, ks_ware_left)};
    for (int i = 0; i < n && !status; i++)
        status = refuse(order, &taken[i], err);
    for (int i = 0; i < n && !status; i++)
        tell_inline(order, &taken[i], arena, out);
    for (int t = 0; t < order->n_tables && !status; t++) {
        lowering l = {.order = order,
                      .table = &order->tables[t],
                      .at = t,
                      .n = n,
                      .taken = taken,
                      .arena = arena,
                      .text.arena = arena,
                      .out = out};
        if (is_concerned(order, t, n, taken))
            out->tables[out->n++] =
                (ks_ware_left){order->tables[t].path, order->tables[t].bytes, lowered(&l)};
    }
    return status;
}
