/* Which separator, which row is the heading, which column what: each by what most of the file
 * says. */
#include "app/measured/measured_table.h"

#include "base/data/csv.h"
#include "base/data/csv_text.h"
#include "base/text.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

enum { SAMPLE_BYTES = 64 * 1024, HEADING_ROWS = 200, SHOWN_BYTES = 40 };

void ks_measured_note(ks_measured_notes *notes, const char *format, ...)
{
    ks_text text = {.arena = notes->arena};
    va_list args;
    va_start(args, format);
    ks_text_print_list(&text, format, args);
    va_end(args);
    notes->at = KS_GROW(notes->arena, notes->at, notes->n, &notes->room, const char *);
    notes->at[notes->n++] = ks_text_end(&text);
}

typedef struct {
    ks_csv csv;
    int heading; /* row, -1 = none */
    int n_columns;
    ks_recorded_heading *columns;
    int time, date; /* columns, -1 = none */
    int *temps, n_temps;
    ks_measured_notes *notes;
    ks_arena *arena;
    ks_recorded *out;
} reader;

static const char *cell_at(const ks_csv_row *row, int column)
{
    return column >= 0 && column < row->n ? row->cells[column].text : "";
}

static bool is_reading(const char *cell, bool commas_part_cells)
{
    double number;
    const char *rest;
    return ks_measured_number(cell, commas_part_cells, &number, &rest) ||
           ks_measured_moment(cell, commas_part_cells).kind != KS_MOMENT_NONE;
}

static int readings_in(const ks_csv_row *row, bool commas_part_cells)
{
    int n = 0;
    for (int i = 0; i < row->n; i++)
        n += is_reading(row->cells[i].text, commas_part_cells);
    return n;
}

/* Rows of two readings and more, if the text is parted so. */
static int rows_parted_by(const char *text, size_t length, char separator, ks_arena *arena)
{
    ks_csv csv;
    int n = 0;
    if (ks_csv_parse_rows("", text, length, separator, arena, &csv, NULL))
        return 0;
    for (int i = 0; i < csv.n_rows; i++)
        n += readings_in(&csv.rows[i], separator == ',') > 1;
    return n;
}

/* That which makes the most rows of readings in the first lines. */
static char separator_of(const char *text, ks_arena *arena)
{
    static const char candidates[] = ";\t,";
    size_t length = strlen(text);
    if (length > SAMPLE_BYTES)
        for (length = SAMPLE_BYTES; length > 0 && text[length - 1] != '\n';)
            length--;
    char best = ',';
    int most = 0;
    for (const char *c = candidates; *c; c++) {
        int n = rows_parted_by(text, length, *c, arena);
        if (n > most) {
            most = n;
            best = *c;
        }
    }
    return best;
}

static bool is_told(ks_recorded_role role)
{
    return role == KS_RECORDED_TIME || role == KS_RECORDED_DATE || role == KS_RECORDED_TEMP;
}

/* 2 = it names a time and a temperature, 1 = one of them, 0 = it is no heading. */
static int heading_worth(const reader *r, const ks_csv_row *row)
{
    bool time = false, temp = false;
    int words = 0;
    for (int i = 0; i < row->n; i++) {
        const char *cell = row->cells[i].text;
        if (is_reading(cell, r->csv.decimal_comma == false))
            return 0;
        words += *cell != '\0';
        ks_recorded_role role = ks_recorded_heading_read(cell).role;
        temp = temp || role == KS_RECORDED_TEMP;
        time = time || (is_told(role) && role != KS_RECORDED_TEMP);
    }
    return words > 1 ? time + temp : 0;
}

static void find_heading(reader *r)
{
    int best = 0;
    r->heading = -1;
    for (int i = 0; i < r->csv.n_rows && i < HEADING_ROWS && best < 2; i++) {
        int worth = heading_worth(r, &r->csv.rows[i]);
        if (worth > best) {
            best = worth;
            r->heading = i;
        }
    }
}

