/* From rows to curves: units, order, gaps. What the file does not tell is guessed from the firing
 * and said. */
#include "app/measured/measured_file.h"

#include "app/measured/measured_table.h"
#include "base/file.h"
#include "base/data/csv.h"
#include "base/language.h"
#include "studio/display.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LEAST_C (-60.0)
#define MOST_C 1800.0 /* an open thermocouple reads what no kiln is */
#define GAP_INTERVALS 5
#define GAP_LEAST_H (5 / 60.0)
#define HALF_DAY_S 43200.0
enum { OUT_OF_ORDER_PERCENT = 5, GAPS_TOLD = 3 };

typedef struct {
    double time_s, time_h;
    const ks_recorded_row *row;
    int place; /* in the file: of two rows at one time the later holds */
} reading;

typedef struct {
    ks_recorded table;
    ks_measured_hint hint;
    reading *at;
    int n;
    ks_measured_notes notes;
    ks_arena *arena;
    ks_error *err;
    ks_measured *out;
} reader;

static double span(const reader *r, bool day_first)
{
    double least = INFINITY, most = -INFINITY;
    for (int i = 0; i < r->table.n_rows; i++) {
        const ks_moment *at = &r->table.rows[i].at;
        double s = day_first ? at->day_first : at->month_first;
        if (!isfinite(s))
            return INFINITY;
        least = fmin(least, s);
        most = fmax(most, s);
    }
    return most - least;
}

/* Read the other way round a firing over midnight lasts a month. */
static bool day_stands_first(reader *r)
{
    double month_first = span(r, false), day_first = span(r, true);
    if (month_first == day_first &&
        r->table.rows[0].at.month_first == r->table.rows[0].at.day_first)
        return true; /* the year stands first, or the month is a word */
    ks_measured_note(&r->notes, "its dates are read as %s",
                     day_first <= month_first ? "day, month, year" : "month, day, year");
    return day_first <= month_first;
}

typedef struct {
    double seconds;
    const char *name;
} time_unit;
static const time_unit time_units[] = {
    {3600, "hours"}, {60, "minutes"}, {1, "seconds"}, {1e-3, "milliseconds"}, {86400, "days"}};
enum { TIME_UNITS = sizeof time_units / sizeof *time_units };

/* The unit in which the record lasts most nearly as long as the firing. */
static double unit_guessed(reader *r)
{
    double length = span(r, true);
    int best = 0;
    for (int i = 1; i < TIME_UNITS; i++)
        if (fabs(log(length * time_units[i].seconds / 3600 / r->hint.hours)) <
            fabs(log(length * time_units[best].seconds / 3600 / r->hint.hours)))
            best = i;
    ks_measured_note(&r->notes, "no unit of time is told; its numbers are taken for %s",
                     time_units[best].name);
    return time_units[best].seconds;
}

static void set_times(reader *r)
{
    ks_moment_kind kind = r->table.rows[0].at.kind;
    bool day_first = kind != KS_MOMENT_DATE || day_stands_first(r);
    double unit_s = kind != KS_MOMENT_NUMBER   ? 1
                    : r->table.time.unit_s > 0 ? r->table.time.unit_s
                                               : unit_guessed(r);
    double last = -INFINITY, days = 0;
    r->at = KS_TAKE(r->arena, r->table.n_rows, reading);
    for (int i = 0; i < r->table.n_rows; i++) {
        const ks_recorded_row *row = &r->table.rows[i];
        double s = unit_s * (day_first ? row->at.day_first : row->at.month_first);
        if (!isfinite(s))
            continue;
        if (kind == KS_MOMENT_CLOCK && s + days < last - HALF_DAY_S && s < 86400)
            days += 86400; /* past midnight */
        double at_s = s + days;
        if (days > 0 && at_s > last + HALF_DAY_S)
            at_s -= 86400; /* a row of the evening that was written late */
        last = fmax(last, at_s);
        r->at[r->n++] = (reading){.time_s = at_s, .row = row, .place = i};
    }
}

static int by_time(const void *a, const void *b)
{
    const reading *x = a, *y = b;
    return x->time_s != y->time_s ? (x->time_s < y->time_s ? -1 : 1) : x->place - y->place;
}

static ks_status starts_over(const reader *r, int line, double from_s, double to_s)
{
    return ks_fail(r->err, KS_BAD_INPUT,
                   "%s:%d: its time goes back by %.2f hours and runs on from there; keep one "
                   "firing in a file",
                   r->table.file, line, (from_s - to_s) / 3600);
}

