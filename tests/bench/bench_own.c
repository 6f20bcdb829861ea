#include "bench.h"

#include "base/random.h"

#include <math.h>

/* Instances of our own, for when no folder is at hand: the same on every machine. */

enum { PIECES = 40, CUTS = 25 };

static ks_shelf_item ware(ks_random *random, ks_arena *arena)
{
    double size = floor(ks_random_between(random, 32, 110));
    ks_outline outline = ks_outline_disc(0, 0, size, arena);
    if (ks_random_below(random, 10) >= 7)
        outline = ks_outline_rectangle(2 * size, floor(1.4 * size), 0, arena);
    return bench_item(outline, ks_outline_area(&outline), 1, arena);
}

/* Covered area of a round shelf, per cent; the bound that counts is none: all pieces together are
 * more than the shelf. */
static void shelf_of_ware(uint64_t seed, const char *only)
{
    ks_arena arena = {0};
    ks_random random = ks_random_of(seed, 0);
    ks_shelf_item items[PIECES];
    const char *name = ks_arena_print(&arena, "own-shelf-%d, %%", (int)seed);
    for (int i = 0; i < PIECES; i++)
        items[i] = ware(&random, &arena);
    if (bench_wanted("own", name, only)) {
        ks_shelf_space space = bench_space(ks_outline_disc(0, 0, 260, &arena), 6, 6, &arena);
        space.reserve_mm = 0.02;
        double from = bench_cpu_s();
        double worth =
            bench_search(&space, PIECES, items, (bench_stop){1, INFINITY, 0}, &arena).worth;
        bench_mean(name, 100 * worth / ks_outline_area(&space.regions[0].outline),
                   bench_cpu_s() - from);
    }
    ks_arena_finish(&arena);
}

/* A rectangle cut up by chance, edge to edge; together the pieces fill it. */
static int cut_up(ks_random *random, double side, double sizes[CUTS][2])
{
    int n = 1;
    sizes[0][0] = sizes[0][1] = side;
    while (n < CUTS) {
        int largest = 0;
        for (int i = 1; i < n; i++)
            if (sizes[i][0] * sizes[i][1] > sizes[largest][0] * sizes[largest][1])
                largest = i;
        int way = sizes[largest][0] < sizes[largest][1];
        double cut = floor(sizes[largest][way] * ks_random_between(random, 0.3, 0.7));
        sizes[n][way] = sizes[largest][way] - cut;
        sizes[n++][1 - way] = sizes[largest][1 - way];
        sizes[largest][way] = cut;
    }
    return n;
}

static void rectangle_cut_up(uint64_t seed, const char *only)
{
    ks_arena arena = {0};
    ks_random random = ks_random_of(seed, 1);
    double sizes[CUTS][2], side = 400;
    ks_shelf_item items[CUTS];
    const char *name = ks_arena_print(&arena, "own-cuts-%d", (int)seed);
    int n = cut_up(&random, side, sizes);
    for (int i = 0; i < n; i++) {
        double area = sizes[i][0] * sizes[i][1];
        items[i] =
            bench_item(ks_outline_rectangle(sizes[i][0], sizes[i][1], 0, &arena), area, 1, &arena);
        items[i].turn_step_deg = 90;
    }
    if (bench_wanted("own", name, only)) {
        ks_shelf_space space =
            bench_space(ks_outline_rectangle(side, side, 0, &arena), 0, 0, &arena);
        double from = bench_cpu_s(), all = side * side;
        double worth = bench_search(&space, n, items, (bench_stop){1, all, n}, &arena).worth;
        bench_print((bench_row){name, worth, all, false, bench_cpu_s() - from});
    }
    ks_arena_finish(&arena);
}

static void own(const char *folder, const char *only)
{
    enum { SEEDS = 3 };
    if (folder)
        return;
    for (uint64_t seed = 1; seed <= SEEDS; seed++)
        shelf_of_ware(seed, only);
    for (uint64_t seed = 1; seed <= SEEDS; seed++)
        rectangle_cut_up(seed, only);
}

const bench_group bench_own = {"own", own};
