#include "place/stack/level_space.h"

#include "studio/shelf_strength.h"

#include <math.h>

#define FOREVER_MM 1e6

/* How each shelf of the level bends on its posts. */
static const double *bending_of(const ks_load_kind *kind, const ks_stack_level *level)
{
    const ks_column *column =
        &kind->furniture->post_layouts[level->standing].columns[level->column];
    int b = 0, w = 0;
    while (column->bays[b] != level->bay)
        b++;
    while (column->ways[w].supports[b] != level->support)
        w++;
    return column->ways[w].bending[b];
}

double ks_level_shelf_kg(const ks_job *job, const ks_load_kind *kind, const ks_stack_level *level,
                         int shelf)
{
    const ks_kiln *kiln = kind->furniture->kiln;
    const ks_support *support = &kiln->bays[level->bay].supports[level->support];
    return ks_shelf_limit_kg(&kiln->shelves[support->shelves[shelf].kind],
                             &job->order->firings[kind->firing],
                             ks_level_bending(kind, level, shelf));
}

double ks_level_bending(const ks_load_kind *kind, const ks_stack_level *level, int shelf)
{
    return level->under < 0 ? 0 : bending_of(kind, level)[shelf];
}

ks_outline ks_support_outline(const ks_kiln *kiln, const ks_support *support, ks_arena *arena)
{
    ks_outline *shelves = KS_TAKE(arena, support->n_shelves, ks_outline);
    for (int s = 0; s < support->n_shelves; s++)
        shelves[s] = ks_shelf_lay(kiln, support, s, arena);
    return support->n_shelves == 1 ? shelves[0]
                                   : ks_outline_hull(shelves, support->n_shelves, arena);
}

double ks_level_limit_kg(const ks_job *job, const ks_load_kind *kind, const ks_stack_level *level)
{
    double sum = 0;
    for (int s = 0; s < kind->furniture->kiln->bays[level->bay].supports[level->support].n_shelves;
         s++)
        sum += ks_level_shelf_kg(job, kind, level, s);
    return sum;
}

typedef struct {
    const ks_job *job;
    const ks_load_kind *kind;
    const ks_kiln *kiln;
    const ks_stack_level *level;
    ks_arena *arena;
    ks_shelf_region *regions;
    ks_shelf_obstacle *obstacles;
    int n_regions, n_obstacles;
    bool loosest;
} build;

/* Ware of neighbour bays keeps apart by each keeping half the distance from the seam. */
static void bound_by_walls(build *b, double z)
{
    const ks_clearance *clear = &b->kind->clear;
    double top = b->kiln->height_mm;
    for (int i = 0; i < b->kiln->n_parts && !(b->loosest && b->kiln->n_parts > 1); i++)
        if (b->kiln->parts[i].to_mm > z && b->kiln->parts[i].from_mm < top)
            b->regions[b->n_regions++] = (ks_shelf_region){
                .outline = b->kiln->parts[i].outline,
                .from_mm = b->kiln->parts[i].from_mm - z,
                .to_mm = b->kiln->parts[i].to_mm - z,
                .margin_mm = clear->wall,
                .is_wall = true,
            };
    const ks_bay *bay = &b->kiln->bays[b->level->bay];
    const ks_post_layout *st = &b->kind->furniture->post_layouts[b->level->standing];
    double around = b->job->widest_around_mm;
    double apart = b->kiln->arrangements[st->arrangement].n_bays > 1 && !b->loosest
                       ? (around > clear->ware ? around : clear->ware)
                       : 0;
    b->regions[b->n_regions++] =
        (ks_shelf_region){.outline = bay->outline, .to_mm = FOREVER_MM, .margin_mm = apart / 2};
}

/* Loose grog stays this far within its shelf. */
static const double grog_mm = 20;

/* Where nothing can stand below, as on the bottom shelves, a form may lie over a seam. */
static bool ware_may_be_below(const build *b)
{
    const ks_job *job = b->job;
    return job->n_heights > 0 && ks_mm_of(b->level->z) > job->heights_mm[0];
}

