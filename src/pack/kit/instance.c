#include "pack/kit/instance_inside.h"

#include "pack/kit/separation.h"
#include "pack/shelf/shelf_rule.h"

#include <math.h>
#include <string.h>

double ks_kind_outreach(const ks_kind *kind, int a, int b)
{
    ks_core inner = ks_kind_core(kind, a), outer = ks_kind_core(kind, b);
    double most = -INFINITY;
    ks_touch touch;
    for (int i = 0; i < inner.n; i++)
        most = fmax(most, ks_touch_point(&outer, inner.x[i], inner.y[i], &touch));
    return most;
}

double ks_kind_allowance(const ks_kind *kind)
{
    double of_turn = kind->reach * (KS_TURN_STEP / 2) * 0.0174532925199433;
    return KS_PACK_ALLOWANCE / 2 + (kind->turnless ? 0 : of_turn);
}

/* Whether keeping `strong` keeps `weak` too: the weak cores lie deep enough in the strong ones. */
static bool follows(const ks_kind *a, const ks_kind *b, ks_meeting strong, ks_meeting weak)
{
    double out = ks_kind_outreach(a, weak.a, strong.a);
    if (b)
        out += ks_kind_outreach(b, weak.b, strong.b);
    else if (weak.b != strong.b)
        return false;
    return strong.need - weak.need >= out;
}

int ks_meeting_added(const ks_kind *a, const ks_kind *b, ks_meeting *list, int n, ks_meeting more)
{
    int kept = 0;
    for (int i = 0; i < n; i++)
        if (follows(a, b, list[i], more))
            return n;
    for (int i = 0; i < n; i++)
        if (!follows(a, b, more, list[i]))
            list[kept++] = list[i];
    list[kept] = more;
    return kept + 1;
}

static ks_meetings *meetings_found(ks_kit *kit, const ks_kind *a, const ks_kind *b)
{
    ks_meetings *out = KS_TAKE(&kit->arena, 1, ks_meetings);
    ks_meeting *list = KS_TAKE(&kit->arena, a->n_slices * b->n_slices, ks_meeting);
    double allow = ks_kind_allowance(a) + ks_kind_allowance(b);
    for (int s = 0; s < a->n_slices; s++)
        for (int t = 0; t < b->n_slices; t++) {
            const struct ks_slice *p = &a->slices[s], *q = &b->slices[t];
            double apart =
                ks_shelf_apart(&kit->space, (ks_shelf_part){a->item, &a->item->parts[p->part]},
                               (ks_shelf_part){b->item, &b->item->parts[q->part]});
            if (apart == KS_SHELF_FREE)
                continue;
            ks_meeting more = {p->core, q->core, apart + p->round + q->round + allow};
            out->n = ks_meeting_added(a, b, list, out->n, more);
        }
    out->list = list;
    for (int m = 0; m < out->n; m++)
        out->far =
            fmax(out->far, a->core_reach[list[m].a] + b->core_reach[list[m].b] + list[m].need);
    out->points = out->n == 1 && a->core_reach[list[0].a] == 0 && b->core_reach[list[0].b] == 0;
    return out;
}

const ks_meetings *ks_kit_meetings_found(ks_kit *kit, int a, int b)
{
    ks_meetings *found = meetings_found(kit, &kit->kinds[a], &kit->kinds[b]);
    kit->meet[a * kit->n_kinds + b] = found;
    return found;
}

static void *copied(ks_arena *arena, const void *from, int n, size_t size)
{
    void *to = ks_arena_take(arena, (size_t)n, size);
    if (n > 0)
        memcpy(to, from, (size_t)n * size);
    return to;
}

static ks_outline outline_copied(ks_arena *arena, const ks_outline *from)
{
    return (ks_outline){from->n, copied(arena, from->at, from->n, sizeof *from->at), from->round};
}

static void space_copied(ks_kit *kit, const ks_shelf_space *from)
{
    ks_shelf_region *regions = copied(&kit->arena, from->regions, from->n_regions, sizeof *regions);
    for (int r = 0; r < from->n_regions; r++)
        regions[r].outline = outline_copied(&kit->arena, &from->regions[r].outline);
    ks_shelf_obstacle *obstacles =
        copied(&kit->arena, from->obstacles, from->n_obstacles, sizeof *obstacles);
    for (int o = 0; o < from->n_obstacles; o++)
        obstacles[o].outline = outline_copied(&kit->arena, &from->obstacles[o].outline);
    kit->space = *from;
    kit->space.bearers = copied(&kit->arena, from->bearers, from->n_bearers, sizeof *from->bearers);
    for (int b = 0; b < from->n_bearers; b++)
        kit->space.bearers[b].outline = outline_copied(&kit->arena, &from->bearers[b].outline);
    kit->space.standing =
        copied(&kit->arena, from->standing, from->n_standing, sizeof *from->standing);
    kit->space.regions = regions;
    kit->space.obstacles = obstacles;
}

static void items_copied(ks_kit *kit, int n, const ks_shelf_item *from)
{
    kit->n_kinds = n;
    kit->items = copied(&kit->arena, from, n, sizeof *from);
    for (int i = 0; i < n; i++) {
        ks_part *parts = copied(&kit->arena, from[i].parts, from[i].n_parts, sizeof *parts);
        for (int p = 0; p < from[i].n_parts; p++)
            parts[p].outline = outline_copied(&kit->arena, &from[i].parts[p].outline);
        kit->items[i].parts = parts;
    }
}

void ks_kit_init(ks_kit *kit, const ks_shelf_space *space, int n_items, const ks_shelf_item *items)
{
    *kit = (ks_kit){0};
    space_copied(kit, space);
    items_copied(kit, n_items, items);
    kit->kinds = KS_TAKE(&kit->arena, n_items, ks_kind);
    for (int i = 0; i < n_items; i++) {
        ks_kind_init(&kit->kinds[i], &kit->space, &kit->items[i], &kit->arena);
        const ks_kind *kind = &kit->kinds[i];
        kit->longest = kind->n_corners > kit->longest ? kind->n_corners : kit->longest;
        kit->most_cores = kind->n_cores > kit->most_cores ? kind->n_cores : kit->most_cores;
    }
    kit->meet = KS_TAKE(&kit->arena, n_items * n_items, ks_meetings *);
    ks_kit_walls(kit);
}

void ks_kit_finish(ks_kit *kit)
{
    ks_arena_finish(&kit->arena);
}
