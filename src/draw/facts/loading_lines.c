#include "draw/facts/facts.h"

static const char *middle_words(const ks_facts *facts, const ks_outline *shelf, ks_arena *arena)
{
    ks_box box = ks_extent(shelf);
    ks_point middle = {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    const char *words = ks_place_words(facts, middle, arena);
    bool hours = words[0] >= '0' && words[0] <= '9' && !facts->from_front;
    return ks_arena_print(arena, hours ? "at %s" : "%s", words);
}

static const char *shelf_step(const ks_facts *facts, int level, int item, ks_arena *arena)
{
    const ks_level *of = &facts->load->levels[level];
    const ks_shelf *shelf = &of->shelves[item];
    return ks_arena_print(
        arena, "Shelf of %s: %s, its middle %s. Its top is %s above the floor. It must not rock.",
        facts->levels[level].name, shelf->id, middle_words(facts, &shelf->outline, arena),
        ks_say_both(facts->display, of->z_mm, arena));
}

typedef struct {
    ks_facts *facts;
    ks_arena *arena;
    int room;
    int *left;        /* pieces of each level still to come */
    bool *tell_posts; /* posts that a step has named */
} telling;

static void tell_step(telling *t, ks_told_step step)
{
    ks_facts *facts = t->facts;
    facts->steps = KS_GROW(t->arena, facts->steps, facts->n_steps, &t->room, ks_told_step);
    step.adult = step.adult ? step.adult : "";
    facts->steps[facts->n_steps++] = step;
}

static const char *check_words(const ks_facts *facts, int level, ks_arena *arena)
{
    const ks_level_facts *of = &facts->levels[level];
    const char *over = ks_over_words(facts, of);
    const char *edge = *of->posts ? ks_tr("a straight edge over the posts clears all, ") : "";
    return ks_arena_print(arena,
                          "Stop and check %s: %s; %sthe tallest, %s (%s), with %s free under %s.",
                          of->name, ks_touch_words(of), edge, of->tallest->mark,
                          ks_say_length(facts->display, of->tallest->placed->top_mm, arena),
                          ks_say_length(facts->display, of->free_mm, arena), over);
}

static void tell_piece(telling *t, const ks_item *item)
{
    if (item->piece && item->piece->has_setter)
        tell_step(t,
                  (ks_told_step){item->level, NULL, ks_setter_words(t->facts, item, t->arena), ""});
    tell_step(t, (ks_told_step){item->level, item, item->name,
                                ks_adult_piece(t->facts, item, false, t->arena)});
    if (--t->left[item->level] == 0)
        tell_step(
            t, (ks_told_step){item->level, NULL, check_words(t->facts, item->level, t->arena), ""});
}

/* The posts of those that stand on `level` and carry `next` (NULL = any), each told once. */
static bool tell_posts(telling *t, int level, const ks_level *next)
{
    const ks_load *load = t->facts->load;
    bool *chosen = ks_posts_over(t->facts, level, t->arena), any = false;
    for (int i = 0; i < load->n_posts; i++) {
        chosen[i] =
            chosen[i] && !t->tell_posts[i] && (!next || ks_post_carries(next, &load->posts[i]));
        t->tell_posts[i] |= chosen[i];
        any |= chosen[i];
    }
    if (!any)
        return false;
    const char *on =
        level < 0 ? ks_tr("the kiln floor")
                  : ks_arena_print(t->arena, "the shelf of %s", t->facts->levels[level].name);
    const char *posts = ks_posts_words(t->facts, chosen, true, t->arena);
    tell_step(t,
              (ks_told_step){level, NULL, ks_arena_print(t->arena, "Posts on %s: %s.", on, posts),
                             ks_adult_posts(t->facts, chosen)});
    return true;
}

static void tell_shelf(telling *t, int level, int item)
{
    tell_step(t, (ks_told_step){level, NULL, shelf_step(t->facts, level, item, t->arena),
                                ks_adult_shelf()});
}

static const ks_item *item_of(const ks_facts *facts, int level, int item)
{
    for (int i = 0; i < facts->n_items; i++)
        if (facts->items[i].level == level && facts->items[i].item == item)
            return &facts->items[i];
    return NULL;
}

static bool step_is_sound(const ks_load *load, const ks_step *step)
{
    if (step->put == KS_PUT_POSTS)
        return step->level >= -1 && step->level < load->n_levels;
    if (step->level < 0 || step->level >= load->n_levels || step->item < 0)
        return false;
    const ks_level *level = &load->levels[step->level];
    return step->item < (step->put == KS_PUT_SHELF ? level->n_shelves : level->n_pieces);
}

/* A plan without steps (made by hand, say) is loaded level by level from below. */
static void steps_made_up(telling *t)
{
    const ks_facts *facts = t->facts;
    (void)tell_posts(t, -1, NULL);
    for (int l = 0; l < facts->n_levels; l++) {
        for (int i = 0; i < facts->load->levels[l].n_shelves; i++)
            tell_shelf(t, l, i);
        (void)tell_posts(t, l, NULL);
        for (int i = 0; i < facts->levels[l].n_items; i++)
            tell_piece(t, facts->levels[l].items[i]);
    }
}

static const ks_level *level_of_next_shelf(const ks_load *load, int step)
{
    for (int i = step + 1; i < load->n_steps; i++)
        if (load->steps[i].put == KS_PUT_SHELF && step_is_sound(load, &load->steps[i]))
            return &load->levels[load->steps[i].level];
    return NULL;
}

static bool posts_come_again(const ks_load *load, int step)
{
    for (int i = step + 1; i < load->n_steps; i++)
        if (load->steps[i].put == KS_PUT_POSTS && load->steps[i].level == load->steps[step].level)
            return true;
    return false;
}

/* A plan's step for posts names the level they stand on. Where such a step follows, those are meant
 * that carry the next shelf; the last one means all that are left. */
static void tell_posts_step(telling *t, int step)
{
    const ks_load *load = t->facts->load;
    int level = load->steps[step].level;
    bool some = posts_come_again(load, step);
    if (!some || !tell_posts(t, level, level_of_next_shelf(load, step)))
        (void)tell_posts(t, level, NULL);
}

/* The plan's step, unless its piece was told before. */
static void tell_plan_step(telling *t, int nth, bool *told)
{
    const ks_step *step = &t->facts->load->steps[nth];
    if (step->put == KS_PUT_POSTS)
        tell_posts_step(t, nth);
    if (step->put == KS_PUT_SHELF)
        tell_shelf(t, step->level, step->item);
    if (step->put == KS_PUT_POSTS || step->put == KS_PUT_SHELF)
        return;
    const ks_item *item = item_of(t->facts, step->level, step->item);
    if (told[item - t->facts->items])
        return;
    told[item - t->facts->items] = true;
    tell_piece(t, item);
}

void ks_steps_tell(ks_facts *facts, ks_arena *arena)
{
    const ks_load *load = facts->load;
    telling t = {facts, arena, 0, KS_TAKE(arena, facts->n_levels, int),
                 KS_TAKE(arena, load->n_posts, bool)};
    bool *told = KS_TAKE(arena, facts->n_items, bool);
    for (int i = 0; i < facts->n_levels; i++)
        t.left[i] = facts->levels[i].n_items;
    for (int i = 0; i < load->n_steps; i++)
        if (step_is_sound(load, &load->steps[i]))
            tell_plan_step(&t, i, told);
    if (facts->n_steps == 0) {
        steps_made_up(&t);
        return;
    }
    for (int i = 0; i < facts->n_items; i++)
        if (!told[i])
            tell_piece(&t, &facts->items[i]);
}