/* Between shelves side by side grog would run through onto ware below. */
static void keep_grog_off_seams(build *b, const ks_outline *all, double inset)
{
    const ks_support *support = &b->kiln->bays[b->level->bay].supports[b->level->support];
    for (int s = 0; s < support->n_shelves; s++) {
        ks_outline shelf = ks_shelf_lay(b->kiln, support, s, b->arena);
        for (int i = 0; i < shelf.n && shelf.n > 1; i++) {
            ks_point *edge = KS_TAKE(b->arena, 2, ks_point);
            edge[0] = shelf.at[i];
            edge[1] = shelf.at[(i + 1) % shelf.n];
            ks_point middle = {(edge[0].x + edge[1].x) / 2, (edge[0].y + edge[1].y) / 2};
            if (-ks_outline_from_point(all, middle) <= shelf.round + 1)
                continue;
            b->obstacles[b->n_obstacles++] = (ks_shelf_obstacle){.outline = {2, edge, shelf.round},
                                                                 .to_mm = 0.5,
                                                                 .clearance_mm = grog_mm + inset,
                                                                 .grog_only = true};
        }
    }
}

static int edges_of(const ks_kiln *kiln, const ks_support *support)
{
    int n = 0;
    for (int s = 0; s < support->n_shelves; s++)
        n += kiln->shelves[support->shelves[s].kind].outline.n;
    return n;
}

static void bound_by_shelves(build *b)
{
    const ks_clearance *clear = &b->kind->clear;
    const ks_support *support = &b->kiln->bays[b->level->bay].supports[b->level->support];
    ks_outline shelf = ks_support_outline(b->kiln, support, b->arena);
    /* Over runny ware below nothing may hang, wherever that stands. */
    double overhang = b->job->any_runny && !b->loosest ? 0 : clear->overhang;
    double inset = b->loosest ? 0 : b->kind->furniture->inset_mm[b->level->bay][b->level->support];
    b->regions[b->n_regions++] = (ks_shelf_region){.outline = shelf,
                                                   .to_mm = FOREVER_MM,
                                                   .margin_mm = clear->shelf_edge + inset,
                                                   .feet_only = true};
    b->regions[b->n_regions++] =
        (ks_shelf_region){.outline = shelf, .to_mm = FOREVER_MM, .margin_mm = inset - overhang};
    if (b->job->any_on_grog && support->n_shelves > 1 && !b->loosest && ware_may_be_below(b))
        keep_grog_off_seams(b, &shelf, inset);
    if (b->job->any_on_grog)
        b->regions[b->n_regions++] = (ks_shelf_region){.outline = shelf,
                                                       .to_mm = FOREVER_MM,
                                                       .margin_mm = grog_mm + inset,
                                                       .feet_only = true,
                                                       .grog_only = true};
}

static bool carries(const build *b, int place)
{
    const ks_post_layout *st = &b->kind->furniture->post_layouts[b->level->standing];
    const ks_column *column = &st->columns[b->level->column];
    for (int i = 0; i < column->n_posts; i++)
        if (column->posts[i] == place)
            return true;
    return false;
}

/* Its own posts up to the shelf they carry; those of bays beside it at any height. */
static void keep_off_posts(build *b)
{
    const ks_furniture *f = b->kind->furniture;
    const ks_post_layout *st = &f->post_layouts[b->level->standing];
    const ks_post_places *places = &f->places[st->places];
    for (int i = 0; i < places->n; i++) {
        bool own = carries(b, i);
        if (own ? b->level->posts < 0 : b->loosest)
            continue;
        ks_stand at = {places->at[i].x, places->at[i].y, 0};
        b->obstacles[b->n_obstacles++] = (ks_shelf_obstacle){
            .outline = ks_outline_place(&f->post, at, b->arena),
            .to_mm = FOREVER_MM,
            .clearance_mm = b->kind->clear.post,
            .is_post = true,
        };
    }
}

