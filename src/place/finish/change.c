#include "place/finish/change.h"

#include "place/draft/alone.h"
#include "place/draft/offer.h"
#include "place/job/stream.h"
#include "place/finish/by_itself.h"
#include "studio/level_name.h"

#include <math.h>
#include <string.h>

enum { WORK = 40, LEVELS_TRIED = 4 };

typedef struct {
    const ks_job *job;
    const ks_draft *draft;
    const ks_plan *plan; /* the same, written down */
    ks_arena *arena;
    int item;
    int levels_tried;
    int fillings; /* so far */
} trial;

static double clear_mm(const trial *t, const ks_draft_load *load, const ks_stack_level *at)
{
    return ks_level_clear_mm(&t->job->kinds[load->kind], at);
}

/* Fills the level with what stands on it, all of equal worth, and the piece, which has to be in. */
static ks_shelf_layout with_piece(trial *t, const ks_job *job, int slot, int level,
                                  const ks_stack_level *at, ks_arena *arena)
{
    const ks_draft_load *load = &t->draft->loads[slot];
    const ks_draft_level *now = &load->levels[level];
    int *copies = KS_TAKE(arena, job->n_items, int), *must = KS_TAKE(arena, job->n_items, int);
    double *worth = KS_TAKE(arena, job->n_items, double);
    for (int i = 0; i < now->layout.n_spots; i++) {
        copies[now->layout.spots[i].item]++;
        worth[now->layout.spots[i].item] = ks_job_members(job, now->layout.spots[i].item);
    }
    if (job->cone >= 0)
        must[job->cone] = copies[job->cone];
    copies[t->item]++;
    must[t->item] = copies[t->item];
    worth[t->item] = 2;
    ks_random random = ks_stream(job->options.seed, KS_FOR_CHANGES, t->item, t->fillings++);
    ks_fill fill = {
        .job = job,
        .kind = &job->kinds[load->kind],
        .level = at,
        .worth = worth,
        .copies = copies,
        .must = must,
        .warm = &now->layout,
        .n_pins = now->n_pins,
        .pins = now->pins,
        .mass_left_kg = ks_offer_mass_kg(job, t->draft, slot) + 1e-9,
        .seed = ks_random_bits(&random),
        .work = WORK,
    };
    return ks_level_fill(&fill, arena);
}

static int count_of(const ks_job *job, const ks_shelf_layout *layout, int item)
{
    int n = 0;
    for (int i = 0; i < layout->n_spots; i++)
        for (int m = 0; m < ks_job_members(job, layout->spots[i].item); m++)
            n += ks_job_member(job, layout->spots[i].item, m) == item;
    return n;
}

/* How many of the old layout's pieces the new one lacks; `lost` is the last of them. */
static int lost_in(const trial *t, const ks_shelf_layout *old, const ks_shelf_layout *new,
                   int *lost)
{
    int n = 0;
    for (int i = 0; i < t->job->n_items; i++) {
        int gone = count_of(t->job, old, i) - count_of(t->job, new, i);
        if (gone > 0 && i != t->item) {
            n += gone;
            *lost = i;
        }
    }
    return n;
}

static bool may_join(const trial *t, int slot, int level)
{
    ks_arena scratch = {0};
    int *copies = KS_TAKE(&scratch, t->job->n_items, int);
    ks_offer_copies(t->job, t->draft, slot, level, copies);
    bool may = copies[t->item] > 0 && t->job->kinds[t->draft->loads[slot].kind].suits[t->item];
    ks_arena_finish(&scratch);
    return may;
}

static const char *name_of(const trial *t, int item)
{
    return item < t->job->order->n_pieces ? t->job->order->pieces[item].id : "cones";
}

static const char *name_of_level(const trial *t, int slot, int level)
{
    const ks_load *load = &t->plan->loads[ks_draft_number(t->draft, slot) - 1];
    return ks_level_names(load, t->arena)[level];
}

/* A change on that level. */
static ks_reason there(const trial *t, ks_reason_name name, int slot, int level)
{
    return (ks_reason){.name = name,
                       .load = ks_draft_number(t->draft, slot),
                       .level = name_of_level(t, slot, level)};
}

static bool goes_in(const trial *t, const ks_shelf_layout *before, const ks_shelf_layout *after)
{
    return count_of(t->job, after, t->item) > count_of(t->job, before, t->item);
}

/* What looks alike however it is turned gains nothing by turning. */
static bool is_round(const ks_shelf_item *item)
{
    for (int p = 0; p < item->n_parts; p++) {
        const ks_outline *part = &item->parts[p].outline, *first = &item->parts[0].outline;
        if (part->n > 1 || part->at[0].x != first->at[0].x || part->at[0].y != first->at[0].y)
            return false;
    }
    return true;
}

/* Whether the checker finds nothing wrong with the load when its level is laid out so. */
static bool is_sound(const trial *t, int slot, int level, ks_shelf_layout layout)
{
    ks_arena scratch = {0};
    int pieces;
    ks_draft tried = ks_draft_copy(t->job, t->draft, &scratch);
    tried.loads[slot].levels[level].layout = layout;
    ks_draft_count(t->job, &tried);
    bool sound = ks_offer_kept(t->job, &tried, slot) &&
                 ks_alone_faults_of(t->job, &tried, slot, &pieces) == 0;
    ks_arena_finish(&scratch);
    return sound;
}

