#include "check/check_judge.h"

/* The steps of loading: every thing once, each after what it needs and before what shuts it out. */

typedef struct {
    int **shelves; /* of each level and shelf, the step that puts it; -1 = none */
    int *things;   /* of each thing */
} times;

static int *none_yet(ks_arena *arena, int n)
{
    int *steps = KS_TAKE(arena, n, int);
    for (int i = 0; i < n; i++)
        steps[i] = -1;
    return steps;
}

static int first_thing_of(const ks_judge *j, int level)
{
    int first = 0;
    for (int l = 0; l < level; l++)
        first += j->load->levels[l].n_pieces;
    return first;
}

/* Where the step's time is noted; NULL when there is no such thing. */
static int *slot_of(const ks_judge *j, const times *t, const ks_step *step)
{
    if (step->level < 0 || step->level >= j->load->n_levels || step->item < 0)
        return NULL;
    const ks_level *level = &j->load->levels[step->level];
    if (step->put == KS_PUT_SHELF)
        return step->item < level->n_shelves ? &t->shelves[step->level][step->item] : NULL;
    if (step->item >= level->n_pieces)
        return NULL;
    return &t->things[first_thing_of(j, step->level) + step->item];
}

/* Posts over a level may be put in several times, for one column and then for another. */
static times read_times(ks_judge *j)
{
    times t = {KS_TAKE(j->arena, j->load->n_levels, int *), none_yet(j->arena, j->n_things)};
    for (int l = 0; l < j->load->n_levels; l++)
        t.shelves[l] = none_yet(j->arena, j->load->levels[l].n_shelves);
    for (int i = 0; i < j->load->n_steps; i++) {
        const ks_step *step = &j->load->steps[i];
        bool posts = step->put == KS_PUT_POSTS;
        int *slot = posts ? NULL : slot_of(j, &t, step);
        bool known = posts ? step->level >= -1 && step->level < j->load->n_levels : slot != NULL;
        ks_spot where = ks_spot_load(j);
        if (!known || (slot && *slot >= 0)) {
            where.a = ks_arena_print(j->arena, "step %d", i + 1);
            ks_note(j, RULE_STEPS, -1, where);
        }
        if (slot)
            *slot = i;
    }
    return t;
}

static bool rests_on(const ks_post *post, const ks_level *level, const ks_shelf *shelf)
{
    return ks_near(post->from_mm, level->z_mm) &&
           ks_outline_nearer(&post->outline, &shelf->outline, 0);
}

static bool bears(const ks_post *post, const ks_level *level, const ks_shelf *shelf)
{
    return ks_near(post->to_mm, level->z_mm - shelf->thickness_mm) &&
           ks_outline_nearer(&post->outline, &shelf->outline, 0);
}

static void in_turn(ks_judge *j, int before, int after, ks_spot where)
{
    if (before >= 0 && after >= 0)
        ks_note(j, RULE_LOAD_ORDER, before < after ? 0 : after - before, where);
}

static bool stands_over(const ks_judge *j, const ks_post *post, int l)
{
    if (l < 0)
        return fabs(post->from_mm) <= KS_GRID;
    for (int s = 0; l < j->load->n_levels && s < j->load->levels[l].n_shelves; s++)
        if (rests_on(post, &j->load->levels[l], &j->load->levels[l].shelves[s]))
            return true;
    return false;
}

/* Whether a post put in at that step comes after what it stands on and before what it carries. */
static bool in_good_time(const ks_judge *j, const times *t, const ks_post *post, int when)
{
    for (int l = 0; l < j->load->n_levels; l++)
        for (int s = 0; s < j->load->levels[l].n_shelves; s++) {
            const ks_level *level = &j->load->levels[l];
            int shelf = t->shelves[l][s];
            if (shelf >= 0 && ((shelf > when && rests_on(post, level, &level->shelves[s])) ||
                               (shelf < when && bears(post, level, &level->shelves[s]))))
                return false;
        }
    return true;
}

