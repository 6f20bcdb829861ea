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
    line.adult = line.adult && out->facts->for_class ? line.adult : "";
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

static const bool *posts_on(const lines_of *out)
{
    return ks_posts_over(out->facts, (int)(out->level - out->facts->levels), out->arena);
}

/* What is true of the whole level stands with its shelf, once. */
static const char *shelf_adult(const lines_of *out)
{
    return ks_adult_level(out->facts, out->level) ? ks_tr("shelves; this whole level, a deep reach")
                                                  : ks_adult_shelf();
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
                                ks_say_both(out->facts->display, level->level->z_mm, out->arena)),
                            .adult = shelf_adult(out)});
    if (*level->posts)
        add(out,
            (ks_level_line){.words = ks_arena_print(out->arena, "Posts on it: %s.", level->posts),
                            .adult = ks_adult_posts(out->facts, posts_on(out))});
}

/* "breakfast bowl × 6, RU; clear". Their heights stand on the drawing. */
static const char *group_words(const lines_of *out, const ks_item *item, int count)
{
    ks_arena *arena = out->arena;
    const char *words =
        count > 1 ? ks_arena_print(arena, "%s × %d", item->name, count) : item->name;
    bool whose = item->owner >= 0 && out->facts->n_owners > 1;
    words = ks_say_join(arena, ", ", words, whose ? out->facts->owners[item->owner].words : "");
    return ks_say_join(arena, "; ", words, item->glaze);
}

/* "3–5, 9": the numbers of the items wanted, which follow each other or not. */
static const char *marks_of(const lines_of *out, const bool *wanted)
{
    const ks_item *const *items = out->level->items;
    const char *marks = "";
    for (int i = 0; i < out->level->n_items; i++) {
        int last = i;
        while (wanted[i] && last + 1 < out->level->n_items && wanted[last + 1])
            last++;
        const char *run = last == i ? items[i]->mark
                                    : ks_say_join(out->arena, last == i + 1 ? ", " : "–",
                                                  items[i]->mark, items[last]->mark);
        if (wanted[i])
            marks = ks_say_join(out->arena, ", ", marks, run);
        i = last;
    }
    return marks;
}

const char *ks_alike_marks(const ks_level_facts *level, const ks_item *first, ks_arena *arena)
{
    lines_of out = {.level = level, .arena = arena};
    bool *alike = KS_TAKE(arena, level->n_items, bool);
    for (int i = 0; i < level->n_items; i++)
        alike[i] = ks_items_alike(first, level->items[i]);
    return marks_of(&out, alike);
}

static int top_of_stack(const ks_level_facts *level, int i)
{
    while (i + 1 < level->n_items && level->items[i + 1]->on_before)
        i++;
    return i;
}

/* "1–3, 5–7": stacks that hold any of the items wanted, each from its lowest. */
static const char *stack_marks(const lines_of *out, const bool *wanted)
{
    const ks_level_facts *level = out->level;
    const char *marks = "";
    for (int i = 0; i < level->n_items; i++) {
        int top = top_of_stack(level, i);
        bool holds = false;
        for (int m = i; m <= top; m++)
            holds = holds || wanted[m];
        if (holds)
            marks = ks_say_join(
                out->arena, ", ", marks,
                ks_say_join(out->arena, "–", level->items[i]->mark, level->items[top]->mark));
        i = top;
    }
    return marks;
}

/* The numbers of those of the group that have one remark, or of their stacks; "" where an earlier
 * one has told it. */
static const char *marks_with(const lines_of *out, const ks_item *const *items, int n, int nth)
{
    bool *same = KS_TAKE(out->arena, n, bool);
    for (int i = 0; i < n; i++) {
        same[i] = ks_items_alike(items[nth], items[i]) &&
                  strcmp(items[nth]->remark, items[i]->remark) == 0;
        if (same[i] && i < nth)
            return "";
    }
    return items[nth]->only_on_before ? stack_marks(out, same) : marks_of(out, same);
}

/* What must not be overseen: once where it is true of all, else with the number it is true of. */
static const char *group_care(const lines_of *out, const ks_item *const *items, int n,
                              const ks_item *first)
{
    const char *care = "";
    bool same = true;
    for (int i = 0; i < n; i++)
        same = same &&
               (!ks_items_alike(first, items[i]) || strcmp(items[i]->remark, first->remark) == 0);
    if (same)
        return first->remark;
    for (int i = 0; i < n; i++)
        if (ks_items_alike(first, items[i]) && *items[i]->remark) {
            const char *marks = marks_with(out, items, n, i);
            const char *words =
                items[i]->only_on_before ? ks_tr("each on the one before") : items[i]->remark;
            if (*marks)
                care = ks_say_join(out->arena, "; ", care,
                                   ks_say_join(out->arena, ": ", marks, words));
        }
    return care;
}

/* The most that is true of any of the group: some may stand deeper than others. */
static const char *group_adult(const lines_of *out, const ks_item *const *items, int n,
                               const ks_item *first)
{
    const char *found = "";
    for (int i = 0; i < n; i++) {
        const char *why = ks_items_alike(first, items[i])
                              ? ks_adult_piece(out->facts, items[i], true, out->arena)
                              : "";
        if (strlen(why) > strlen(found))
            found = why;
    }
    return found;
}

static void group_line(lines_of *out, const ks_item *first, int count)
{
    const ks_level_facts *level = out->level;
    if (first->piece && first->piece->has_setter)
        add(out, (ks_level_line){.words = ks_setter_words(out->facts, first, out->arena)});
    add(out, (ks_level_line){.mark = ks_alike_marks(out->level, first, out->arena),
                             .words = group_words(out, first, count),
                             .care = group_care(out, level->items, level->n_items, first),
                             .adult = group_adult(out, level->items, level->n_items, first)});
}

/* A line for each kind of an owner's, in the order in which the walk first comes to it. */
static void piece_lines(lines_of *out)
{
    const ks_level_facts *level = out->level;
    for (int i = 0; i < level->n_items; i++) {
        int count = 0;
        bool told = false;
        for (int k = 0; k < level->n_items; k++)
            if (ks_items_alike(level->items[i], level->items[k])) {
                told |= k < i;
                count++;
            }
        if (!told)
            group_line(out, level->items[i], count);
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
    const char *over = ks_over_words(out->facts, level);
    const char *edge = *level->posts ? ks_tr("a straight edge over the posts clears all; ") : "";
    const char *words = ks_arena_print(arena, "Check: %s; %sthe tallest, %s, has %s free under %s",
                                       ks_touch_words(level), edge, level->tallest->mark,
                                       ks_say_length(display, level->free_mm, arena), over);
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
