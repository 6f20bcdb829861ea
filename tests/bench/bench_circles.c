#include "bench.h"

#include "base/file.h"
#include "base/data/json.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static ks_outline round_container(double size, const void *form, ks_arena *arena)
{
    return ks_outline_disc(0, 0, size, arena);
}

/* Radii are scaled so that the plan's grid of 0.001 mm is far below the accuracy asked for. */
static double circles_shrunk(const double *radii, int n, double seconds, ks_arena *arena)
{
    double area = 0, largest = 0;
    for (int i = 0; i < n; i++) {
        area += radii[i] * radii[i];
        largest = fmax(largest, radii[i]);
    }
    double scale = 1e6 / sqrt(area);
    ks_shelf_item *items = KS_TAKE(arena, n, ks_shelf_item);
    int n_items = 0;
    for (int i = 0; i < n; i++) {
        if (i > 0 && radii[i] == radii[i - 1]) {
            items[n_items - 1].copies++;
            continue;
        }
        double r = radii[i] * scale;
        items[n_items++] = bench_item(ks_outline_disc(0, 0, r, arena), r * r, 1, arena);
    }
    bench_shrink job = {.n_items = n_items,
                        .items = items,
                        .container = round_container,
                        .start = fmax(sqrt(area / 0.7), largest * 1.0001) * scale,
                        .coarsest = 2e-7,
                        .finest = 2e-7,
                        .seconds = seconds,
                        .scales_y = true};
    return bench_shrunk(&job) / scale;
}

static void equal(const char *folder, const char *only)
{
    ks_arena arena = {0};
    if (!bench_wanted("equal", "equal", only) && !bench_wanted("", only, "equal-"))
        return;
    bench_table table =
        bench_table_read(folder, "circles/equal_in_unit_circle_best_radius.csv", &arena);
    for (int r = 0; r < table.n_rows; r++) {
        int n = (int)bench_cell(&table, r, "N", 0);
        const char *name = ks_arena_print(&arena, "equal-%02d", n);
        if (n < 2 || n > 61 || !bench_wanted("equal", name, only))
            continue;
        double *radii = KS_TAKE(&arena, n, double), from = bench_cpu_s();
        for (int i = 0; i < n; i++)
            radii[i] = 1;
        double reached = circles_shrunk(radii, n, 1, &arena);
        bench_print((bench_row){name, reached,
                                1 / bench_cell(&table, r, "radius_in_unit_circle", 0), true,
                                bench_cpu_s() - from});
    }
    ks_arena_finish(&arena);
}

static void unequal(const char *folder, const char *only)
{
    ks_arena arena = {0};
    ks_error err = {0};
    bench_table table = bench_table_read(folder, "circles/unequal_ri_eq_i_best_R.csv", &arena);
    for (int r = 0; r < table.n_rows; r++) {
        int n = (int)bench_cell(&table, r, "n", 0);
        const char *name = ks_arena_print(&arena, "ri=i-%02d", n);
        if (!bench_wanted("unequal", name, only))
            continue;
        double *radii = KS_TAKE(&arena, n, double), from = bench_cpu_s();
        for (int i = 0; i < n; i++)
            radii[i] = i + 1;
        double reached = circles_shrunk(radii, n, n <= 20 ? 10 : 30, &arena);
        bench_print((bench_row){name, reached, bench_cell(&table, r, "best_R", 0), true,
                                bench_cpu_s() - from});
    }
    const ks_json *all;
    if (ks_json_read(ks_path_join(folder, "circles/unequal_NR_in_circle.json", &arena), &arena,
                     &all, &err)) {
        fprintf(stderr, "%s\n", err.text);
        exit(err.status);
    }
    for (int k = 0; k < all->n; k++) {
        const ks_json *list = ks_json_get(&all->items[k], "radii");
        if (!list || !bench_wanted("unequal", all->items[k].key, only))
            continue;
        double *radii = KS_TAKE(&arena, list->n, double), from = bench_cpu_s();
        for (int i = 0; i < list->n; i++)
            radii[i] = list->items[i].number;
        double reached = circles_shrunk(radii, list->n, list->n <= 20 ? 10 : 30, &arena);
        bench_print((bench_row){all->items[k].key, reached,
                                ks_json_get(&all->items[k], "best_R_2013")->number, true,
                                bench_cpu_s() - from});
    }
    ks_arena_finish(&arena);
}

const bench_group bench_equal = {"equal", equal}, bench_unequal = {"unequal", unequal};