/* A post that goes in where hands find no room, since ware stands there already. */
static void look_beside_post(ks_judge *j, const times *t, const ks_post *post, int when)
{
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        if (t->things[i] < 0 || t->things[i] > when || !ks_near(post->from_mm, thing->z))
            continue;
        bool beside = false;
        for (int p = 0; p < thing->placed->n_parts && !beside; p++) {
            ks_outline widest = ks_thing_widest(thing, p);
            beside =
                ks_meet(post->from_mm, post->to_mm, ks_low_of(thing, p), ks_high_of(thing, p)) &&
                ks_outline_distance(&post->outline, &widest) < j->order->rules.hand_room_mm;
        }
        ks_spot where = ks_spot_thing(j, thing);
        where.b = "a post that goes in after it";
        if (beside)
            ks_remark_note(j, REMARK_POSTS_FIRST, where);
    }
}

static void judge_post_times(ks_judge *j, const times *t)
{
    for (int i = 0; i < j->load->n_posts; i++) {
        const ks_post *post = &j->load->posts[i];
        bool listed = false, timely = false;
        int when = -1;
        for (int k = 0; k < j->load->n_steps && !timely; k++) {
            const ks_step *step = &j->load->steps[k];
            if (step->put != KS_PUT_POSTS || !stands_over(j, post, step->level))
                continue;
            listed = true;
            timely = in_good_time(j, t, post, k);
            when = k;
        }
        ks_spot where = ks_spot_load(j);
        where.a = "posts";
        ks_note(j, RULE_STEPS, listed ? 0 : -1, where);
        if (listed)
            ks_note(j, RULE_LOAD_ORDER, timely ? 0 : -1, where);
        if (timely)
            look_beside_post(j, t, post, when);
    }
}

static bool any_part_under(const ks_thing *thing, const ks_outline *shelf, double bottom)
{
    for (int p = 0; p < thing->placed->n_parts; p++)
        if (ks_low_of(thing, p) < bottom &&
            ks_outline_nearer(&thing->placed->parts[p].outline, shelf, 0))
            return true;
    return false;
}

/* A top loader is filled from below: what a shelf covers has to be in before it. */
static void cover_judge(ks_judge *j, const times *t, int l, int s)
{
    const ks_level *level = &j->load->levels[l];
    const ks_shelf *shelf = &level->shelves[s];
    bool from_above = j->kiln && j->kiln->loading == KS_TOP_LOADER;
    for (int i = 0; from_above && i < j->n_things; i++)
        if (j->things[i].z < level->z_mm &&
            any_part_under(&j->things[i], &shelf->outline, level->z_mm - shelf->thickness_mm)) {
            ks_spot where = ks_spot_thing(j, &j->things[i]);
            where.b = "the shelf over it";
            in_turn(j, t->things[i], t->shelves[l][s], where);
        }
}

static void judge_shelf_times(ks_judge *j, const times *t)
{
    for (int l = 0; l < j->load->n_levels; l++)
        for (int s = 0; s < j->load->levels[l].n_shelves; s++) {
            ks_spot where = ks_spot_level(j, l, ks_text(j->load->levels[l].shelves[s].id));
            ks_note(j, RULE_STEPS, t->shelves[l][s] >= 0 ? 0 : -1, where);
            cover_judge(j, t, l, s);
        }
}

static void judge_thing_times(ks_judge *j, const times *t)
{
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        ks_note(j, RULE_STEPS, t->things[i] >= 0 ? 0 : -1, ks_spot_thing(j, thing));
        for (int s = 0; s < j->load->levels[thing->level].n_shelves; s++)
            in_turn(j, t->shelves[thing->level][s], t->things[i], ks_spot_thing(j, thing));
        int k = thing->carrier;
        if (k >= 0)
            in_turn(j, t->things[k], t->things[i], ks_spot_pair(j, &j->things[k], thing));
    }
}

void ks_check_steps(ks_judge *j)
{
    times t = read_times(j);
    judge_post_times(j, &t);
    judge_shelf_times(j, &t);
    judge_thing_times(j, &t);
    ks_check_loading(j, t.things);
}
