#include "draw/facts/facts.h"

#include <math.h>
#include <string.h>

static bool overlap_in_plan(const ks_outline *a, const ks_outline *b, ks_arena *arena)
{
    ks_box p = ks_extent(a), q = ks_extent(b);
    if (!ks_boxes_meet(p, q))
        return false;
    ks_point on_a, on_b;
    if (ks_outlines_nearest(a, b, &on_a, &on_b) < 0)
        return true;
    ks_view full_size = {{0, 0}, 1};
    ks_path path_a = ks_trace_outline(arena, full_size, a),
            path_b = ks_trace_outline(arena, full_size, b);
    ks_polygon flat_a = ks_flat(arena, &path_a), flat_b = ks_flat(arena, &path_b);
    return ks_point_within(flat_a.at[0], &flat_b) || ks_point_within(flat_b.at[0], &flat_a);
}

static bool reaches_over(const ks_placed *high, const ks_placed *low, ks_arena *arena)
{
    if (!ks_boxes_meet(ks_item_extent(high), ks_item_extent(low)))
        return false;
    for (int i = 0; i < high->n_parts; i++)
        for (int k = 0; k < low->n_parts; k++)
            if (high->parts[i].from_mm >= low->parts[k].to_mm &&
                overlap_in_plan(&high->parts[i].outline, &low->parts[k].outline, arena))
                return true;
    return false;
}

const char *ks_setter_words(const ks_facts *facts, const ks_item *item, ks_arena *arena)
{
    const ks_setter *setter = &item->piece->setter;
    const char *bed =
        setter->bed_material && *setter->bed_material ? setter->bed_material : ks_tr("grog");
    const char *kind = ks_tr(ks_part_kind_name(setter->kind));
    const char *words =
        ks_arena_print(arena, "For %s, inside its chain line on the plan: ", item->mark);
    if (setter->bed_under_mm > 0)
        words = ks_arena_print(arena, "%s%s of %s on the shelf; ", words,
                               ks_say_fine(facts->display, setter->bed_under_mm, arena), bed);
    words = ks_arena_print(arena, "%sits %s, level", words, kind);
    if (setter->bed_over_mm > 0)
        words = ks_arena_print(arena, "%s; %s of %s on the %s", words,
                               ks_say_fine(facts->display, setter->bed_over_mm, arena), bed, kind);
    return ks_arena_print(arena, "%s.", words);
}

/* Its place among the level's items; -1 where nothing on the level carries it. */
static int carrier_of(const ks_level_facts *level, const ks_placed *placed)
{
    for (int i = 0; placed->on_id && i < level->n_items; i++) {
        const ks_placed *below = level->items[i]->placed;
        if (below->copy == placed->on_copy && strcmp(below->id, placed->on_id) == 0)
            return i;
    }
    return -1;
}

static const ks_item *bottom_of(const ks_level_facts *level, const ks_item *item)
{
    int below = carrier_of(level, item->placed);
    for (int steps = 0; below >= 0 && steps < level->n_items; steps++) {
        item = level->items[below];
        below = carrier_of(level, item->placed);
    }
    return item;
}

static bool is_on_before(const ks_level_facts *level, const ks_item *item)
{
    int below = carrier_of(level, item->placed);
    return below >= 0 && below + 1 < level->n_items && level->items[below + 1] == item;
}

static const char *stands_on(const ks_level_facts *level, const ks_item *item, ks_arena *arena)
{
    const ks_placed *placed = item->placed;
    int below = carrier_of(level, placed);
    if (item->on_before)
        return placed->way == KS_EDGE ? ks_tr("against the one before")
                                      : ks_tr("on the one before");
    if (below >= 0)
        return ks_arena_print(arena, "on %s", level->items[below]->mark);
    return placed->on_id ? ks_arena_print(arena, "on %s %d", placed->on_id, placed->on_copy) : "";
}

const char *ks_touch_words(const ks_level_facts *level)
{
    int glazed = 0, bare = 0;
    for (int i = 0; i < level->n_items; i++)
        if (level->items[i]->piece)
            level->items[i]->placed->glazed ? glazed++ : bare++;
    return bare == 0     ? ks_tr("nothing touches")
           : glazed == 0 ? ks_tr("unglazed ware may touch")
                         : ks_tr("nothing glazed touches");
}

static const char *pose_words(ks_pose pose)
{
    static const char *const words[] = {[KS_UPRIGHT] = "",
                                        [KS_INVERTED] = KS_WORDS("upside down"),
                                        [KS_ON_EDGE] = KS_WORDS("on edge"),
                                        [KS_ON_SIDE] = KS_WORDS("on its side")};
    return ks_tr(words[pose]);
}

static const char *overhang_words(const ks_level_facts *level, const ks_item *item, ks_arena *arena)
{
    const char *marks = "";
    for (int i = 0; i < level->n_items; i++) {
        const ks_item *other = level->items[i];
        bool stacked = bottom_of(level, item) == bottom_of(level, other);
        if (!stacked && reaches_over(item->placed, other->placed, arena))
            marks = ks_say_join(arena, ", ", marks, other->mark);
    }
    return *marks ? ks_arena_print(arena, "reaches over %s", marks) : "";
}

static const char *remark_of(const ks_facts *facts, const ks_item *item, ks_arena *arena)
{
    const ks_level_facts *level = &facts->levels[item->level];
    const ks_piece *piece = item->piece;
    const char *cone = facts->load->firing.cone;
    if (item->placed->role == KS_CONES)
        return cone && *cone ? ks_arena_print(arena, "witness cones about cone %s", cone)
                             : ks_tr("witness cones");
    const char *words = pose_words(item->placed->pose);
    words = ks_say_join(arena, "; ", words, stands_on(level, item, arena));
    words = ks_say_join(arena, "; ", words, overhang_words(level, item, arena));
    if (piece && piece->runny)
        words = ks_say_join(arena, "; ", words, ks_tr("runny glaze: leave its space"));
    if (piece && piece->mass_kg >= 10)
        words = ks_say_join(
            arena, "; ", words,
            ks_arena_print(arena, "heavy: %s", ks_say_mass(facts->display, piece->mass_kg, arena)));
    return words;
}

void ks_remarks_find(ks_facts *facts, ks_arena *arena)
{
    for (int i = 0; i < facts->n_items; i++) {
        ks_item *item = &facts->items[i];
        item->on_before = is_on_before(&facts->levels[item->level], item);
        item->remark = remark_of(facts, item, arena);
        item->only_on_before =
            item->on_before && strcmp(item->remark, ks_tr("on the one before")) == 0;
    }
}
