#include "pack/instance/instance.h"

#include "pack/instance/nearest.h"
#include "pack/shelf/shelf_rule.h"

#include <math.h>
#include <string.h>

static double find_outreach(const ks_item_type *kind, int a, int b)
{
    ks_core inner = ks_item_type_core(kind, a), outer = ks_item_type_core(kind, b);
    double most = -INFINITY;
    ks_nearest_places touch;
    for (int i = 0; i < inner.n; i++)
        most = fmax(most, ks_nearest_point(&outer, inner.x[i], inner.y[i], &touch));
    return most;
}

double ks_item_type_outreach(const ks_item_type *kind, int a, int b)
{
    double *known = &kind->outreach[a * kind->n_cores + b];
    if (isnan(*known))
        *known = a == b ? 0 : find_outreach(kind, a, b);
    return *known;
}

double ks_item_type_allowance(const ks_item_type *kind)
{
    double of_turn = kind->reach * (KS_TURN_STEP / 2) * 0.0174532925199433;
    return KS_PACK_ALLOWANCE / 2 + (kind->turnless ? 0 : of_turn);
}

/* Whether keeping `strong` keeps `weak` too: the weak cores lie deep enough in the strong ones. */
static bool follows(const ks_item_type *a, const ks_item_type *b, ks_separation strong,
                    ks_separation weak)
{
    double out = ks_item_type_outreach(a, weak.a, strong.a);
    if (b)
        out += ks_item_type_outreach(b, weak.b, strong.b);
    else if (weak.b != strong.b)
        return false;
    return strong.need - weak.need >= out;
}

void ks_separation_add(const ks_item_type *a, const ks_item_type *b, ks_separation_list *to,
                       ks_separation more)
{
    int kept = 0, others = to->n - to->own;
    for (int i = 0; i < others; i++)
        if (follows(a, b, to->list[i], more))
            return;
    for (int i = 0; i < others; i++)
        if (!follows(a, b, more, to->list[i]))
            to->list[kept++] = to->list[i];
    if (kept < others)
        memmove(to->list + kept, to->list + others, sizeof *to->list * (size_t)to->own);
    to->n += kept - others;
    to->list[to->n++] = more;
    to->own++;
}

/* Slices of one part follow one another: the end of those that begin at `first`. */
static int end_of_part(const ks_item_type *kind, int first)
{
    int end = first;
    while (end < kind->n_slices && kind->slices[end].part == kind->slices[first].part)
        end++;
    return end;
}

/* What the slices of a part keep from those of another, from slice s of a and slice t of b on. */
static void add_parts(const ks_instance *instance, const ks_item_type *a, int s,
                      const ks_item_type *b, int t, ks_separation_list *to)
{
    const struct ks_slice *p = &a->slices[s], *q = &b->slices[t];
    double apart =
        ks_shelf_apart(&instance->space, (ks_shelf_part){a->item, &a->item->parts[p->part]},
                       (ks_shelf_part){b->item, &b->item->parts[q->part]});
    double allow = ks_item_type_allowance(a) + ks_item_type_allowance(b);
    double need = apart + p->round + q->round + allow;
    int end_s = end_of_part(a, s), end_t = end_of_part(b, t);
    to->own = 0;
    for (int i = s; i < end_s && apart != KS_SHELF_FREE; i++)
        for (int k = t; k < end_t; k++)
            ks_separation_add(a, b, to,
                              (ks_separation){a->slices[i].core, b->slices[k].core, need});
}

static void find_runs(ks_separations *all, ks_arena *arena)
{
    ks_separation_run *runs = KS_TAKE(arena, all->n, ks_separation_run);
    for (int m = 0; m < all->n; m++) {
        const ks_separation *one = &all->list[m];
        if (m == 0 || all->list[m - 1].a != one->a)
            runs[all->n_runs++] = (ks_separation_run){one->a, m, one->need};
        ks_separation_run *run = &runs[all->n_runs - 1];
        run->end = m + 1;
        run->need = fmax(run->need, one->need);
    }
    all->runs = runs;
}

