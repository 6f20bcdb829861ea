#include "bench.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static ks_shelf_item rectangle(const bench_table *table, int row, ks_arena *arena)
{
    double w = bench_cell(table, row, "WIDTH", 0), h = bench_cell(table, row, "HEIGHT", 0);
    ks_shelf_item item =
        bench_item(ks_outline_rectangle(w, h, 0, arena), bench_cell(table, row, "PROFIT", w * h),
                   (int)bench_cell(table, row, "COPIES", 1), arena);
    item.turn_step_deg = 360;
    return item;
}

/* The file names of an instance: its path with / as _. */
static const char *file_of(const char *path, const char *ending, ks_arena *arena)
{
    char *name = ks_arena_print(arena, "rect/%s_%s.csv", path, ending);
    for (char *at = name + strlen("rect/"); *at; at++)
        if (*at == '/')
            *at = '_';
    return name;
}

typedef struct {
    int n_items;
    ks_shelf_item *items;
    double width, height;
} instance;

static instance instance_read(const char *folder, const char *path, ks_arena *arena)
{
    bench_table items = bench_table_read(folder, file_of(path, "items", arena), arena);
    bench_table bins = bench_table_read(folder, file_of(path, "bins", arena), arena);
    instance out = {.n_items = items.n_rows, .items = KS_TAKE(arena, items.n_rows, ks_shelf_item)};
    for (int i = 0; i < items.n_rows; i++)
        out.items[i] = rectangle(&items, i, arena);
    out.width = bench_cell(&bins, 0, "WIDTH", 0);
    out.height = bench_cell(&bins, 0, "HEIGHT", 0);
    return out;
}

static double knapsack_of(const instance *it, double best, double seconds, ks_arena *arena)
{
    ks_shelf_space space =
        bench_space(ks_outline_rectangle(it->width, it->height, 0, arena), 0, 0, arena);
    return bench_search(&space, it->n_items, it->items, (bench_stop){seconds, best, 0}, arena)
        .worth;
}

static ks_outline strip_of(double size, const void *form, ks_arena *arena)
{
    double width = *(const double *)form;
    ks_outline out = ks_outline_rectangle(size, width, 0, arena);
    return out;
}

/* Strips are shortened by whole units, and from the height that the area asks for upwards. */
static double strip_height(const instance *it, double seconds, ks_arena *arena)
{
    double area = 0, end = bench_cpu_s() + seconds;
    for (int i = 0; i < it->n_items; i++)
        area += it->items[i].worth * it->items[i].copies;
    double least = ceil(area / it->width - 1e-9), best = INFINITY;
    for (double height = ceil(least * 1.15); height >= least; height--) {
        ks_shelf_space space = bench_space(strip_of(height, &it->width, arena), 0, 0, arena);
        ks_shelf_item *turned = KS_TAKE(arena, it->n_items, ks_shelf_item);
        for (int i = 0; i < it->n_items; i++) {
            ks_box box = ks_outline_box(&it->items[i].parts[0].outline);
            turned[i] = bench_item(ks_outline_rectangle(box.y1 - box.y0, box.x1 - box.x0, 0, arena),
                                   it->items[i].worth, 1, arena);
            turned[i].turn_step_deg = 90;
        }
        bench_stop stop = {end - bench_cpu_s(), 0, it->n_items};
        int in = bench_search(&space, it->n_items, turned, stop, arena).n_spots;
        if (in < it->n_items)
            break;
        best = height;
    }
    return best;
}

/* Bins filled one after the other with what is left; returns how many. Pieces of bins that
 * were not full are worth more from then on. */
static int bins_in_one_pass(const instance *it, ks_shelf_item *items, double seconds_a_bin,
                            ks_arena *arena)
{
    int bins = 0;
    double room = it->width * it->height;
    ks_shelf_space space =
        bench_space(ks_outline_rectangle(it->width, it->height, 0, arena), 0, 0, arena);
    for (int left = it->n_items; left > 0 && bins < it->n_items; bins++) {
        bench_stop stop = {seconds_a_bin, 0, left};
        ks_shelf_layout layout = bench_search(&space, it->n_items, items, stop, arena);
        double area = 0;
        for (int s = 0; s < layout.n_spots; s++)
            area += it->items[layout.spots[s].item].worth;
        for (int s = 0; s < layout.n_spots; s++) {
            ks_shelf_item *item = &items[layout.spots[s].item];
            item->copies--;
            item->worth *=
                1 + 0.3 * (1 - area / room); /* what came out badly goes first next time */
        }
        left -= layout.n_spots;
    }
    return bins;
}

static double bins_used(const instance *it, double best, double seconds, ks_arena *arena)
{
    double until = bench_cpu_s() + seconds, least = INFINITY;
    ks_shelf_item *items = KS_TAKE(arena, it->n_items, ks_shelf_item);
    for (int i = 0; i < it->n_items; i++)
        items[i] = it->items[i];
    while (bench_cpu_s() < until && least > best) {
        for (int i = 0; i < it->n_items; i++)
            items[i].copies = it->items[i].copies;
        least = fmin(least, bins_in_one_pass(it, items, 0.005, arena));
    }
    return least;
}

typedef struct {
    const char *objective, *group;
    bool less_is_better;
    double seconds;
    double (*reached)(const instance *it, double best, double seconds, ks_arena *arena);
} kind_of_case;

static void cases_run(const char *folder, const char *only, kind_of_case kind)
{
    ks_arena arena = {0};
    bench_table best = bench_table_read(folder, "rect/best.csv", &arena);
    double sum = 0, wanted = 0, from = bench_cpu_s();
    for (int r = 0; r < best.n_rows; r++) {
        const char *path = bench_cell_text(&best, r, "path");
        double known = bench_cell(&best, r, "best_known", 0), at = bench_cpu_s();
        if (strcmp(bench_cell_text(&best, r, "objective"), kind.objective) != 0 ||
            !bench_wanted(kind.group, path, only))
            continue;
        instance it = instance_read(folder, path, &arena);
        double got = kind.reached(&it, known, kind.seconds, &arena);
        sum += got;
        wanted += known;
        bench_print((bench_row){path, got, known, kind.less_is_better, bench_cpu_s() - at});
    }
    if (wanted > 0)
        bench_print((bench_row){ks_arena_print(&arena, "%s, sum", kind.group), sum, wanted,
                                kind.less_is_better, bench_cpu_s() - from});
    ks_arena_finish(&arena);
}

static double strip_reached(const instance *it, double best, double seconds, ks_arena *arena)
{
    return strip_height(it, seconds, arena);
}

static double bins_reached(const instance *it, double best, double seconds, ks_arena *arena)
{
    return bins_used(it, best, seconds, arena);
}

static void knapsack(const char *folder, const char *only)
{
    cases_run(folder, only, (kind_of_case){"knapsack_oriented", "knapsack", false, 2, knapsack_of});
}

static void strip(const char *folder, const char *only)
{
    cases_run(folder, only,
              (kind_of_case){"strip_height_optimum", "strip", true, 2, strip_reached});
}

static void bins(const char *folder, const char *only)
{
    cases_run(folder, only, (kind_of_case){"binpacking_oriented", "bins", true, 3, bins_reached});
}

const bench_group bench_knapsack = {"knapsack", knapsack}, bench_strip = {"strip", strip},
                  bench_bins = {"bins", bins};