/* Whether the piece goes onto a level high enough if it may be turned as one likes. */
static bool tried_turned(trial *t, int slot, int level, ks_order_change *change)
{
    const ks_draft_level *now = &t->draft->loads[slot].levels[level];
    if (!(t->job->items[t->item].turn_step_deg > 0) || is_round(&t->job->items[t->item]))
        return false;
    ks_arena scratch = {0};
    ks_job job = *t->job;
    int lost;
    job.lean = KS_TAKE(&scratch, job.n_items, ks_shelf_item);
    memcpy(job.lean, t->job->lean, sizeof *job.lean * (size_t)job.n_items);
    job.lean[t->item].turn_step_deg = job.lean[t->item].turn_first_deg = 0;
    ks_shelf_layout free = with_piece(t, &job, slot, level, &now->at, &scratch);
    bool found = goes_in(t, &now->layout, &free) && lost_in(t, &now->layout, &free, &lost) == 0;
    if (found)
        change->change = there(t, KS_CHANGE_TURNED, slot, level);
    ks_arena_finish(&scratch);
    return found;
}

/* Nobody is told to take out what must go, or a part of a set. */
static bool may_wait(const trial *t, int item)
{
    return item < t->job->order->n_pieces && !t->job->order->pieces[item].must_go &&
           t->job->set[item] < 0;
}

/* Whether it goes in where one other piece does not. */
static bool tried_instead(trial *t, int slot, int level, ks_order_change *change)
{
    const ks_draft_level *now = &t->draft->loads[slot].levels[level];
    ks_arena scratch = {0};
    int lost = -1;
    ks_shelf_layout swapped = with_piece(t, t->job, slot, level, &now->at, &scratch);
    bool found = goes_in(t, &now->layout, &swapped) &&
                 lost_in(t, &now->layout, &swapped, &lost) == 1 && may_wait(t, lost) &&
                 is_sound(t, slot, level, swapped);
    if (found)
        change->change = there(t, KS_CHANGE_INSTEAD, slot, level);
    if (found)
        change->change.id = name_of(t, lost);
    ks_arena_finish(&scratch);
    return found;
}

/* The one that is told is the first that does. */
static bool tried_on(trial *t, int slot, int level, ks_order_change *change)
{
    return tried_turned(t, slot, level, change) || tried_instead(t, slot, level, change);
}

static double tallest_on(const trial *t, const ks_draft_level *level)
{
    double most = 0;
    for (int i = 0; i < level->layout.n_spots; i++)
        if (t->job->height_mm[level->layout.spots[i].item] > most)
            most = t->job->height_mm[level->layout.spots[i].item];
    for (int i = 0; i < level->n_pins; i++)
        if (t->job->height_mm[level->pins[i].item] > most)
            most = t->job->height_mm[level->pins[i].item];
    return most;
}

/* The least height to spare over the top levels of a load. */
static double spare_at_top(const trial *t, const ks_draft_load *load)
{
    double top_gap_mm = t->job->kinds[load->kind].furniture->kiln->top_gap_mm, least = INFINITY;
    for (int l = 0; l < load->n_levels; l++)
        if (load->levels[l].at.posts < 0) {
            const ks_stack_level *at = &load->levels[l].at;
            double spare = fmin(clear_mm(t, load, at) - tallest_on(t, &load->levels[l]),
                                ks_mm_of(at->gap) - top_gap_mm);
            least = spare < least ? spare : least;
        }
    return least;
}

/* Posts longer by what is missing, where the load has that much to spare under the lid. Only tried
 * where no keep-out would come to lie at another height above a level. */
static bool raise(trial *t, int slot, int level, ks_order_change *change)
{
    const ks_draft_load *load = &t->draft->loads[slot];
    const ks_draft_level *now = &load->levels[level];
    const ks_kiln *kiln = t->job->kinds[load->kind].furniture->kiln;
    double lacking = t->job->height_mm[t->item] - clear_mm(t, load, &now->at);
    if (now->at.posts < 0 || lacking <= 0 || lacking > spare_at_top(t, load) ||
        kiln->n_keep_outs > 0 || kiln->n_parts > 1)
        return false;
    ks_arena scratch = {0};
    ks_stack_level at = now->at;
    at.gap += ks_um_of(lacking + 0.001);
    ks_shelf_layout higher = with_piece(t, t->job, slot, level, &at, &scratch);
    int lost;
    bool found = goes_in(t, &now->layout, &higher) && lost_in(t, &now->layout, &higher, &lost) == 0;
    if (found)
        change->change = there(t, KS_CHANGE_LONGER_POSTS, slot, level);
    if (found)
        change->change.by_mm = lacking;
    ks_arena_finish(&scratch);
    return found;
}