static ks_separations *find_meetings(ks_instance *instance, const ks_item_type *a,
                                     const ks_item_type *b)
{
    ks_separations *out = KS_TAKE(&instance->arena, 1, ks_separations);
    ks_separation *list = KS_TAKE(&instance->arena, a->n_slices * b->n_slices, ks_separation);
    ks_separation_list to = {.list = list};
    for (int s = 0; s < a->n_slices; s = end_of_part(a, s))
        for (int t = 0; t < b->n_slices; t = end_of_part(b, t))
            add_parts(instance, a, s, b, t, &to);
    out->n = to.n;
    out->list = list;
    find_runs(out, &instance->arena);
    for (int m = 0; m < out->n; m++)
        out->far =
            fmax(out->far, a->core_reach[list[m].a] + b->core_reach[list[m].b] + list[m].need);
    out->points = out->n == 1 && a->core_reach[list[0].a] == 0 && b->core_reach[list[0].b] == 0;
    return out;
}

const ks_separations *ks_instance_meetings_find(ks_instance *instance, int a, int b)
{
    ks_separations *found = find_meetings(instance, &instance->kinds[a], &instance->kinds[b]);
    instance->meet[a * instance->n_kinds + b] = found;
    return found;
}

static void *copy(ks_arena *arena, const void *from, int n, size_t size)
{
    void *to = ks_arena_take(arena, (size_t)n, size);
    if (n > 0)
        memcpy(to, from, (size_t)n * size);
    return to;
}

static ks_outline copy_outline(ks_arena *arena, const ks_outline *from)
{
    return (ks_outline){from->n, copy(arena, from->at, from->n, sizeof *from->at), from->round};
}

static void copy_space(ks_instance *instance, const ks_shelf_space *from)
{
    ks_shelf_region *regions =
        copy(&instance->arena, from->regions, from->n_regions, sizeof *regions);
    for (int r = 0; r < from->n_regions; r++)
        regions[r].outline = copy_outline(&instance->arena, &from->regions[r].outline);
    ks_shelf_obstacle *obstacles =
        copy(&instance->arena, from->obstacles, from->n_obstacles, sizeof *obstacles);
    for (int o = 0; o < from->n_obstacles; o++)
        obstacles[o].outline = copy_outline(&instance->arena, &from->obstacles[o].outline);
    instance->space = *from;
    instance->space.bearers =
        copy(&instance->arena, from->bearers, from->n_bearers, sizeof *from->bearers);
    for (int b = 0; b < from->n_bearers; b++)
        instance->space.bearers[b].outline =
            copy_outline(&instance->arena, &from->bearers[b].outline);
    instance->space.standing =
        copy(&instance->arena, from->standing, from->n_standing, sizeof *from->standing);
    instance->space.regions = regions;
    instance->space.obstacles = obstacles;
}

static void copy_items(ks_instance *instance, int n, const ks_shelf_item *from)
{
    instance->n_kinds = n;
    instance->items = copy(&instance->arena, from, n, sizeof *from);
    for (int i = 0; i < n; i++) {
        ks_part *parts = copy(&instance->arena, from[i].parts, from[i].n_parts, sizeof *parts);
        for (int p = 0; p < from[i].n_parts; p++)
            parts[p].outline = copy_outline(&instance->arena, &from[i].parts[p].outline);
        instance->items[i].parts = parts;
        instance->items[i].draws =
            copy(&instance->arena, from[i].draws, from[i].n_draws, sizeof *from[i].draws);
    }
}

void ks_instance_init(ks_instance *instance, const ks_shelf_space *space, int n_items,
                      const ks_shelf_item *items)
{
    *instance = (ks_instance){0};
    copy_space(instance, space);
    copy_items(instance, n_items, items);
    instance->kinds = KS_TAKE(&instance->arena, n_items, ks_item_type);
    for (int i = 0; i < n_items; i++) {
        ks_item_type_init(&instance->kinds[i], &instance->space, &instance->items[i],
                          &instance->arena);
        const ks_item_type *kind = &instance->kinds[i];
        instance->longest =
            kind->n_corners > instance->longest ? kind->n_corners : instance->longest;
        instance->most_cores =
            kind->n_cores > instance->most_cores ? kind->n_cores : instance->most_cores;
    }
    instance->meet = KS_TAKE(&instance->arena, n_items * n_items, ks_separations *);
    ks_instance_walls(instance);
}

void ks_instance_finish(ks_instance *instance)
{
    ks_arena_finish(&instance->arena);
}
