#include "draw/facts/facts.h"

#include <math.h>
#include <string.h>

typedef struct {
    const ks_facts *facts;
    const ks_level_facts *level;
    ks_arena *arena;
    int n, room;
    ks_level_line *lines;
} lines_of;

static void add(lines_of *out, ks_level_line line)
{
    line.mark = line.mark ? line.mark : "";
    line.words = line.words ? line.words : "";
    line.care = line.care ? line.care : "";
    out->lines = KS_GROW(out->arena, out->lines, out->n, &out->room, ks_level_line);
    out->lines[out->n++] = line;
}

/* "whole", "2 × half-left": the shelves that make the level. */
static const char *shelves_words(const lines_of *out)
{
    const ks_level *level = out->level->level;
    const char *words = "";
    for (int i = 0; i < level->n_shelves; i++) {
        int alike = 0;
        bool told = false;
        for (int k = 0; k < level->n_shelves; k++)
            if (strcmp(level->shelves[i].id, level->shelves[k].id) == 0) {
                told |= k < i;
                alike++;
            }
        const char *one = level->shelves[i].id;
        if (!told)
            words =
                ks_say_join(out->arena, ", ", words,
                            alike > 1 ? ks_arena_print(out->arena, "%d × %s", alike, one) : one);
    }
    return words;
}

static void furniture_lines(lines_of *out)
{
    const ks_level_facts *level = out->level;
    if (level->level->n_shelves > 0)
        add(out,
            (ks_level_line){.words = ks_arena_print(
                                out->arena,
                                "Shelf %s, its top %s above the floor. It must "
                                "not rock.",
                                shelves_words(out),
                                ks_say_both(out->facts->display, level->level->z_mm, out->arena))});
    if (*level->posts)
        add(out,
            (ks_level_line){.words = ks_arena_print(out->arena, "Posts on it: %s.", level->posts)});
}

static bool are_alike(const ks_item *a, const ks_item *b)
{
    return a->piece && a->piece == b->piece && a->owner == b->owner &&
           a->placed->role != KS_CONES && b->placed->role != KS_CONES &&
           strcmp(a->remark, b->remark) == 0 && fabs(a->placed->top_mm - b->placed->top_mm) < 0.5;
}

/* "breakfast bowl × 6, RU; clear; 62 mm high". */
static const char *group_words(const lines_of *out, const ks_item *item, int count)
{
    ks_arena *arena = out->arena;
    const char *words =
        count > 1 ? ks_arena_print(arena, "%s × %d", item->name, count) : item->name;
    bool whose = item->owner >= 0 && out->facts->n_owners > 1;
    words = ks_say_join(arena, ", ", words, whose ? out->facts->owners[item->owner].words : "");
    words = ks_say_join(arena, "; ", words, item->glaze);
    return ks_say_join(arena, "; ", words, ks_arena_print(arena, "%s high", item->height));
}

static void piece_lines(lines_of *out)
{
    const ks_level_facts *level = out->level;
    int count;
    for (int i = 0; i < level->n_items; i += count) {
        const ks_item *item = level->items[i];
        count = 1;
        while (i + count < level->n_items && are_alike(item, level->items[i + count]))
            count++;
        if (item->piece && item->piece->has_setter)
            add(out, (ks_level_line){.words = ks_setter_words(out->facts, item, out->arena)});
        const char *mark = count == 1
                               ? item->mark
                               : ks_arena_print(out->arena, count == 2 ? "%s, %s" : "%s–%s",
                                                item->mark, level->items[i + count - 1]->mark);
        add(out, (ks_level_line){
                     .mark = mark, .words = group_words(out, item, count), .care = item->remark});
    }
}

/* What is looked at before the next shelf goes on. */
static void check_line(lines_of *out)
{
    const ks_level_facts *level = out->level;
    ks_arena *arena = out->arena;
    if (!level->tallest)
        return;
    const ks_display *display = out->facts->display;
    const char *over = !level->top              ? ks_tr("the next shelf")
                       : out->facts->from_front ? ks_tr("the roof")
                                                : ks_tr("the lid");
    const char *edge = *level->posts ? ks_tr("a straight edge over the posts clears all; ") : "";
    const char *words = ks_arena_print(
        arena, "Check: nothing touches; %sthe tallest, %s, has %s free under %s", edge,
        level->tallest->mark, ks_say_length(display, level->free_mm, arena), over);
    if (isfinite(level->tight_mm))
        words = ks_arena_print(arena, "%s; the tightest place, between %s, is %s", words,
                               level->tight_words, ks_say_fine(display, level->tight_mm, arena));
    add(out, (ks_level_line){.words = ks_arena_print(arena, "%s.", words)});
}

ks_level_line *ks_level_lines(const ks_facts *facts, const ks_tier_facts *tier, int *n,
                              ks_arena *arena)
{
    lines_of out = {.facts = facts, .arena = arena};
    for (int i = 0; i < tier->n_levels; i++) {
        out.level = tier->levels[i];
        if (tier->n_levels > 1)
            add(&out, (ks_level_line){.words = ks_arena_print(arena, "%s: %s", out.level->name,
                                                              ks_contents_words(out.level, arena)),
                                      .title = true});
        furniture_lines(&out);
        piece_lines(&out);
        check_line(&out);
    }
    *n = out.n;
    return out.lines;
}
