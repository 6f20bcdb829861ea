/* Hot and cold places of a kiln, from the cones that were seen in it. */
#include "kilnstow/learn.h"

#include "kilnstow/cone.h"
#include "kilnstow/cost.h"
#include "studio/level_name.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A cone bends over 22 K; one sigma of reading a single one. */
#define ONE_CONE_K 11.0

/* Where the level of that name begins, as a part of the chamber's height; NAN = the load has none.
 */
static double height_of(const ks_load *load, const char *level, ks_arena *arena)
{
    const char **names = ks_level_names(load, arena);
    for (int l = 0; l < load->n_levels; l++)
        if (strcmp(names[l], level) == 0)
            return load->levels[l].z_mm / load->height_mm;
    return NAN;
}

/* The plan read last: firings of one plan stand near each other. */
typedef struct {
    const char *hash;
    const ks_plan *plan;
} last_plan;

/* Entries of the record's first version do not tell how high a level stood: their plans do. */
static ks_status find_heights(ks_book *book, ks_book_firing *firing, last_plan *last,
                              ks_arena *arena, ks_error *err)
{
    for (int i = 0; i < firing->n_cones; i++) {
        ks_cone_seen *cone = &firing->cones[i];
        if (!isnan(cone->height))
            continue;
        if (!last->hash || strcmp(last->hash, firing->plan) != 0) {
            ks_plan *plan;
            ks_status status = ks_book_plan_read(book, firing->plan, arena, &plan, err);
            if (status)
                return status;
            *last = (last_plan){firing->plan, plan};
        }
        if (firing->load <= last->plan->n_loads)
            cone->height = height_of(&last->plan->loads[firing->load - 1], cone->level, arena);
    }
    return KS_OK;
}

/* Sums of one place. */
typedef struct {
    const char *side;
    int third, n;
    double sum, square;
} tally;

static void add(tally **all, int *n, int *room, ks_arena *arena, tally seen)
{
    for (int i = 0; i < *n; i++)
        if ((*all)[i].third == seen.third && strcmp((*all)[i].side, seen.side) == 0) {
            (*all)[i].n++;
            (*all)[i].sum += seen.sum;
            (*all)[i].square += seen.sum * seen.sum;
            return;
        }
    *all = KS_GROW(arena, *all, *n, room, tally);
    seen.n = 1;
    seen.square = seen.sum * seen.sum;
    (*all)[(*n)++] = seen;
}

static double temp_of(const ks_cone_seen *cone)
{
    double place;
    return ks_cone_place_read(cone->cone, &place) ? ks_cone_place_c(place) : NAN;
}

/* Each cone against the mean of the others' firing: what the programme did is not the kiln's. */
static void add_firing(const ks_book_firing *firing, ks_arena *arena, tally **all, int *n,
                       int *room)
{
    double mean = 0;
    for (int i = 0; i < firing->n_cones; i++)
        mean += temp_of(&firing->cones[i]) / firing->n_cones;
    for (int i = 0; i < firing->n_cones; i++)
        if (!isnan(firing->cones[i].height))
            add(all, n, room, arena,
                (tally){.side = firing->cones[i].side,
                        .third = ks_third_of(firing->cones[i].height),
                        .sum = temp_of(&firing->cones[i]) - mean});
}

static int from_below(const void *a, const void *b)
{
    const tally *x = a, *y = b;
    return x->third != y->third ? x->third - y->third : strcmp(x->side, y->side);
}

/* The mean's sigma by what was seen, and by reading one cone where there is little. */
static double sigma_of(const tally *of)
{
    double mean = of->sum / of->n;
    double scatter = of->n > 1 ? sqrt(fmax(of->square - of->n * mean * mean, 0) / (of->n - 1)) : 0;
    return fmax(scatter, ONE_CONE_K) / sqrt(of->n);
}

ks_status ks_book_map(ks_book *book, const char *kiln, ks_arena *arena, ks_kiln_map *out,
                      ks_error *err)
{
    int n, n_all = 0, room = 0;
    ks_book_firing *firings;
    tally *all = NULL;
    *out = (ks_kiln_map){0};
    last_plan last = {0};
    ks_book_asked asked = {.kiln = kiln, .lists = KS_LIST_CONES};
    ks_status status = ks_book_firings(book, &asked, arena, &n, &firings, err);
    for (int i = 0; i < n && !status; i++) {
        if (firings[i].n_cones < 2)
            continue;
        out->firings++;
        status = find_heights(book, &firings[i], &last, arena, err);
        if (!status)
            add_firing(&firings[i], arena, &all, &n_all, &room);
    }
    if (status || n_all == 0)
        return status;
    qsort(all, (size_t)n_all, sizeof *all, from_below);
    out->places = KS_TAKE(arena, n_all, ks_map_place);
    for (; out->n < n_all; out->n++)
        out->places[out->n] =
            (ks_map_place){ks_third_name(all[out->n].third), all[out->n].side, all[out->n].n,
                           all[out->n].sum / all[out->n].n, sigma_of(&all[out->n])};
    return KS_OK;
}