static void keep_off_keep_outs(build *b, double z, double clear_mm)
{
    for (int i = 0; i < b->kiln->n_keep_outs; i++) {
        const ks_keep_out *out = &b->kiln->keep_outs[i];
        double from = out->from_mm - out->clearance_mm, to = out->to_mm + out->clearance_mm;
        if (to <= z || from >= z + clear_mm)
            continue;
        b->obstacles[b->n_obstacles++] = (ks_shelf_obstacle){
            .outline = out->outline,
            .from_mm = from - z,
            .to_mm = to - z,
            .clearance_mm = out->clearance_mm,
        };
    }
}

/* Of several shelves each carries by itself what it may. */
static int list_bearers(const build *b, ks_shelf_bearer **out)
{
    const ks_support *support = &b->kiln->bays[b->level->bay].supports[b->level->support];
    int n = 0;
    *out = KS_TAKE(b->arena, support->n_shelves, ks_shelf_bearer);
    for (int s = 0; s < support->n_shelves && support->n_shelves > 1; s++) {
        double safe = ks_level_shelf_kg(b->job, b->kind, b->level, s);
        if (safe < INFINITY)
            (*out)[n++] = (ks_shelf_bearer){ks_shelf_lay(b->kiln, support, s, b->arena), safe};
    }
    return n;
}

static ks_shelf_entry entry_of(const build *b)
{
    const ks_rules *rules = &b->job->order->rules;
    bool front = b->kiln->loading == KS_FRONT_LOADER;
    return (ks_shelf_entry){front, front ? rules->large_mm : 0, rules->hand_room_mm,
                            rules->hand == KS_LEFT_HANDED ? 0 : 1};
}

static ks_shelf_space build_space(const ks_job *job, const ks_load_kind *kind,
                                  const ks_stack_level *level, bool loosest, ks_arena *arena)
{
    const ks_kiln *kiln = kind->furniture->kiln;
    const ks_post_layout *st = &kind->furniture->post_layouts[level->standing];
    build b = {
        .job = job, .kind = kind, .kiln = kiln, .level = level, .arena = arena, .loosest = loosest};
    b.regions = KS_TAKE(arena, kiln->n_parts + 4, ks_shelf_region);
    int edges = edges_of(kiln, &kiln->bays[level->bay].supports[level->support]);
    b.obstacles = KS_TAKE(arena, kind->furniture->places[st->places].n + kiln->n_keep_outs + edges,
                          ks_shelf_obstacle);
    double z = ks_mm_of(level->z), clear = ks_level_clear_mm(kind, level);
    bound_by_walls(&b, z);
    bound_by_shelves(&b);
    if (!loosest || kind->furniture->posts_alike)
        keep_off_posts(&b);
    if (!loosest)
        keep_off_keep_outs(&b, z, clear);
    ks_shelf_bearer *bearers;
    int n_bearers = list_bearers(&b, &bearers);
    return (ks_shelf_space){
        .n_bearers = n_bearers,
        .bearers = bearers,
        .entry = entry_of(&b),
        .n_regions = b.n_regions,
        .regions = b.regions,
        .n_obstacles = b.n_obstacles,
        .obstacles = b.obstacles,
        .height_mm = clear,
        .ware_mm = kind->clear.ware,
        .under_mm = kind->clear.under,
        .setter_mm = kind->clear.setter,
        .reserve_mm = job->options.reserve_mm,
        .mass_limit_kg = ks_level_limit_kg(job, kind, level),
    };
}

ks_shelf_space ks_level_space(const ks_job *job, const ks_load_kind *kind,
                              const ks_stack_level *level, ks_arena *arena)
{
    return build_space(job, kind, level, false, arena);
}

ks_shelf_space ks_level_space_loosest(const ks_job *job, const ks_load_kind *kind,
                                      const ks_stack_level *level, ks_arena *arena)
{
    return build_space(job, kind, level, true, arena);
}