/* One load more of a kind that suits it, where it goes in by itself. */
static bool in_one_more_load(const trial *t, ks_order_change *change)
{
    const ks_order *order = t->job->order;
    for (int k = 0; k < t->job->n_kinds; k++)
        if (ks_goes_by_itself(t->job, k, t->item)) {
            change->change = (ks_reason){.name = KS_CHANGE_ONE_LOAD_MORE,
                                         .kiln = order->kilns[t->job->kinds[k].kiln].id,
                                         .firing = order->firings[t->job->kinds[k].firing].id};
            return true;
        }
    return false;
}

static bool tried_all(trial *t, ks_order_change *change,
                      bool (*way)(trial *, int, int, ks_order_change *), bool high_enough)
{
    int tried = 0;
    for (int s = 0; s < t->draft->n_loads; s++)
        for (int l = 0; l < t->draft->loads[s].n_levels && tried < LEVELS_TRIED; l++) {
            const ks_draft_load *load = &t->draft->loads[s];
            double lacking = t->job->height_mm[t->item] - clear_mm(t, load, &load->levels[l].at);
            if ((lacking <= 0) != high_enough || !may_join(t, s, l))
                continue;
            tried++;
            if (way(t, s, l, change))
                return true;
        }
    return false;
}

static double least_lacking(const trial *t)
{
    double least = INFINITY;
    for (int s = 0; s < t->draft->n_loads; s++)
        for (int l = 0; l < t->draft->loads[s].n_levels; l++) {
            double lacking = t->job->height_mm[t->item] -
                             clear_mm(t, &t->draft->loads[s], &t->draft->loads[s].levels[l].at);
            least = lacking < least ? lacking : least;
        }
    return isinf(least) ? 0 : least;
}

/* Puts one more copy onto a level of the draft, if all that is there stays in. */
static bool put_on(trial *t, ks_draft *draft, int slot, int level, ks_arena *arena)
{
    const ks_draft_level *now = &draft->loads[slot].levels[level];
    int lost;
    ks_shelf_layout fuller = with_piece(t, t->job, slot, level, &now->at, arena);
    if (!goes_in(t, &now->layout, &fuller) || lost_in(t, &now->layout, &fuller, &lost) > 0 ||
        !is_sound(t, slot, level, fuller))
        return false;
    draft->loads[slot].levels[level].layout = fuller;
    ks_draft_count(t->job, draft);
    return true;
}

static bool put_in_somewhere(trial *t, ks_draft *draft, int only_slot, ks_arena *arena)
{
    int tried = 0;
    for (int s = 0; s < draft->n_loads; s++)
        for (int l = 0; l < draft->loads[s].n_levels && tried < LEVELS_TRIED; l++) {
            const ks_draft_load *load = &draft->loads[s];
            if ((only_slot >= 0 && s != only_slot) || !may_join(t, s, l) ||
                t->job->height_mm[t->item] > clear_mm(t, load, &load->levels[l].at))
                continue;
            tried++;
            if (put_on(t, draft, s, l, arena))
                return true;
        }
    return false;
}

/* All that waits of a set, into one load, or nothing of it. */
static bool put_set_in(const ks_job *job, ks_draft *draft, int set, ks_arena *arena)
{
    for (int s = 0; s < draft->n_loads; s++) {
        ks_draft tried = ks_draft_copy(job, draft, arena);
        bool whole = draft->loads[s].n_levels > 0;
        for (int i = 0; i < job->order->n_pieces && whole; i++) {
            trial t = {.job = job, .draft = &tried, .arena = arena, .item = i};
            while (job->set[i] == set && tried.left[i] > 0 && whole)
                whole = put_in_somewhere(&t, &tried, s, arena);
        }
        if (whole) {
            *draft = tried;
            return true;
        }
    }
    return false;
}

static bool put_kind_in(const ks_job *job, ks_draft *draft, int item, ks_arena *arena)
{
    bool any = false;
    if (job->set[item] >= 0)
        return put_set_in(job, draft, job->set[item], arena);
    trial t = {.job = job, .draft = draft, .arena = arena, .item = item};
    while (draft->left[item] > 0 && put_in_somewhere(&t, draft, -1, arena))
        any = true;
    return any;
}

bool ks_change_none_needed(const ks_job *job, ks_draft *draft, ks_arena *arena)
{
    bool any = false;
    int kinds = 0;
    for (int i = 0; i < job->order->n_pieces && kinds < KS_CHANGES_LOOKED_FOR; i++) {
        if (ks_stop_is_asked(job->stop))
            break;
        if (draft->left[i] <= 0 || !ks_job_is_wanted(job, i) || job->order->pieces[i].fill ||
            job->order->pieces[i].keep.kept)
            continue;
        kinds++;
        any = put_kind_in(job, draft, i, arena) || any;
    }
    return any;
}

ks_order_change ks_change_find(const ks_job *job, const ks_draft *draft, const ks_plan *plan,
                               int item, ks_arena *arena)
{
    trial t = {.job = job, .draft = draft, .plan = plan, .arena = arena, .item = item};
    ks_order_change change = {.short_by_mm = least_lacking(&t)};
    if (!tried_all(&t, &change, raise, false) && !tried_all(&t, &change, tried_on, true))
        in_one_more_load(&t, &change);
    return change;
}
