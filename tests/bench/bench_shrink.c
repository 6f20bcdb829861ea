#include "bench.h"

#include <math.h>

static int wanted(const bench_shrink *job)
{
    int n = 0;
    for (int i = 0; i < job->n_items; i++)
        n += job->items[i].copies;
    return n;
}

static void scaled(ks_shelf_layout *layout, double by, bool also_y)
{
    for (int i = 0; i < layout->n_spots; i++) {
        layout->spots[i].stand.x *= by;
        layout->spots[i].stand.y *= also_y ? by : 1;
    }
}

/* A container being made smaller, and the layout for the least so far. */
typedef struct {
    const bench_shrink *job;
    ks_arena *arena;
    double least;
    ks_shelf_layout layout;
    double until_s;
} shrinking;

/* Searches one size, from the layout of the last, until the time is over or all pieces are in; then
 * it is the least. With time already over only the start counts: its pieces give way, no more. */
static bool all_in(shrinking *it, double size, double until_s)
{
    enum { UNITS = 500 };
    const bench_shrink *job = it->job;
    ks_shelf_space space = bench_space(job->container(size, job->form, it->arena), 0, 0, it->arena);
    ks_shelf_search *search = ks_shelf_search_create(&space, job->n_items, job->items, 1);
    ks_shelf_layout start = {it->layout.n_spots,
                             KS_TAKE(it->arena, it->layout.n_spots, ks_shelf_spot), 0, 0};
    for (int s = 0; s < start.n_spots; s++)
        start.spots[s] = it->layout.spots[s];
    scaled(&start, size / it->least, job->scales_y);
    if (start.n_spots > 0)
        ks_shelf_search_warm(search, &start);
    ks_shelf_layout found = ks_shelf_search_best(search, it->arena);
    while (found.n_spots < wanted(job) && bench_cpu_s() < until_s) {
        ks_shelf_search_run(search, UNITS, NULL);
        found = ks_shelf_search_best(search, it->arena);
    }
    ks_shelf_search_destroy(search);
    if (found.n_spots < wanted(job))
        return false;
    it->layout = found;
    it->least = size;
    return true;
}

static void tightened(shrinking *it)
{
    for (double cut = 0.002; cut >= it->job->finest && bench_cpu_s() < it->until_s; cut /= 8)
        while (all_in(it, it->least * (1 - cut), 0) && bench_cpu_s() < it->until_s)
            continue;
}

double bench_shrunk(const bench_shrink *job)
{
    ks_arena arena = {0};
    shrinking it = {job, &arena, INFINITY, {0, NULL, 0, 0}, bench_cpu_s() + job->seconds};
    double size = job->start, cut = job->coarsest, slice = job->seconds / 10;
    while (!all_in(&it, size, fmin(it.until_s, bench_cpu_s() + slice)) &&
           bench_cpu_s() < it.until_s)
        size *= 1.04;
    tightened(&it);
    while (bench_cpu_s() < it.until_s) {
        double until = cut > job->finest ? fmin(it.until_s, bench_cpu_s() + slice) : it.until_s;
        if (all_in(&it, it.least * (1 - cut), until))
            tightened(&it);
        else
            cut = fmax(cut / 2, job->finest);
    }
    ks_arena_finish(&arena);
    return it.least;
}
