#include "base/data/csv.h"

#include "base/data/csv_text.h"
#include "base/file.h"
#include "base/text.h"

#include <string.h>
#include <strings.h>

/* `text` is UTF-8 with a NUL behind its last byte and none within. */
typedef struct {
    const char *name;
    const char *at;
    int line, column;
    char separator;
    ks_arena *arena;
    ks_error *err;
} cursor;

static ks_status slip(const cursor *c, const char *what)
{
    return ks_fail(c->err, KS_BAD_INPUT, "%s:%d:%d: %s", c->name, c->line, c->column, what);
}

/* Bytes of the line end at `at`: LF, CR or both; 0 if there is none. */
static int line_end(const char *at)
{
    return *at == '\n' ? 1 : *at != '\r' ? 0 : at[1] == '\n' ? 2 : 1;
}

static void step(cursor *c)
{
    int end = line_end(c->at);
    if (end > 0) {
        c->at += end;
        c->line++;
        c->column = 1;
        return;
    }
    c->at++;
    c->column += ((unsigned char)*c->at & 0xC0) != 0x80;
}

/* What stands between quotes; "" stands for one quote. The cursor is on the opening one. */
static ks_status read_quoted(cursor *c, ks_text *cell)
{
    cursor opened = *c;
    step(c);
    for (;; step(c)) {
        if (!*c->at)
            return slip(&opened,
                        "found a quote \" that is never closed; close it, or take it away");
        if (*c->at == '"') {
            step(c);
            if (*c->at != '"')
                return KS_OK;
        }
        if (cell->length > KS_CSV_LONGEST)
            return slip(&opened, "found a cell of more than 4096 bytes; a quote \" may be missing");
        int end = line_end(c->at);
        ks_text_add_n(cell, c->at, end > 0 ? (size_t)end : 1);
    }
}

/* Bytes of the blank at `at`, the one that does not break too; 0 = none. */
static int blank(const char *at)
{
    return *at == ' ' || *at == '\t' ? 1 : strncmp(at, "\u00A0", 2) == 0 ? 2 : 0;
}

static bool ends_cell(const cursor *c)
{
    return !*c->at || *c->at == c->separator || line_end(c->at) > 0;
}

static ks_status read_plain(cursor *c, ks_text *cell)
{
    cursor starts = *c;
    while (!ends_cell(c))
        step(c);
    if (c->at - starts.at > KS_CSV_LONGEST)
        return slip(&starts, "found a cell of more than 4096 bytes; make it shorter");
    const char *end = starts.at;
    for (const char *at = end; at < c->at; at++)
        if (blank(at) == 0)
            end = at + 1;
        else
            at += blank(at) - 1;
    ks_text_add_n(cell, starts.at, (size_t)(end - starts.at));
    return KS_OK;
}

static void skip_blanks(cursor *c)
{
    while (!ends_cell(c) && blank(c->at) > 0) {
        if (blank(c->at) == 2)
            c->at++;
        step(c);
    }
}

static ks_status read_cell(cursor *c, ks_csv_cell *out)
{
    skip_blanks(c);
    ks_text cell = {.arena = c->arena};
    *out = (ks_csv_cell){.line = c->line, .column = c->column};
    ks_status status = *c->at == '"' ? read_quoted(c, &cell) : read_plain(c, &cell);
    if (status)
        return status;
    skip_blanks(c);
    if (!ends_cell(c))
        return slip(c, "found text behind a closed quote; write a quote within quotes twice");
    out->text = ks_text_end(&cell);
    return KS_OK;
}

/* One row; the cursor goes behind its line end. */
static ks_status read_row(cursor *c, ks_csv_row *out)
{
    int room = 0;
    *out = (ks_csv_row){.line = c->line, .raw = c->at};
    for (;;) {
        out->cells = KS_GROW(c->arena, out->cells, out->n, &room, ks_csv_cell);
        ks_status status = read_cell(c, &out->cells[out->n++]);
        if (status)
            return status;
        if (*c->at != c->separator)
            break;
        if (out->n == KS_CSV_WIDEST)
            return slip(c, "found more than 1000 cells in a row; take the empty columns away");
        step(c);
    }
    if (*c->at)
        step(c);
    out->raw_length = (size_t)(c->at - out->raw);
    return KS_OK;
}

