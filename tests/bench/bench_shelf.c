#include "bench.h"

#include "base/file.h"
#include "place/bound/limit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LINE = 4096 };

/* "C radius h height" or "P nparts h height {nverts x y ...}" in one line. */
static ks_shelf_item item_read(char *line, ks_arena *arena)
{
    char *at = line + 1;
    if (line[0] == 'C') {
        double r = strtod(at, &at);
        ks_shelf_item item = bench_item(ks_outline_disc(0, 0, r, arena), 0, 1, arena);
        return item;
    }
    long n_parts = strtol(at, &at, 10);
    at = strchr(at, 'h') + 1;
    double height = strtod(at, &at);
    ks_part *parts = KS_TAKE(arena, n_parts, ks_part);
    for (long p = 0; p < n_parts; p++) {
        int n = (int)strtol(at, &at, 10);
        ks_point *corners = KS_TAKE(arena, n, ks_point);
        for (int i = 0; i < n; i++) {
            corners[i].x = strtod(at, &at);
            corners[i].y = strtod(at, &at);
        }
        parts[p] = (ks_part){.kind = KS_PART_BODY, .to_mm = height, .outline = {n, corners, 0}};
    }
    return (ks_shelf_item){.n_parts = (int)n_parts, .parts = parts, .glazed = true, .copies = 1};
}

static int items_read(const char *path, ks_shelf_item *items, int room, ks_arena *arena)
{
    FILE *file = fopen(path, "r");
    char line[LINE];
    int n = 0;
    if (!file) {
        perror(path);
        exit(KS_SYSTEM);
    }
    while (n < room && fgets(line, sizeof line, file))
        if (line[0] == 'C' || line[0] == 'P') {
            items[n] = item_read(line, arena);
            for (int p = 0; p < items[n].n_parts; p++)
                items[n].worth += ks_outline_area(&items[n].parts[p].outline);
            n++;
        }
    fclose(file);
    return n;
}

/* Three posts of 38 mm near the rim of a shelf of radius 260 mm, as the furniture makers advise. */
static void posts_added(ks_shelf_space *space, ks_arena *arena)
{
    static const double third[3][2] = {
        {0, 1}, {-0.8660254037844386, -0.5}, {0.8660254037844386, -0.5}};
    ks_shelf_obstacle *posts = KS_TAKE(arena, 3, ks_shelf_obstacle);
    for (int k = 0; k < 3; k++)
        posts[k] = (ks_shelf_obstacle){
            .outline = ks_outline_disc(235 * third[k][0], 235 * third[k][1], 19, arena),
            .to_mm = 1000,
            .clearance_mm = 6,
            .turns = true};
    space->n_obstacles = 3;
    space->obstacles = posts;
    space->posts_free = true;
}

/* What can be on the shelf at the most, proven, mm2. */
static double limit_of(const ks_shelf_space *space, int n, const ks_shelf_item *items,
                       ks_arena *arena)
{
    int *times = KS_TAKE(arena, n, int), *height = KS_TAKE(arena, n, int);
    double *gain = KS_TAKE(arena, n, double);
    for (int i = 0; i < n; i++) {
        times[i] = items[i].copies;
        gain[i] = items[i].worth;
    }
    ks_limit limit;
    ks_limit_ware ware = {space, n, items, times, height, 1, NULL};
    ks_limit_init(&limit, &ware, arena);
    ks_limit_gain(&limit, gain);
    return ks_limit_of(&limit, 0);
}

enum { SEEDS = 6, MARKS = 3 };
static const double marks_s[MARKS] = {0.1, 1, 5};

/* Covered at the marks, %, and what is proven to be the most. */
static double one_shelf(const char *folder, int seed, bool posts, double *covered, ks_arena *arena)
{
    enum { ROOM = 200 };
    ks_shelf_item items[ROOM];
    const char *name = ks_arena_print(arena, "shelf/shelf40_seed%d.txt", seed);
    int n = items_read(ks_path_join(folder, name, arena), items, ROOM, arena);
    ks_shelf_space space = bench_space(ks_outline_disc(0, 0, 260, arena), 6, 6, arena);
    space.reserve_mm = 0.02;
    if (posts)
        posts_added(&space, arena);
    double from = bench_cpu_s(), shelf = ks_outline_area(&space.regions[0].outline);
    ks_shelf_search *search = ks_shelf_search_create(&space, n, items, 1);
    for (int m = 0; m < MARKS; m++) {
        while (bench_cpu_s() - from < marks_s[m])
            ks_shelf_search_run(search, 100, NULL);
        covered[m] = 100 * ks_shelf_search_best(search, arena).worth / shelf;
    }
    ks_shelf_search_destroy(search);
    return 100 * limit_of(&space, n, items, arena) / shelf;
}

static void shelves(const char *folder, const char *only, bool posts)
{
    const char *group = posts ? "shelf40-posts" : "shelf40-free";
    double sum[MARKS] = {0}, covered[MARKS];
    ks_arena arena = {0};
    if (!bench_wanted(group, group, only))
        return;
    for (int seed = 1; seed <= SEEDS; seed++) {
        double most = one_shelf(folder, seed, posts, covered, &arena);
        for (int m = 0; m < MARKS; m++)
            sum[m] += covered[m] / SEEDS;
        bench_mean(ks_arena_print(&arena, "%s seed %d, %%", group, seed), covered[MARKS - 1],
                   marks_s[MARKS - 1]);
        bench_mean(ks_arena_print(&arena, "%s seed %d, gap, %%", group, seed),
                   100 * (most / covered[MARKS - 1] - 1), marks_s[MARKS - 1]);
    }
    for (int m = 0; m < MARKS; m++)
        bench_mean(ks_arena_print(&arena, "%s mean, %%", group), sum[m], marks_s[m]);
    ks_arena_finish(&arena);
}

static void both(const char *folder, const char *only)
{
    shelves(folder, only, false);
    shelves(folder, only, true);
}

const bench_group bench_shelf = {"shelf40", both};
