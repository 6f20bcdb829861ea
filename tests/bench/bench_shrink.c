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

/* Searches one size for so many CPU seconds; true when all pieces are in. */
static bool all_in(const bench_shrink *job, double size, uint64_t seed, double until_s,
                   ks_shelf_layout *layout, ks_arena *arena)
{
    ks_shelf_space space = bench_space(job->container(size, job->form, arena), 0, 0, arena);
    ks_shelf_search *search = ks_shelf_search_create(&space, job->n_items, job->items, seed);
    if (layout->n_spots > 0)
        ks_shelf_search_warm(search, layout);
    ks_shelf_layout found = ks_shelf_search_best(search, arena);
    while (found.n_spots < wanted(job) && bench_cpu_s() < until_s) {
        ks_shelf_search_run(search, 500, NULL);
        found = ks_shelf_search_best(search, arena);
    }
    ks_shelf_search_destroy(search);
    if (found.n_spots < wanted(job))
        return false;
    *layout = found;
    return true;
}

double bench_shrunk(const bench_shrink *job)
{
    double end = bench_cpu_s() + job->seconds, best = INFINITY, cut = 0.03, size = job->start;
    ks_shelf_layout layout = {0};
    ks_arena arena = {0};
    double slice = job->seconds / 25;
    for (uint64_t seed = 1; bench_cpu_s() < end; seed++) {
        double until = fmin(end, bench_cpu_s() + slice);
        if (all_in(job, size, seed, until, &layout, &arena)) {
            best = size;
        } else if (isinf(best)) {
            size *= 1.05;
            continue;
        } else if (cut > job->finest) {
            cut = fmax(cut / 3, job->finest);
        } else {
            slice *= 1.5;
        }
        scaled(&layout, best * (1 - cut) / size, job->scales_y);
        size = best * (1 - cut);
    }
    ks_arena_finish(&arena);
    return best;
}