/* A line under the heading that holds units alone is read with it. */
static const char *heading_text(const reader *r, int column)
{
    const ks_csv_row *rows = r->csv.rows;
    const char *heading = cell_at(&rows[r->heading], column);
    if (r->heading + 1 >= r->csv.n_rows)
        return heading;
    const ks_csv_row *next = &rows[r->heading + 1];
    for (int i = 0; i < next->n; i++)
        if (strlen(next->cells[i].text) > 8 || is_reading(next->cells[i].text, true))
            return heading;
    return ks_arena_print(r->arena, "%s %s", heading, cell_at(next, column));
}

static void read_headings(reader *r)
{
    for (int i = 0; i < r->csv.n_rows; i++)
        r->n_columns = r->csv.rows[i].n > r->n_columns ? r->csv.rows[i].n : r->n_columns;
    r->columns = KS_TAKE(r->arena, r->n_columns, ks_recorded_heading);
    for (int c = 0; r->heading >= 0 && c < r->n_columns; c++)
        r->columns[c] = ks_recorded_heading_read(heading_text(r, c));
}

static const char *name_of(const reader *r, int column)
{
    const char *name = r->heading >= 0 ? cell_at(&r->csv.rows[r->heading], column) : "";
    return *name ? name : ks_arena_print(r->arena, "column %d", column + 1);
}

/* What stands in a column below the heading. */
typedef struct {
    int numbers, moments, falls; /* moments: clocks and dates */
    double least, most;
} contents;

static contents contents_of(const reader *r, int column)
{
    contents c = {.least = INFINITY, .most = -INFINITY};
    double last = -INFINITY;
    for (int i = r->heading + 1; i < r->csv.n_rows; i++) {
        const char *cell = cell_at(&r->csv.rows[i], column), *rest;
        double number;
        ks_moment at = ks_measured_moment(cell, !r->csv.decimal_comma);
        c.moments += at.kind == KS_MOMENT_CLOCK || at.kind == KS_MOMENT_DATE;
        if (at.kind == KS_MOMENT_DATE || at.kind == KS_MOMENT_CLOCK ||
            !ks_measured_number(cell, !r->csv.decimal_comma, &number, &rest))
            continue;
        c.numbers++;
        c.falls += number < last;
        c.least = fmin(c.least, number);
        c.most = fmax(c.most, number);
        last = number;
    }
    return c;
}

/* The first that the headings call so; of times one that says "elapsed" or its unit rather. */
static int column_called(const reader *r, ks_recorded_role role)
{
    int found = -1;
    for (int c = 0; c < r->n_columns; c++)
        if (r->columns[c].role == role &&
            (found < 0 || (r->columns[c].elapsed && !r->columns[found].elapsed)))
            found = c;
    return found;
}

/* No heading says it: the first column of clocks or dates, else the first that never falls. */
static int time_by_contents(const reader *r)
{
    int steady = -1;
    for (int c = 0; c < r->n_columns; c++) {
        if (r->columns[c].role != KS_RECORDED_UNKNOWN)
            continue;
        contents in = contents_of(r, c);
        if (in.moments > 1 && in.moments >= in.numbers)
            return c;
        if (steady < 0 && in.numbers > 2 && in.falls == 0 && in.most > in.least)
            steady = c;
    }
    return steady;
}

static void find_time(reader *r)
{
    r->date = column_called(r, KS_RECORDED_DATE);
    r->time = column_called(r, KS_RECORDED_TIME);
    if (r->time < 0 && r->date >= 0) {
        r->time = r->date;
        r->date = -1;
    }
    if (r->time >= 0)
        return;
    r->time = time_by_contents(r);
    if (r->time >= 0) {
        r->columns[r->time].role = KS_RECORDED_TIME;
        ks_measured_note(r->notes, "no heading names the time; %s is taken for it",
                         name_of(r, r->time));
    }
}

static void add_temp(reader *r, int column)
{
    r->columns[column].role = KS_RECORDED_TEMP;
    r->temps[r->n_temps++] = column;
}