static bool is_empty(const ks_csv_row *row)
{
    for (int i = 0; i < row->n; i++)
        if (*row->cells[i].text)
            return false;
    return true;
}

/* The separator that is met most often, outside quotes, in the first line that is not blank. */
static char separator_of(const char *text)
{
    static const char candidates[] = ",;\t";
    int met[3] = {0};
    bool quoted = false, starts = true; /* a quote within a cell is an inch mark */
    text += strspn(text, " \r\n");
    for (; *text && (quoted || line_end(text) == 0); text++) {
        const char *found = quoted ? NULL : strchr(candidates, *text);
        if (found)
            met[found - candidates]++;
        if (*text == '"' && (quoted || starts))
            quoted = !quoted;
        starts = found || (starts && *text == ' ');
    }
    int most = met[1] > met[0] ? 1 : 0;
    return candidates[met[2] > met[most] ? 2 : most];
}

/* The line "sep=;" with which some spreadsheets say their separator; not part of the table. */
static bool take_sep_line(cursor *c)
{
    bool quoted = *c->at == '"';
    const char *at = c->at + quoted;
    if (strncasecmp(at, "sep=", 4) != 0 || !at[4] || line_end(at + 4) > 0)
        return false;
    const char *behind = at + 5 + (quoted && at[5] == '"');
    if ((unsigned char)at[4] >= 0x80 || at[4] == '"' || (*behind && line_end(behind) == 0))
        return false;
    c->separator = at[4];
    c->at = behind + line_end(behind);
    c->line++;
    return true;
}

static ks_status read_rows(cursor *c, bool headed, ks_csv *out)
{
    int room = 0;
    while (*c->at) {
        ks_csv_row row;
        ks_status status = read_row(c, &row);
        if (status)
            return status;
        if (is_empty(&row))
            continue;
        if (headed && !out->header.cells) {
            out->header = row;
            continue;
        }
        out->rows = KS_GROW(c->arena, out->rows, out->n_rows, &room, ks_csv_row);
        out->rows[out->n_rows++] = row;
    }
    return out->header.cells || !headed
               ? KS_OK
               : slip(c, "found no header row; name the columns in the first");
}

/* Controls that no spreadsheet writes are the mark of a file that is no table. */
static ks_status refuse_controls(cursor c)
{
    for (; *c.at; step(&c)) {
        unsigned char byte = (unsigned char)*c.at;
        if ((byte < ' ' && byte != '\t' && byte != '\r' && byte != '\n') || byte == 0x7F)
            return slip(&c, "found a control character; save the table as CSV");
    }
    return KS_OK;
}

/* `separator` is NUL where it is to be found out, and then there is a header. */
static ks_status parse(const char *name, const char *bytes, size_t length, char separator,
                       ks_arena *arena, ks_csv *out, ks_error *err)
{
    *out = (ks_csv){.file = ks_arena_text(arena, name), .warning = ""};
    if (length > KS_CSV_LARGEST)
        return ks_fail(err, KS_BAD_INPUT, "%s: found more than 8 MiB; split the table", name);
    const char *text;
    ks_status status = ks_csv_text(name, bytes, length, arena, &text, &out->warning, err);
    if (status)
        return status;
    out->text = text;
    cursor c = {out->file, text, 1, 1, separator, arena, err};
    status = refuse_controls(c);
    if (!take_sep_line(&c) && !separator)
        c.separator = separator_of(text);
    out->separator = c.separator;
    out->decimal_comma = c.separator != ',';
    return status ? status : read_rows(&c, !separator, out);
}

ks_status ks_csv_parse(const char *name, const char *bytes, size_t length, ks_arena *arena,
                       ks_csv *out, ks_error *err)
{
    return parse(name, bytes, length, '\0', arena, out, err);
}

ks_status ks_csv_parse_rows(const char *name, const char *bytes, size_t length, char separator,
                            ks_arena *arena, ks_csv *out, ks_error *err)
{
    return parse(name, bytes, length, separator, arena, out, err);
}

ks_status ks_csv_read(const char *path, ks_arena *arena, ks_csv *out, ks_error *err)
{
    ks_bytes file;
    ks_status status = ks_file_read(path, KS_CSV_LARGEST, arena, &file, err);
    return status ? status : ks_csv_parse(path, file.bytes, file.length, arena, out, err);
}
