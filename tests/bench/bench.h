/* bench.h: what the benchmark's groups share: reading instances, running a search, one row of the
 * table. */
#ifndef KILNSTOW_TESTS_BENCH_H
#define KILNSTOW_TESTS_BENCH_H

#include "pack/shelf/shelf.h"

/* One group of instances: reads them from the folder (NULL: there is none) and prints a row for
 * each whose name holds `only` ("" = all). */
typedef struct {
    const char *name;
    void (*run)(const char *folder, const char *only);
} bench_group;

extern const bench_group bench_shelf, bench_equal, bench_unequal, bench_knapsack, bench_strip,
    bench_bins, bench_nest, bench_own;

/* CPU seconds of this process. */
double bench_cpu_s(void);

/* Whether a row of this name is wanted. */
bool bench_wanted(const char *group, const char *name, const char *only);

/* Prints a row; the ratio is such that 1 is the best known and less is worse. */
typedef struct {
    const char *name;
    double reached, best;
    bool less_is_better;
    double cpu_s;
} bench_row;
void bench_print(bench_row row);
void bench_mean(const char *name, double mean, double cpu_s);

/* A table with a header: cells by column name, as numbers. */
typedef struct {
    int n_rows, n_columns;
    const char **columns;
    const char ***cells;
} bench_table;
bench_table bench_table_read(const char *folder, const char *file, ks_arena *arena);
double bench_cell(const bench_table *table, int row, const char *column, double absent);
const char *bench_cell_text(const bench_table *table, int row, const char *column);

/* A piece that is one outline from the shelf up. */
ks_shelf_item bench_item(ks_outline outline, double worth, int copies, ks_arena *arena);

/* A level that is one region, without posts. */
ks_shelf_space bench_space(ks_outline outline, double ware_mm, double margin_mm, ks_arena *arena);

/* When a search is done: after so many CPU seconds, or once it has that much worth or that many
 * pieces (0: never for that). */
typedef struct {
    double seconds, worth;
    int pieces;
} bench_stop;
ks_shelf_layout bench_search(const ks_shelf_space *space, int n_items, const ks_shelf_item *items,
                             bench_stop stop, ks_arena *arena);

/* A container that is made smaller until not all pieces go in. */
typedef struct {
    int n_items;
    const ks_shelf_item *items;
    ks_outline (*container)(double size, const void *form, ks_arena *arena);
    const void *form;
    double start; /* size to begin with */
    double
        coarsest; /* first reduction searched for, as a fraction of the size; halved when in vain */
    double finest; /* last reduction tried */
    double seconds;
    bool scales_y; /* a circle: shrinks in both directions */
} bench_shrink;

/* The least size into which all went; INFINITY if they never did. */
double bench_shrunk(const bench_shrink *job);

#endif