#define COLD 60.0 /* a column that never gets above it, in any degrees, is no kiln's */

static void find_temps(reader *r)
{
    r->temps = KS_TAKE(r->arena, r->n_columns, int);
    for (int c = 0; c < r->n_columns; c++)
        if (r->columns[c].role == KS_RECORDED_TEMP && contents_of(r, c).numbers > 0)
            add_temp(r, c);
    for (int c = 0; r->n_temps == 0 && c < r->n_columns; c++) {
        if (r->columns[c].role != KS_RECORDED_UNKNOWN || c == r->time)
            continue;
        contents in = contents_of(r, c);
        if (in.numbers > 1 && in.most > COLD && in.most > in.least)
            add_temp(r, c);
    }
    for (int i = 0; i < r->n_temps; i++)
        if (r->heading < 0 ||
            ks_recorded_heading_read(name_of(r, r->temps[i])).role != KS_RECORDED_TEMP)
            ks_measured_note(r->notes, "no heading names a temperature; %s is taken for one",
                             name_of(r, r->temps[i]));
    for (int c = 0; c < r->n_columns; c++)
        if (r->columns[c].role == KS_RECORDED_SET)
            ks_measured_note(r->notes, "\"%s\" is what was asked for, not compared", name_of(r, c));
}

static ks_status column_missing(const reader *r, const char *what, const char *such, ks_error *err)
{
    const char *found = "";
    for (int c = 0; r->heading >= 0 && c < r->n_columns && c < 20; c++)
        found = ks_arena_print(r->arena, "%s%s\"%.*s\"", found, c > 0 ? ", " : "", SHOWN_BYTES,
                               name_of(r, c));
    return ks_fail(err, KS_BAD_INPUT,
                   "%s: no column holds %s; found %s; give its column a heading such as %s",
                   r->csv.file, what, *found ? found : "no headings that are known", such);
}

/* A cell of a column that tells only the time of day stands beside the day it belongs to. */
static ks_moment moment_of(const reader *r, const ks_csv_row *row)
{
    bool parted = !r->csv.decimal_comma;
    ks_moment at = ks_measured_moment(cell_at(row, r->time), parted);
    if (r->columns[r->time].minutes_seconds && at.kind == KS_MOMENT_CLOCK)
        return (ks_moment){at.kind, at.month_first / 60, at.day_first / 60};
    if (r->date < 0 || at.kind != KS_MOMENT_CLOCK || r->columns[r->time].elapsed)
        return at;
    ks_moment day = ks_measured_moment(cell_at(row, r->date), parted);
    if (day.kind != KS_MOMENT_DATE)
        return (ks_moment){KS_MOMENT_NONE, NAN, NAN};
    return (ks_moment){KS_MOMENT_DATE, day.month_first + at.month_first,
                       day.day_first + at.day_first};
}

static char degrees_behind(const char *rest)
{
    while ((unsigned char)*rest >= 0x80 || *rest == ' ')
        rest++;
    return *rest && strchr("CFKcfk", *rest) && !isalpha((unsigned char)rest[1])
               ? (char)toupper((unsigned char)*rest)
               : '\0';
}

/* How many temperatures the row has. */
static int read_temps(const reader *r, const ks_csv_row *row, ks_recorded_row *out)
{
    int n = 0;
    out->temp = KS_TAKE(r->arena, r->n_temps, double);
    out->degrees = KS_TAKE(r->arena, r->n_temps, char);
    for (int i = 0; i < r->n_temps; i++) {
        const char *cell = cell_at(row, r->temps[i]), *rest;
        out->temp[i] = NAN;
        double number;
        if (!ks_measured_number(cell, !r->csv.decimal_comma, &number, &rest))
            continue;
        out->degrees[i] = degrees_behind(rest);
        if (*rest && !out->degrees[i])
            continue;
        out->temp[i] = number;
        n++;
    }
    return n;
}

typedef struct {
    int n, line;
} counted;

