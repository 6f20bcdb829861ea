#include "place/draft/level_fill.h"

#include "pack/shelf/shelf_rule.h"
#include "place/draft/tower_offer.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Lids are fired on their pots. */
static bool is_lid(const ks_job *job, int item)
{
    return item < job->order->n_pieces && job->order->pieces[item].lid_of;
}

static bool may_stand(const ks_fill *fill, int item, double clear_mm)
{
    bool must = fill->must && fill->must[item] > 0;
    return fill->copies[item] > 0 && fill->kind->suits[item] && !is_lid(fill->job, item) &&
           fill->job->height_mm[item] <= clear_mm && (must || fill->worth[item] > 0) &&
           !ks_has_pin_conflict(fill, item);
}

/* A level holds no more bodies than this, so of more kinds only the best are searched with. */
enum { KINDS_MOST = 400 };

typedef struct {
    int item;
    double merit;
} candidate;

static int by_merit(const void *x, const void *y)
{
    const candidate *a = x, *b = y;
    if (a->merit != b->merit)
        return a->merit > b->merit ? -1 : 1;
    return a->item - b->item;
}

/* What must be in, or stands there already, and then the most worth for the area. */
static const bool *best_kinds(const ks_fill *fill, double clear_mm, ks_arena *arena)
{
    const ks_job *job = fill->job;
    candidate *all = KS_TAKE(arena, job->n_items, candidate);
    bool *kept = KS_TAKE(arena, job->n_items, bool);
    for (int i = 0; i < job->n_items; i++) {
        bool must = fill->must && fill->must[i] > 0;
        double merit = must ? INFINITY : fill->worth[i] / job->area_mm2[i];
        all[i] = (candidate){i, may_stand(fill, i, clear_mm) ? merit : -INFINITY};
    }
    for (int i = 0; fill->warm && i < fill->warm->n_spots; i++)
        all[fill->warm->spots[i].item].merit = INFINITY;
    qsort(all, (size_t)job->n_items, sizeof *all, by_merit);
    for (int i = 0; i < KINDS_MOST; i++)
        kept[all[i].item] = true;
    return kept;
}

static ks_level_offer offer_of(const ks_fill *fill, double clear_mm, ks_arena *arena)
{
    const ks_job *job = fill->job;
    ks_level_offer o = {0};
    o.item = KS_TAKE(arena, job->n_items, int);
    o.row = KS_TAKE(arena, job->n_items, int);
    o.items = KS_TAKE(arena, job->n_items, ks_shelf_item);
    const bool *kept = job->n_items > KINDS_MOST ? best_kinds(fill, clear_mm, arena) : NULL;
    for (int i = 0; i < job->n_items; i++) {
        o.row[i] = -1; /* towers with copies of their own stand there already */
        if (!may_stand(fill, i, clear_mm) || (kept && !kept[i]))
            continue;
        o.row[i] = o.n;
        o.item[o.n] = i;
        o.items[o.n] = job->lean[i];
        o.items[o.n].worth = fill->worth[i];
        o.items[o.n].copies = fill->copies[i];
        o.items[o.n].must = fill->must ? fill->must[i] : 0;
        o.n++;
    }
    ks_offer_towers(fill, clear_mm, &o, arena);
    return o;
}

static double larger(double a, double b)
{
    return a > b ? a : b;
}

