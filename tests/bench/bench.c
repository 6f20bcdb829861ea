#include "bench.h"

#include "base/data/csv.h"
#include "base/file.h"
#include "base/number.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

double bench_cpu_s(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

bool bench_wanted(const char *group, const char *name, const char *only)
{
    return strstr(group, only) || strstr(name, only);
}

void bench_print(bench_row row)
{
    double ratio = row.less_is_better ? row.best / row.reached : row.reached / row.best;
    printf("%-30s %16.10g %16.10g %12.7f %9.2f\n", row.name, row.reached, row.best, ratio,
           row.cpu_s);
    fflush(stdout);
}

void bench_mean(const char *name, double mean, double cpu_s)
{
    printf("%-30s %16.10g %16s %12s %9.2f\n", name, mean, "", "", cpu_s);
    fflush(stdout);
}

static _Noreturn void gave_up(const ks_error *err)
{
    fprintf(stderr, "%s\n", err->text);
    exit(err->status);
}

bench_table bench_table_read(const char *folder, const char *file, ks_arena *arena)
{
    ks_error err = {0};
    ks_csv csv;
    if (ks_csv_read(ks_path_join(folder, file, arena), arena, &csv, &err))
        gave_up(&err);
    bench_table table = {.n_rows = csv.n_rows,
                         .n_columns = csv.header.n,
                         .columns = KS_TAKE(arena, csv.header.n, const char *),
                         .cells = KS_TAKE(arena, csv.n_rows, const char **)};
    for (int c = 0; c < csv.header.n; c++)
        table.columns[c] = csv.header.cells[c].text;
    for (int r = 0; r < csv.n_rows; r++) {
        table.cells[r] = KS_TAKE(arena, csv.header.n, const char *);
        for (int c = 0; c < csv.header.n; c++)
            table.cells[r][c] = c < csv.rows[r].n ? csv.rows[r].cells[c].text : "";
    }
    return table;
}

const char *bench_cell_text(const bench_table *table, int row, const char *column)
{
    for (int c = 0; c < table->n_columns; c++)
        if (strcmp(table->columns[c], column) == 0)
            return table->cells[row][c];
    return NULL;
}

double bench_cell(const bench_table *table, int row, const char *column, double absent)
{
    const char *text = bench_cell_text(table, row, column);
    double number = absent;
    if (text)
        (void)ks_number_read(text, &number);
    return number;
}

ks_shelf_item bench_item(ks_outline outline, double worth, int copies, ks_arena *arena)
{
    ks_part *part = KS_TAKE(arena, 1, ks_part);
    *part = (ks_part){.kind = KS_PART_BODY, .from_mm = 0, .to_mm = 100, .outline = outline};
    return (ks_shelf_item){
        .n_parts = 1, .parts = part, .glazed = true, .worth = worth, .copies = copies};
}

ks_shelf_space bench_space(ks_outline outline, double ware_mm, double margin_mm, ks_arena *arena)
{
    ks_shelf_region *region = KS_TAKE(arena, 1, ks_shelf_region);
    *region = (ks_shelf_region){.outline = outline, .to_mm = 1000, .margin_mm = margin_mm};
    return (ks_shelf_space){.n_regions = 1,
                            .regions = region,
                            .height_mm = 1000,
                            .ware_mm = ware_mm,
                            .under_mm = 12,
                            .setter_mm = ware_mm,
                            .mass_limit_kg = INFINITY};
}

ks_shelf_layout bench_search(const ks_shelf_space *space, int n_items, const ks_shelf_item *items,
                             bench_stop stop, ks_arena *arena)
{
    enum { UNITS = 200 };
    double until = bench_cpu_s() + stop.seconds;
    ks_shelf_search *search = ks_shelf_search_create(space, n_items, items, 1);
    ks_shelf_layout layout = {0};
    while (bench_cpu_s() < until && !(stop.worth > 0 && layout.worth >= stop.worth) &&
           !(stop.pieces > 0 && layout.n_spots >= stop.pieces)) {
        ks_shelf_search_run(search, UNITS, NULL);
        layout = ks_shelf_search_best(search, arena);
    }
    ks_shelf_search_destroy(search);
    return layout;
}

int main(int argc, char **argv)
{
    static const bench_group *const groups[] = {&bench_own,     &bench_shelf,    &bench_equal,
                                                &bench_unequal, &bench_knapsack, &bench_strip,
                                                &bench_bins,    &bench_nest};
    printf("%-30s %16s %16s %12s %9s\n", "instance", "reached", "best known", "ratio", "CPU s");
    if (argc < 2)
        bench_own.run(NULL, "");
    for (int c = 2; c < argc || (c == 2 && argc == 2); c++)
        for (size_t g = 0; g < sizeof groups / sizeof groups[0]; g++)
            groups[g]->run(argv[1], c < argc ? argv[c] : "");
    return 0;
}
