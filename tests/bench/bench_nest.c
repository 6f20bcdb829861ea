#include "bench.h"

#include "base/file.h"
#include "base/data/json.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Highest published densities of the strips, per cent, as the folder's README lists them. */
static const struct {
    const char *name;
    double best;
} published[] = {{"albano", 89.821},  {"blaz1", 86.224},   {"dagli", 90.172},  {"fu", 92.396},
                 {"jakobs1", 89.247}, {"shapes0", 69.978}, {"shirts", 90.920}, {"swim", 79.826}};

static ks_outline outline_read(const ks_json *shape, double scale, ks_arena *arena)
{
    const ks_json *data = ks_json_get(shape, "data");
    int n = data->n;
    const ks_json *first = &data->items[0], *last = &data->items[n - 1];
    if (first->items[0].number == last->items[0].number &&
        first->items[1].number == last->items[1].number)
        n--;
    ks_point *at = KS_TAKE(arena, n, ks_point);
    double twice = 0;
    for (int i = 0; i < n; i++)
        at[i] = (ks_point){scale * data->items[i].items[0].number,
                           scale * data->items[i].items[1].number};
    for (int i = 0; i < n; i++)
        twice += at[i].x * at[(i + 1) % n].y - at[(i + 1) % n].x * at[i].y;
    for (int i = 0; twice < 0 && i < n / 2; i++) {
        ks_point swapped = at[i];
        at[i] = at[n - 1 - i];
        at[n - 1 - i] = swapped;
    }
    return (ks_outline){n, at, 0};
}

static double turn_step(const ks_json *item)
{
    const ks_json *turns = ks_json_get(item, "allowed_orientations");
    return turns && turns->n > 1 ? 360.0 / turns->n : 360;
}

static ks_outline strip_of(double size, const void *form, ks_arena *arena)
{
    return ks_outline_rectangle(size, *(const double *)form, 0, arena);
}

static double strip_density(const char *path, double seconds, ks_arena *arena)
{
    ks_error err = {0};
    const ks_json *root;
    if (ks_json_read(path, arena, &root, &err)) {
        fprintf(stderr, "%s\n", err.text);
        exit(err.status);
    }
    const ks_json *list = ks_json_get(root, "items");
    double height = ks_json_get(root, "strip_height")->number, scale = 1000 / height, area = 0;
    double width = 1000;
    ks_shelf_item *items = KS_TAKE(arena, list->n, ks_shelf_item);
    for (int i = 0; i < list->n; i++) {
        ks_outline outline = outline_read(ks_json_get(&list->items[i], "shape"), scale, arena);
        double one = ks_outline_area(&outline);
        items[i] =
            bench_item(outline, one, (int)ks_json_get(&list->items[i], "demand")->number, arena);
        items[i].turn_step_deg = turn_step(&list->items[i]);
        area += one * items[i].copies;
    }
    bench_shrink job = {.n_items = list->n,
                        .items = items,
                        .container = strip_of,
                        .form = &width,
                        .start = area / width / 0.65,
                        .coarsest = 0.012,
                        .finest = 0.0005,
                        .seconds = seconds};
    return 100 * area / width / bench_shrunk(&job);
}

static void nest(const char *folder, const char *only)
{
    ks_arena arena = {0};
    for (size_t k = 0; k < sizeof published / sizeof published[0]; k++) {
        if (!bench_wanted("nest", published[k].name, only))
            continue;
        double from = bench_cpu_s();
        const char *name = ks_arena_print(&arena, "irregular/%s.json", published[k].name);
        double reached = strip_density(ks_path_join(folder, name, &arena), 30, &arena);
        bench_print((bench_row){ks_arena_print(&arena, "%s, %%", published[k].name), reached,
                                published[k].best, false, bench_cpu_s() - from});
    }
    ks_arena_finish(&arena);
}

const bench_group bench_nest = {"nest", nest};