static ks_status put_in_order(reader *r)
{
    double latest = -INFINITY, from = 0, to = 0;
    int late = 0, line = 0;
    for (int i = 0; i < r->n; i++) {
        if (r->at[i].time_s < latest && late++ == 0) {
            line = r->at[i].row->line;
            from = latest;
            to = r->at[i].time_s;
        }
        latest = fmax(latest, r->at[i].time_s);
    }
    if (late > 2 && 100.0 * late > OUT_OF_ORDER_PERCENT * (double)r->n)
        return starts_over(r, line, from, to);
    if (late > 0)
        ks_measured_note(&r->notes,
                         ks_tr_count(late,
                                     "%d reading stood out of order (line %d) and put in order",
                                     "%d readings stood out of order (line %d) and put in order"),
                         late, line);
    if (r->n > 1)
        qsort(r->at, (size_t)r->n, sizeof *r->at, by_time);
    int kept = 0;
    for (int i = 0; i < r->n; i++)
        if (i + 1 == r->n || r->at[i + 1].time_s > r->at[i].time_s)
            r->at[kept++] = r->at[i];
    if (kept + 1 == r->n)
        ks_measured_note(&r->notes, "one reading at a time that comes again; the later one holds");
    else if (kept < r->n)
        ks_measured_note(&r->notes, "%d readings at a time that comes again; the later ones hold",
                         r->n - kept);
    r->n = kept;
    for (int i = 0; i < kept; i++)
        r->at[i].time_h = (r->at[i].time_s - r->at[0].time_s) / 3600;
    return KS_OK;
}

static double celsius(double number, char degrees)
{
    return degrees == 'F' ? (number - 32) / 1.8 : degrees == 'K' ? number - 273.15 : number;
}

/* The unit in which the highest reading of all is nearer to the firing's top. */
static char degrees_guessed(reader *r)
{
    double top = -INFINITY;
    for (int i = 0; i < r->n; i++)
        for (int c = 0; c < r->table.n_columns; c++) {
            double temp = r->at[i].row->temp[c];
            if (isfinite(temp) && celsius(temp, 'F') <= MOST_C)
                top = fmax(top, temp);
        }
    bool f = fabs(celsius(top, 'F') - r->hint.top_c) < fabs(top - r->hint.top_c);
    ks_measured_note(&r->notes,
                     "no unit of temperature is told; its highest reading, %.0f, is taken for %s",
                     top, f ? "°F" : "°C");
    return f ? 'F' : 'C';
}