void ks_level_pin(const ks_fill *fill, ks_shelf_space *space, ks_arena *arena)
{
    const ks_job *job = fill->job;
    int parts = 0;
    for (int p = 0; p < fill->n_pins; p++)
        parts += job->items[fill->pins[p].item].n_parts;
    if (parts == 0)
        return;
    ks_shelf_obstacle *all = KS_TAKE(arena, space->n_obstacles + parts, ks_shelf_obstacle);
    if (space->n_obstacles > 0)
        memcpy(all, space->obstacles, sizeof *all * (size_t)space->n_obstacles);
    space->standing = KS_TAKE(arena, fill->n_pins, ks_shelf_standing);
    for (int p = 0; p < fill->n_pins; p++) {
        const ks_shelf_item *item = &job->lean[fill->pins[p].item];
        space->standing[space->n_standing++] = (ks_shelf_standing){item, fill->pins[p].stand};
        space->mass_limit_kg -= item->mass_kg;
        for (int b = 0; b < space->n_bearers; b++)
            if (ks_shelf_weighs_on(space, &space->bearers[b], item, fill->pins[p].stand))
                space->bearers[b].limit_kg -= item->mass_kg;
        for (int k = 0; k < item->n_parts; k++)
            all[space->n_obstacles++] = (ks_shelf_obstacle){
                .outline = ks_outline_place(&item->parts[k].outline, fill->pins[p].stand, arena),
                .from_mm = item->parts[k].from_mm - space->under_mm,
                .to_mm = item->parts[k].to_mm + space->under_mm,
                .clearance_mm = larger(space->ware_mm, item->around_mm),
                .ware = item,
                .ware_part = &item->parts[k],
            };
    }
    space->obstacles = all;
}

static ks_shelf_layout warm_start(const ks_fill *fill, const ks_level_offer *o, ks_arena *arena)
{
    ks_shelf_layout warm = {.post_turn_deg = fill->warm->post_turn_deg};
    warm.spots = KS_TAKE(arena, fill->warm->n_spots, ks_shelf_spot);
    for (int i = 0; i < fill->warm->n_spots; i++) {
        ks_shelf_spot spot = fill->warm->spots[i];
        spot.item = o->row[spot.item];
        if (spot.item >= 0)
            warm.spots[warm.n_spots++] = spot;
    }
    return warm;
}

static void make_lean(ks_outline *outline, bool around, ks_arena *arena)
{
    if (outline->n > KS_LEAN_CORNERS)
        *outline = ks_outline_simplified(outline, KS_LEAN_MM, around, arena);
}

static ks_shelf_space lean_space(const ks_fill *fill, ks_arena *arena)
{
    ks_shelf_space space = ks_level_space(fill->job, fill->kind, fill->level, arena);
    ks_shelf_region *regions = KS_TAKE(arena, space.n_regions, ks_shelf_region);
    ks_shelf_obstacle *obstacles = KS_TAKE(arena, space.n_obstacles, ks_shelf_obstacle);
    for (int r = 0; r < space.n_regions; r++) {
        regions[r] = space.regions[r];
        make_lean(&regions[r].outline, false, arena);
    }
    for (int o = 0; o < space.n_obstacles; o++) {
        obstacles[o] = space.obstacles[o];
        make_lean(&obstacles[o].outline, true, arena);
    }
    space.regions = regions;
    space.obstacles = obstacles;
    return space;
}

ks_shelf_layout ks_level_fill(const ks_fill *fill, ks_arena *arena)
{
    ks_arena scratch = {0};
    ks_shelf_space space = lean_space(fill, &scratch);
    ks_level_pin(fill, &space, &scratch);
    if (fill->mass_left_kg < space.mass_limit_kg)
        space.mass_limit_kg = fill->mass_left_kg;
    ks_level_offer o = offer_of(fill, space.height_mm, &scratch);
    ks_shelf_layout layout = {0};
    if (o.n > 0) {
        ks_shelf_search *search = ks_shelf_search_create(&space, o.n, o.items, fill->seed);
        if (fill->warm && fill->warm->n_spots > 0) {
            ks_shelf_layout warm = warm_start(fill, &o, &scratch);
            ks_shelf_search_warm(search, &warm);
        }
        ks_shelf_search_run(search, fill->work, fill->job->stop);
        layout = ks_shelf_search_best(search, arena);
        ks_shelf_search_destroy(search);
        for (int i = 0; i < layout.n_spots; i++)
            layout.spots[i].item = o.item[layout.spots[i].item];
    }
    ks_arena_finish(&scratch);
    return layout;
}
