#include "draw/facts/facts.h"

#include "studio/level_name.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

ks_box ks_item_extent(const ks_placed *placed)
{
    ks_box box = {placed->stand.x, placed->stand.y, placed->stand.x, placed->stand.y};
    for (int i = 0; i < placed->n_parts; i++) {
        ks_box part = ks_extent(&placed->parts[i].outline);
        if (i == 0)
            box = part;
        box = (ks_box){fmin(box.x0, part.x0), fmin(box.y0, part.y0), fmax(box.x1, part.x1),
                       fmax(box.y1, part.y1)};
    }
    return box;
}

ks_point ks_item_centre(const ks_placed *placed)
{
    ks_box box = ks_item_extent(placed);
    return (ks_point){(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
}

static bool near_a_shelf(const ks_level *level, const ks_outline *post)
{
    ks_box p = ks_extent(post);
    ks_point c = {(p.x0 + p.x1) / 2, (p.y0 + p.y1) / 2};
    for (int i = 0; i < level->n_shelves; i++) {
        ks_box s = ks_extent(&level->shelves[i].outline);
        if (c.x >= s.x0 - 1 && c.x <= s.x1 + 1 && c.y >= s.y0 - 1 && c.y <= s.y1 + 1)
            return true;
    }
    return false;
}

bool ks_post_stands_on(const ks_level *level, const ks_post *post)
{
    return fabs(post->from_mm - level->z_mm) < 1 && near_a_shelf(level, &post->outline);
}

bool ks_post_carries(const ks_level *level, const ks_post *post)
{
    double under =
        level->n_shelves > 0 ? level->z_mm - level->shelves[0].thickness_mm : level->z_mm;
    return fabs(post->to_mm - under) < 1 && near_a_shelf(level, &post->outline);
}

static const char *glaze_words(const ks_order *order, const ks_piece *piece, ks_arena *arena)
{
    const char *words = "";
    for (int i = 0; piece && i < piece->n_glazes; i++) {
        const ks_glaze *glaze = &order->glazes[piece->glazes[i]];
        words =
            ks_say_join(arena, " + ", words, glaze->name && *glaze->name ? glaze->name : glaze->id);
    }
    if (piece && piece->n_glazes == 0)
        return piece->glazed ? ks_tr("glazed") : ks_tr(ks_stage_name(piece->stage));
    return words;
}

static int owner_of(const ks_facts *facts, const char *id)
{
    for (int i = 0; i < facts->n_owners; i++)
        if (strcmp(facts->owners[i].id, id ? id : "") == 0)
            return i;
    return -1;
}

static ks_item item_at(const ks_facts *facts, int level, int at, ks_arena *arena)
{
    const ks_order *order = facts->plan->order;
    const ks_placed *placed = &facts->load->levels[level].pieces[at];
    ks_item item = {.level = level, .item = at, .placed = placed, .remark = ""};
    bool cones = placed->role == KS_CONES;
    if (placed->piece >= 0 && placed->piece < order->n_pieces)
        item.piece = &order->pieces[placed->piece];
    item.name = item.piece && item.piece->name ? item.piece->name : placed->id;
    if (cones && !item.piece)
        item.name = ks_tr("Cone pack");
    item.owner = cones ? -1 : owner_of(facts, placed->owner);
    item.glaze = cones ? "" : glaze_words(order, item.piece, arena);
    item.height = ks_say_length(facts->display, placed->top_mm, arena);
    item.where = ks_place_words(facts, ks_item_centre(placed), arena);
    return item;
}

static bool over_each_other(const ks_level *a, const ks_level *b)
{
    for (int i = 0; i < a->n_shelves; i++)
        for (int k = 0; k < b->n_shelves; k++) {
            ks_box p = ks_extent(&a->shelves[i].outline), q = ks_extent(&b->shelves[k].outline);
            double width = fmin(p.x1, q.x1) - fmax(p.x0, q.x0),
                   depth = fmin(p.y1, q.y1) - fmax(p.y0, q.y0);
            if (width > 20 && depth > 20) /* more than a seam's worth */
                return true;
        }
    return strcmp(a->bay, b->bay) == 0;
}

static bool is_top(const ks_load *load, const ks_level *level)
{
    for (int i = 0; i < load->n_levels; i++)
        if (load->levels[i].z_mm > level->z_mm && over_each_other(&load->levels[i], level))
            return false;
    return true;
}

/* Levels of one tier share the code that their height is marked with. */
static void name_levels(ks_facts *facts, ks_arena *arena)
{
    facts->n_levels = facts->load->n_levels;
    facts->levels = KS_TAKE(arena, facts->n_levels, ks_level_facts);
    const char **names = ks_level_names(facts->load, arena);
    for (int i = 0; i < facts->n_levels; i++) {
        ks_level_facts *of = &facts->levels[i];
        of->level = &facts->load->levels[i];
        of->top = is_top(facts->load, of->level);
        of->bare_name = names[i];
        of->name = ks_arena_print(arena, "Level %s", names[i]);
        of->code = ks_arena_print(arena, "L%s", names[i]);
        of->short_code = ks_arena_print(arena, "L%d", atoi(names[i]));
    }
}

static void fill_level(ks_facts *facts, int at, ks_arena *arena)
{
    ks_level_facts *of = &facts->levels[at];
    of->items = KS_TAKE(arena, of->level->n_pieces, const ks_item *);
    of->free_mm = of->level->gap_mm;
    for (int i = 0; i < facts->n_items; i++) {
        const ks_item *item = &facts->items[i];
        if (item->level != at)
            continue;
        of->items[of->n_items++] = item;
        if (!of->tallest || item->placed->top_mm > of->tallest->placed->top_mm)
            of->tallest = item;
    }
    if (of->tallest)
        of->free_mm = of->level->gap_mm - of->tallest->placed->top_mm;
    of->posts = ks_posts_words(facts, ks_posts_over(facts, at, arena), false, arena);
    ks_tightest_find(facts, of, arena);
}

bool ks_items_alike(const ks_item *a, const ks_item *b)
{
    bool ware = a->placed->role != KS_CONES && b->placed->role != KS_CONES;
    return a == b || (ware && a->piece && a->piece == b->piece && a->owner == b->owner);
}

const char *ks_over_words(const ks_facts *facts, const ks_level_facts *level)
{
    if (!level->top)
        return ks_tr("the next shelf");
    return facts->from_front ? ks_tr("the roof") : ks_tr("the lid");
}

const char *ks_contents_words(const ks_level_facts *level, ks_arena *arena)
{
    int cones = 0;
    for (int i = 0; i < level->n_items; i++)
        cones += level->items[i]->placed->role == KS_CONES;
    if (cones > 0 && cones == level->n_items)
        return ks_say_count(cones, "cone pack", "cone packs", arena);
    const char *ware = ks_say_count(level->n_items - cones, "piece", "pieces", arena);
    return cones == 0 ? ware
                      : ks_say_join(arena, ", ", ware,
                                    ks_say_count(cones, "cone pack", "cone packs", arena));
}

static void add_item(ks_facts *facts, bool **seen, int level, int at, ks_arena *arena)
{
    if (seen[level][at])
        return;
    seen[level][at] = true;
    ks_item *item = &facts->items[facts->n_items];
    *item = item_at(facts, level, at, arena);
    bool cones = item->placed->role == KS_CONES;
    int in_load = 1, on_level = 1;
    for (int i = 0; i < facts->n_items; i++)
        if ((facts->items[i].placed->role == KS_CONES) == cones) {
            in_load++;
            on_level += facts->items[i].level == level;
        }
    item->number = in_load;
    item->mark = ks_arena_print(arena, cones ? "C%d" : "%d", on_level);
    item->full_mark = ks_arena_print(arena, "%s · %s", facts->levels[level].bare_name, item->mark);
    facts->n_items++;
    facts->n_ware += !cones;
}

/* In the order of the plan's steps, in each level from 1; what no step names comes after, from
 * below. */
static void number_items(ks_facts *facts, ks_arena *arena)
{
    const ks_load *load = facts->load;
    int total = 0;
    bool **seen = KS_TAKE(arena, load->n_levels, bool *);
    for (int i = 0; i < load->n_levels; i++) {
        seen[i] = KS_TAKE(arena, load->levels[i].n_pieces, bool);
        total += load->levels[i].n_pieces;
    }
    facts->items = KS_TAKE(arena, total, ks_item);
    for (int i = 0; i < load->n_steps; i++) {
        const ks_step *step = &load->steps[i];
        bool piece = step->put == KS_PUT_PIECE || step->put == KS_PUT_CONES;
        if (piece && step->level >= 0 && step->level < load->n_levels && step->item >= 0 &&
            step->item < load->levels[step->level].n_pieces)
            add_item(facts, seen, step->level, step->item, arena);
    }
    for (int i = 0; i < load->n_levels; i++)
        for (int k = 0; k < load->levels[i].n_pieces; k++)
            add_item(facts, seen, i, k, arena);
}

/* What a piece stands on, or leans on; -1 = nothing that is there. */
static int carrier_of(const ks_facts *facts, int item)
{
    const ks_placed *placed = facts->items[item].placed;
    for (int i = 0; placed->on_id && i < facts->n_items; i++)
        if (i != item && facts->items[i].level == facts->items[item].level &&
            facts->items[i].placed->copy == placed->on_copy &&
            strcmp(facts->items[i].placed->id, placed->on_id) == 0)
            return i;
    return -1;
}

static int base_of(const ks_facts *facts, int item)
{
    int at = item, below = carrier_of(facts, item);
    for (int steps = 0; below >= 0 && steps < facts->n_items; steps++) {
        at = below;
        below = carrier_of(facts, at);
    }
    return at;
}

/* A stack is one place; its pieces go in one after another, so their numbers are a range. */
static void name_places(ks_facts *facts, ks_arena *arena)
{
    for (int i = 0; i < facts->n_items; i++) {
        facts->items[i].base = base_of(facts, i);
        facts->items[i].place_mark = facts->items[i].mark;
    }
    for (int i = 0; i < facts->n_items; i++) {
        int last = i;
        while (last + 1 < facts->n_items && facts->items[last + 1].base == i)
            last++;
        if (last > i)
            facts->items[i].place_mark =
                ks_arena_print(arena, "%s–%s", facts->items[i].mark, facts->items[last].mark);
    }
}

static ks_box chamber_extent(const ks_load *load)
{
    ks_box box = {-100, -100, 100, 100};
    for (int i = 0; i < load->n_parts; i++) {
        ks_box part = ks_extent(&load->parts[i].outline);
        if (i == 0)
            box = part;
        box = (ks_box){fmin(box.x0, part.x0), fmin(box.y0, part.y0), fmax(box.x1, part.x1),
                       fmax(box.y1, part.y1)};
    }
    return box;
}

ks_facts *ks_facts_of(const ks_plan *plan, int load, const char *hash, bool full_names,
                      ks_arena *arena)
{
    const ks_order *order = plan->order;
    ks_facts *facts = KS_TAKE(arena, 1, ks_facts);
    facts->plan = plan;
    facts->load = &plan->loads[load];
    facts->index = load;
    facts->display = &order->display;
    int kiln = facts->load->kiln;
    bool known = kiln >= 0 && kiln < order->n_kilns;
    facts->kiln = known && order->kilns[kiln].name ? order->kilns[kiln].name : facts->load->kiln_id;
    facts->from_front = known && order->kilns[kiln].loading == KS_FRONT_LOADER;
    facts->id = ks_arena_print(arena, "load %d · %.8s", load + 1, hash);
    facts->extent = chamber_extent(facts->load);
    ks_owners_find(facts, full_names, arena);
    name_levels(facts, arena);
    number_items(facts, arena);
    name_places(facts, arena);
    for (int i = 0; i < facts->n_levels; i++)
        fill_level(facts, i, arena);
    ks_tiers_find(facts, arena);
    ks_remarks_find(facts, arena);
    ks_steps_tell(facts, arena);
    return facts;
}
