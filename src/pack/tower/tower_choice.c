#include "pack/tower/tower_choice.h"

#include "pack/tower/tower_label.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A labelling: a label is a tower in the making, told by what stands on top of it, what it weighs
 * on each below, how high and how many it is. Labels grow by one piece at a time, each onto the
 * top; of those that end in the same piece on the same foot only the ones are kept that no other
 * equals in worth, lowness and what may still come on top. */

enum { LABELS_MOST = 6000, LIKE_MOST = 24 };

typedef struct {
    ks_labels *all;
    ks_tower_label *list;
    int n, room;
} labelling;

/* Whether one is as good as the other for all that may still be put on it. */
static bool outdoes(const ks_tower_label *a, const ks_tower_label *b)
{
    return a->worth >= b->worth && a->height_mm <= b->height_mm && a->bears_kg >= b->bears_kg &&
           a->reach_mm <= b->reach_mm && a->run <= b->run && a->n <= b->n;
}

static bool is_like(const ks_tower_label *a, const ks_tower_label *b)
{
    return a->base == b->base && a->top == b->top && a->way == b->way && a->n == b->n;
}

/* Labels of one length end at the list's end. */
static bool is_wanted(const labelling *l, int first, const ks_tower_label *next)
{
    int like = 0;
    for (int i = first; i < l->n; i++) {
        if (!is_like(&l->list[i], next))
            continue;
        like++;
        if (ks_label_is_same(&l->list[i], next) || outdoes(&l->list[i], next))
            return false;
    }
    return like < LIKE_MOST;
}

static void add(labelling *l, int first, const ks_tower_label *label)
{
    if (l->n >= LABELS_MOST || !is_wanted(l, first, label))
        return;
    l->list = KS_GROW(l->all->arena, l->list, l->n, &l->room, ks_tower_label);
    l->list[l->n++] = *label;
}

static void begin(labelling *l)
{
    for (int s = 0; s < l->all->n_stances; s++) {
        ks_tower_label label;
        if (ks_label_begun(l->all, s, &label))
            add(l, 0, &label);
    }
}

/* All labels one piece longer than those from `first` to `end`. */
static void grow(labelling *l, int first, int end)
{
    for (int i = first; i < end; i++)
        for (int s = 0; s < l->all->n_stances; s++) {
            ks_tower_label next;
            ks_tower_label from = l->list[i];
            if (ks_label_grown(l->all, &from, s, &next))
                add(l, end, &next);
        }
}

typedef struct {
    const ks_tower_label *label;
    double merit;
} candidate;

static int by_merit(const void *x, const void *y)
{
    const candidate *a = x, *b = y;
    if (a->merit != b->merit)
        return a->merit > b->merit ? -1 : 1;
    return (a->label > b->label) - (a->label < b->label);
}

/* Worth for the ground, and half as much for the height too: low levels want towers as well. */
static double merit_of(const ks_tower_label *label)
{
    double ground = label->reach_mm * label->reach_mm;
    return label->worth / (ground * sqrt(label->height_mm));
}

static int listed(const labelling *l, candidate *out)
{
    int n = 0;
    for (int i = 0; i < l->n; i++)
        if (l->list[i].n > 1)
            out[n++] = (candidate){&l->list[i], merit_of(&l->list[i])};
    qsort(out, (size_t)n, sizeof *out, by_merit);
    return n;
}

/* The best of each kind at the bottom, as many of each. */
static int chosen(const labelling *l, const ks_order *order, int most, ks_tower *towers)
{
    candidate *all = KS_TAKE(l->all->arena, l->n, candidate);
    int *of_base = KS_TAKE(l->all->arena, order->n_pieces, int), bases = 0, n = 0;
    int listed_n = listed(l, all);
    for (int i = 0; i < listed_n; i++)
        bases += of_base[ks_label_base(l->all, all[i].label)]++ == 0;
    memset(of_base, 0, sizeof(int) * (size_t)order->n_pieces);
    int each = bases > 0 ? most / bases : 0;
    for (int i = 0; i < listed_n && n < most; i++)
        if (of_base[ks_label_base(l->all, all[i].label)]++ < (each > 1 ? each : 1))
            towers[n++] = ks_label_tower(l->all, all[i].label);
    return n;
}

int ks_tower_rims(const ks_tower *tower)
{
    int n = 0;
    for (int m = 0; m < tower->n; m++)
        n += tower->members[m].way == KS_RIM;
    return n;
}

/* Those with fewer pieces on rims first, else in their order. */
static void sort_by_rims(ks_tower *towers, int n, ks_arena *scratch)
{
    ks_tower *sorted = KS_TAKE(scratch, n, ks_tower);
    int most = 0, put = 0;
    for (int t = 0; t < n; t++)
        most = ks_tower_rims(&towers[t]) > most ? ks_tower_rims(&towers[t]) : most;
    for (int rims = 0; rims <= most; rims++)
        for (int t = 0; t < n; t++)
            if (ks_tower_rims(&towers[t]) == rims)
                sorted[put++] = towers[t];
    for (int t = 0; t < n; t++)
        towers[t] = sorted[t];
}

int ks_towers_find(const ks_order *order, double tallest_mm, double longest_mm, ks_arena *arena,
                   const ks_tower **out)
{
    ks_arena scratch = {0};
    ks_labels all = ks_labels_of(order, tallest_mm, &scratch);
    ks_tower *towers = KS_TAKE(arena, KS_TOWERS_KNOWN, ks_tower);
    int n = ks_rows_on_edge(order, longest_mm, tallest_mm, KS_TOWERS_KNOWN / 2, arena, towers);
    labelling l = {.all = &all};
    all.out = arena;
    begin(&l);
    for (int first = 0, end = l.n; end > first && end < LABELS_MOST; first = end, end = l.n)
        grow(&l, first, end);
    n += chosen(&l, order, KS_TOWERS_KNOWN - n, towers + n);
    sort_by_rims(towers, n, &scratch);
    ks_arena_finish(&scratch);
    *out = towers;
    return n;
}