static void count_one(counted *count, int line)
{
    if (count->n++ == 0)
        count->line = line;
}

static void tell_count(ks_measured_notes *notes, counted count, const char *one, const char *more)
{
    if (count.n == 1)
        ks_measured_note(notes, one, count.line);
    else if (count.n > 1)
        ks_measured_note(notes, more, count.n, count.line);
}

static bool repeats_heading(const reader *r, const ks_csv_row *row)
{
    if (r->heading < 0)
        return false;
    const char *here = cell_at(row, r->time);
    return *here && ks_same_word(here, cell_at(&r->csv.rows[r->heading], r->time));
}

static void read_rows(reader *r)
{
    ks_recorded *out = r->out;
    counted repeated = {0}, without = {0}, odd = {0};
    ks_moment_kind kind = KS_MOMENT_NONE;
    out->rows = KS_TAKE(r->arena, r->csv.n_rows, ks_recorded_row);
    for (int i = r->heading + 1; i < r->csv.n_rows; i++) {
        const ks_csv_row *row = &r->csv.rows[i];
        ks_recorded_row read = {.line = row->line, .at = moment_of(r, row)};
        bool warm = read_temps(r, row, &read) > 0;
        kind = kind == KS_MOMENT_NONE && warm ? read.at.kind : kind;
        if (repeats_heading(r, row))
            count_one(&repeated, row->line);
        else if (read.at.kind == KS_MOMENT_NONE || read.at.kind != kind)
            count_one(&odd, row->line);
        else if (!warm)
            count_one(&without, row->line);
        else
            out->rows[out->n_rows++] = read;
    }
    tell_count(r->notes, repeated, "line %d repeats the heading",
               "%d lines repeat the heading, the first of them line %d");
    tell_count(r->notes, without, "line %d has no temperature and is left out",
               "%d lines have no temperature and are left out, the first of them line %d");
    /* the units below a heading are no reading that went astray */
    odd.n -= r->heading >= 0 && odd.n > 0 && odd.line == r->csv.rows[r->heading].line + 1 &&
             readings_in(&r->csv.rows[r->heading + 1], true) == 0;
    tell_count(
        r->notes, odd, "line %d has no time that can be read and is left out",
        "%d lines have no time that can be read and are left out, the first of them line %d");
}

static void fill_columns(reader *r)
{
    ks_recorded *out = r->out;
    out->time = r->columns[r->time];
    out->n_columns = r->n_temps;
    out->names = KS_TAKE(r->arena, r->n_temps, const char *);
    out->degrees = KS_TAKE(r->arena, r->n_temps, char);
    for (int i = 0; i < r->n_temps; i++) {
        out->names[i] = name_of(r, r->temps[i]);
        out->degrees[i] = r->columns[r->temps[i]].degrees;
    }
}

ks_status ks_recorded_parse(const char *name, const char *bytes, size_t length,
                            ks_measured_notes *notes, ks_arena *arena, ks_recorded *out,
                            ks_error *err)
{
    reader r = {.notes = notes, .arena = arena, .out = out};
    const char *text, *warning;
    if (length > KS_CSV_LARGEST)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: found more than 8 MiB; let the recorder write less "
                       "often, or keep one firing in a file",
                       name);
    ks_status status = ks_csv_text(name, bytes, length, arena, &text, &warning, err);
    if (!status)
        status = ks_csv_parse_rows(name, text, strlen(text), separator_of(text, arena), arena,
                                   &r.csv, err);
    if (status)
        return status;
    *out = (ks_recorded){.file = r.csv.file};
    find_heading(&r);
    read_headings(&r);
    find_time(&r);
    if (r.time < 0)
        return column_missing(&r, "a time", "\"time (min)\", \"hours\" or \"date\"", err);
    find_temps(&r);
    if (r.n_temps == 0)
        return column_missing(&r, "readings of a kiln's temperature", "\"temperature (C)\"", err);
    fill_columns(&r);
    read_rows(&r);
    return KS_OK;
}
