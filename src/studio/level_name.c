#include "studio/level_name.h"

#include <math.h>
#include <string.h>

/* Bays less than this within one another only touch. */
static const double touch_mm = 5;

/* A bay is across the chamber that is more than this much of it, and beside no other. */
static const double across = 0.6;

static const ks_outline *bay_outline(const ks_load *load, const char *bay)
{
    for (int i = 0; i < load->n_bays; i++)
        if (load->bays[i].id && strcmp(load->bays[i].id, bay) == 0)
            return ks_outline_fault(&load->bays[i].outline) ? NULL : &load->bays[i].outline;
    return NULL;
}

bool ks_bays_overlap(const ks_load *load, const char *a, const char *b)
{
    const ks_outline *p = bay_outline(load, a), *q = bay_outline(load, b);
    return strcmp(a, b) == 0 || !p || !q || ks_outline_distance(p, q) < -touch_mm;
}

static const char *bay_of(const ks_load *load, int level)
{
    return load->levels[level].bay ? load->levels[level].bay : "";
}

/* Bays are few and levels may be many, so each pair of bays is looked at once. */
typedef struct {
    const ks_load *load;
    int *bay;      /* of each level, the first level of the same bay */
    bool *overlap; /* of pairs of those */
    int *tier;     /* 0 = not counted yet */
} naming;

static bool share_ground(const naming *n, int a, int b)
{
    return n->overlap[n->bay[a] * n->load->n_levels + n->bay[b]];
}

static naming naming_of(const ks_load *load, ks_arena *arena)
{
    int n = load->n_levels;
    naming of = {load, KS_TAKE(arena, n, int), KS_TAKE(arena, n * n, bool), KS_TAKE(arena, n, int)};
    for (int l = 0; l < n; l++) {
        while (strcmp(bay_of(load, of.bay[l]), bay_of(load, l)) != 0)
            of.bay[l]++;
        for (int k = 0; k <= l && of.bay[l] == l; k++)
            if (of.bay[k] == k)
                of.overlap[l * n + k] = of.overlap[k * n + l] =
                    ks_bays_overlap(load, bay_of(load, l), bay_of(load, k));
    }
    return of;
}

/* The lowest level not counted yet: what is under it has its tier. */
static int next_up(const naming *n)
{
    int best = -1;
    for (int l = 0; l < n->load->n_levels; l++)
        if (n->tier[l] == 0 && (best < 0 || n->load->levels[l].z_mm < n->load->levels[best].z_mm))
            best = l;
    return best;
}

static void count_tiers(naming *n)
{
    for (int at = next_up(n); at >= 0; at = next_up(n)) {
        int tier = 1;
        for (int l = 0; l < n->load->n_levels; l++)
            if (n->tier[l] >= tier && share_ground(n, l, at))
                tier = n->tier[l] + 1;
        n->tier[at] = tier;
    }
}

/* The largest ground of the load: of its chamber or one of its bays. */
static double most_ground(const ks_load *load)
{
    double most = 0;
    for (int i = 0; i < load->n_parts; i++)
        if (!ks_outline_fault(&load->parts[i].outline))
            most = fmax(most, ks_outline_area(&load->parts[i].outline));
    for (int i = 0; i < load->n_bays; i++)
        if (!ks_outline_fault(&load->bays[i].outline))
            most = fmax(most, ks_outline_area(&load->bays[i].outline));
    return most;
}

/* A bay that is alone in its load may still be the half of a kiln. */
static bool is_across(const naming *n, int level, double most)
{
    const ks_outline *own = bay_outline(n->load, bay_of(n->load, level));
    for (int l = 0; l < n->load->n_levels; l++)
        if (!share_ground(n, l, level))
            return false;
    return !own || ks_outline_area(own) > across * most;
}

const char **ks_level_names(const ks_load *load, ks_arena *arena)
{
    const char **names = KS_TAKE(arena, load->n_levels, const char *);
    ks_arena scratch = {0};
    naming n = naming_of(load, &scratch);
    count_tiers(&n);
    double most = most_ground(load);
    for (int l = 0; l < load->n_levels; l++)
        names[l] = is_across(&n, l, most)
                       ? ks_arena_print(arena, "%d", n.tier[l])
                       : ks_arena_print(arena, "%d %s", n.tier[l], bay_of(load, l));
    ks_arena_finish(&scratch);
    return names;
}

const int *ks_level_tiers(const ks_load *load, ks_arena *arena)
{
    naming n = naming_of(load, arena);
    count_tiers(&n);
    return n.tier;
}

const char *ks_level_file_name(const char *name, ks_arena *arena)
{
    char *text = (char *)ks_arena_print(arena, "%s", name);
    for (char *c = text; *c; c++)
        if (*c == ' ' || *c == '/' || *c == '\\')
            *c = '-';
    return text;
}