/* Told by the cell, or by the column, or by the file's other cells; else guessed. */
static void set_degrees(reader *r)
{
    char guessed = '\0';
    for (int c = 0; c < r->table.n_columns; c++) {
        char *degrees = &r->table.degrees[c];
        for (int i = 0; i < r->n && !*degrees; i++)
            *degrees = r->at[i].row->degrees[c];
        if (!*degrees && !guessed)
            guessed = degrees_guessed(r);
        if (!*degrees)
            *degrees = guessed;
    }
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double gap_of(const ks_measured_curve *curve, ks_arena *arena)
{
    int n = curve->n - 1;
    double *apart = KS_TAKE(arena, n > 0 ? n : 1, double);
    for (int i = 0; i < n; i++)
        apart[i] = curve->time_h[i + 1] - curve->time_h[i];
    qsort(apart, (size_t)n, sizeof *apart, by_size);
    return fmax(GAP_LEAST_H, GAP_INTERVALS * apart[n / 2]);
}

static void tell_gaps(reader *r, const ks_measured_curve *curve)
{
    int gaps = 0;
    for (int i = 1; i < curve->n; i++) {
        if (curve->time_h[i] - curve->time_h[i - 1] <= curve->gap_h || gaps++ >= GAPS_TOLD)
            continue;
        ks_measured_note(&r->notes, "\"%s\" has no reading from %s to %s after its first",
                         curve->name, ks_show_hours(curve->time_h[i - 1], r->arena),
                         ks_show_hours(curve->time_h[i], r->arena));
    }
    if (gaps > GAPS_TOLD)
        ks_measured_note(&r->notes, "\"%s\" has %d such gaps more", curve->name, gaps - GAPS_TOLD);
}

static void fill_curve(reader *r, int c)
{
    ks_measured_curve *curve = &r->out->curves[r->out->n_curves];
    int wild = 0;
    double first_wild = 0;
    *curve = (ks_measured_curve){r->table.names[c], 0, KS_TAKE(r->arena, r->n, double),
                                 KS_TAKE(r->arena, r->n, double), 0};
    for (int i = 0; i < r->n; i++) {
        const ks_recorded_row *row = r->at[i].row;
        if (!isfinite(row->temp[c]))
            continue;
        double temp_c =
            celsius(row->temp[c], row->degrees[c] ? row->degrees[c] : r->table.degrees[c]);
        if (!(temp_c >= LEAST_C && temp_c <= MOST_C)) {
            first_wild = wild++ == 0 ? row->temp[c] : first_wild;
            continue;
        }
        curve->time_h[curve->n] = r->at[i].time_h;
        curve->temp_c[curve->n++] = temp_c;
    }
    if (wild > 0)
        ks_measured_note(&r->notes,
                         ks_tr_count(wild,
                                     "\"%s\": %d reading is left out that no kiln has (%g, say)",
                                     "\"%s\": %d readings are left out that no kiln has (%g, say)"),
                         curve->name, wild, first_wild);
    if (curve->n < 2) {
        ks_measured_note(&r->notes, "\"%s\" has fewer than 2 readings and is left out",
                         curve->name);
        return;
    }
    curve->gap_h = gap_of(curve, r->arena);
    tell_gaps(r, curve);
    r->out->n_curves++;
}

static void fill_mean(reader *r)
{
    ks_measured *out = r->out;
    out->mean = out->curves[0];
    if (out->n_curves == 1)
        return;
    ks_measured_curve mean = {"mean", 0, KS_TAKE(r->arena, r->n, double),
                              KS_TAKE(r->arena, r->n, double), 0};
    for (int i = 0; i < r->n; i++) {
        double sum = 0;
        int n = 0;
        for (int c = 0; c < out->n_curves; c++) {
            double temp_c = ks_measured_at(&out->curves[c], r->at[i].time_h);
            n += isfinite(temp_c);
            sum += isfinite(temp_c) ? temp_c : 0;
        }
        if (n == 0)
            continue;
        mean.time_h[mean.n] = r->at[i].time_h;
        mean.temp_c[mean.n++] = sum / n;
    }
    mean.gap_h = gap_of(&mean, r->arena);
    out->mean = mean;
}

ks_status ks_measured_parse(const char *name, const char *bytes, size_t length,
                            ks_measured_hint hint, ks_arena *arena, ks_measured *out, ks_error *err)
{
    reader r = {.hint = hint, .notes.arena = arena, .arena = arena, .err = err, .out = out};
    *out = (ks_measured){.file = ks_arena_text(arena, name)};
    ks_status status = ks_recorded_parse(name, bytes, length, &r.notes, arena, &r.table, err);
    if (status)
        return status;
    if (r.table.n_rows > 1)
        set_times(&r);
    status = put_in_order(&r);
    if (status)
        return status;
    if (r.n > 1)
        set_degrees(&r);
    out->curves = KS_TAKE(arena, r.table.n_columns, ks_measured_curve);
    for (int c = 0; c < r.table.n_columns && r.n > 1; c++)
        fill_curve(&r, c);
    if (out->n_curves == 0)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: found fewer than 2 readings of a time and a temperature; each line "
                       "needs both",
                       name);
    fill_mean(&r);
    out->n_remarks = r.notes.n;
    out->remarks = r.notes.at;
    return KS_OK;
}

ks_status ks_measured_read(const char *path, ks_measured_hint hint, ks_arena *arena,
                           ks_measured *out, ks_error *err)
{
    ks_bytes file;
    ks_status status = ks_file_read(path, KS_CSV_LARGEST, arena, &file, err);
    return status ? status
                  : ks_measured_parse(ks_path_show(path), file.bytes, file.length, hint, arena, out,
                                      err);
}

double ks_measured_at(const ks_measured_curve *curve, double time_h)
{
    int low = 0, high = curve->n - 1;
    if (curve->n == 0 || !(time_h >= curve->time_h[0] && time_h <= curve->time_h[high]))
        return NAN;
    while (high - low > 1) {
        int middle = (low + high) / 2;
        if (curve->time_h[middle] <= time_h)
            low = middle;
        else
            high = middle;
    }
    double apart = curve->time_h[high] - curve->time_h[low];
    if (time_h == curve->time_h[low] || high == low)
        return curve->temp_c[low];
    if (time_h == curve->time_h[high])
        return curve->temp_c[high];
    if (apart > curve->gap_h)
        return NAN;
    return curve->temp_c[low] +
           (time_h - curve->time_h[low]) / apart * (curve->temp_c[high] - curve->temp_c[low]);
}
