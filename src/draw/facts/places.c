#include "draw/facts/facts.h"

#include <math.h>
#include <string.h>

#define DEGREES (180 / 3.14159265358979323846)

static int hour_of(ks_point at)
{
    int hour = (int)lround(atan2(at.x, at.y) * DEGREES / 30);
    return hour <= 0 ? hour + 12 : hour;
}

static const char *from_the_middle(const ks_facts *facts, ks_point at, ks_arena *arena)
{
    const char *side =
        fabs(at.x) < 5
            ? ks_tr("in the middle")
            : ks_arena_print(arena, at.x < 0 ? "%s left of the middle" : "%s right of the middle",
                             ks_say_length(facts->display, fabs(at.x), arena));
    return ks_arena_print(arena, "%s, %s from the front", side,
                          ks_say_length(facts->display, at.y - facts->extent.y0, arena));
}

const char *ks_place_words(const ks_facts *facts, ks_point at, ks_arena *arena)
{
    if (facts->from_front)
        return from_the_middle(facts, at, arena);
    double out = hypot(at.x, at.y);
    if (out < 10)
        return ks_tr("in the centre");
    return ks_arena_print(arena, "%d o'clock, %s from the centre", hour_of(at),
                          ks_say_length(facts->display, out, arena));
}

static const char *stack_words(const ks_facts *facts, const ks_post *post, ks_arena *arena)
{
    const char *whole = ks_say_both(facts->display, post->to_mm - post->from_mm, arena);
    if (post->n_heights < 2)
        return whole;
    return ks_arena_print(arena, "%s (%s on %s)", whole,
                          ks_say_bare(facts->display, post->heights_mm[1], arena),
                          ks_say_bare(facts->display, post->heights_mm[0], arena));
}

static bool same_stack(const ks_post *a, const ks_post *b)
{
    bool same = a->n_heights == b->n_heights && fabs(a->to_mm - b->to_mm) < 0.5;
    for (int i = 0; same && i < a->n_heights && i < 2; i++)
        same = fabs(a->heights_mm[i] - b->heights_mm[i]) < 0.5;
    return same;
}

static const char *post_place(const ks_facts *facts, const ks_post *post, ks_arena *arena)
{
    ks_box box = ks_extent(&post->outline);
    ks_point at = {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    if (facts->from_front || hypot(at.x, at.y) < 10)
        return ks_place_words(facts, at, arena);
    return ks_arena_print(arena, "%d", hour_of(at));
}

/* Places of all chosen posts like `first`, in words: " at 2, 6, 10 o'clock". */
static const char *places_of(const ks_facts *facts, const bool *chosen, int first, ks_arena *arena)
{
    const ks_load *load = facts->load;
    const char *words = "";
    bool hours = !facts->from_front;
    for (int i = first; i < load->n_posts; i++)
        if (chosen[i] && same_stack(&load->posts[i], &load->posts[first]))
            words = ks_say_join(arena, hours ? ", " : "; ", words,
                                post_place(facts, &load->posts[i], arena));
    return ks_arena_print(arena, hours ? " at %s o'clock" : ": %s", words);
}

const char *ks_posts_words(const ks_facts *facts, const bool *chosen, bool with_places,
                           ks_arena *arena)
{
    const ks_load *load = facts->load;
    const char *words = "";
    for (int i = 0; i < load->n_posts; i++) {
        bool told = !chosen[i];
        int alike = 0;
        for (int k = 0; k < load->n_posts && !told; k++)
            if (chosen[k] && same_stack(&load->posts[i], &load->posts[k])) {
                told = k < i;
                alike++;
            }
        if (told)
            continue;
        const char *group =
            ks_arena_print(arena, "%d × %s%s", alike, stack_words(facts, &load->posts[i], arena),
                           with_places ? places_of(facts, chosen, i, arena) : "");
        words = ks_say_join(arena, with_places ? "; " : ", ", words, group);
    }
    return words;
}

bool *ks_posts_over(const ks_facts *facts, int level, ks_arena *arena)
{
    const ks_load *load = facts->load;
    bool *chosen = KS_TAKE(arena, load->n_posts, bool);
    for (int i = 0; i < load->n_posts; i++)
        chosen[i] = level < 0 ? load->posts[i].from_mm < 1
                              : ks_post_stands_on(&load->levels[level], &load->posts[i]);
    return chosen;
}

typedef struct {
    double from, to; /* above the shelf */
    const ks_outline *outline;
    const char *mark;
    const ks_placed *placed; /* NULL for a post */
    int base;                /* of a stack, which touches itself; -1 for a post */
} solid;

static void tighter(ks_level_facts *level, const solid *a, const solid *b, ks_arena *arena)
{
    if ((a->base >= 0 && a->base == b->base) || a->to <= b->from || b->to <= a->from)
        return;
    ks_point on_a, on_b;
    double d = ks_outlines_nearest(a->outline, b->outline, &on_a, &on_b);
    if (d < 0 || d >= level->tight_mm)
        return;
    level->tight_mm = d;
    level->tight_a = on_a;
    level->tight_b = on_b;
    level->tight_words = ks_arena_print(arena, "%s and %s", a->mark, b->mark);
}

static int solids_of(const ks_facts *facts, const ks_level_facts *level, solid *solids)
{
    int n = 0;
    for (int i = 0; i < level->n_items; i++)
        for (int k = 0; k < level->items[i]->placed->n_parts; k++) {
            const ks_part *part = &level->items[i]->placed->parts[k];
            solids[n++] = (solid){part->from_mm,           part->to_mm,
                                  &part->outline,          level->items[i]->mark,
                                  level->items[i]->placed, level->items[i]->base};
        }
    for (int i = 0; i < facts->load->n_posts; i++)
        if (ks_post_stands_on(level->level, &facts->load->posts[i]))
            solids[n++] =
                (solid){0, INFINITY, &facts->load->posts[i].outline, ks_tr("a post"), NULL, -1};
    return n;
}

static bool boxes_near(const ks_outline *a, const ks_outline *b, double within)
{
    ks_box p = ks_extent(a), q = ks_extent(b);
    return q.x0 - p.x1 < within && p.x0 - q.x1 < within && q.y0 - p.y1 < within &&
           p.y0 - q.y1 < within;
}

void ks_tightest_find(ks_facts *facts, ks_level_facts *level, ks_arena *arena)
{
    int room = facts->load->n_posts;
    for (int i = 0; i < level->n_items; i++)
        room += level->items[i]->placed->n_parts;
    solid *solids = KS_TAKE(arena, room, solid);
    int n = solids_of(facts, level, solids);
    level->tight_mm = INFINITY;
    level->tight_words = "";
    for (int i = 0; i < n; i++)
        for (int k = i + 1; k < n && solids[i].placed; k++)
            if (boxes_near(solids[i].outline, solids[k].outline, level->tight_mm))
                tighter(level, &solids[i], &solids[k], arena);
}
