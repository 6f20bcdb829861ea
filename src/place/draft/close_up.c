#include "place/draft/close_up.h"

#include "place/draft/alone.h"
#include "place/draft/level_wish.h"
#include "place/draft/offer.h"
#include "place/draft/pins.h"
#include "place/draft/spread.h"
#include "place/job/stream.h"

#include "pack/shelf/shelf_rule.h"

#include <math.h>
#include <stdint.h>

/* Levels that stay are asked for by bay and number, as tall as their ware, and the stack search
 * builds them and no other. Ware then stands as it stood; where it cannot (other posts, a wall, a
 * cone pack that has come to its level) it is laid out anew, all of it. The checker has the last
 * word. */

enum { RELAYING_WORK = 60, ORDERS_TRIED = 8 };

typedef struct {
    const ks_job *job;
    const ks_load_kind *kind;
    int slot;
    ks_arena *arena;
    int n; /* levels that stay */
    ks_draft_level
        *levels;      /* from below, with the ware that is to stand there, packs not counted */
    double *clear_mm; /* that each has to have at least; 0 = as tall as its ware */
    ks_um *least_z;   /* that each has to lie at */
} closing;

bool ks_level_is_bare(const ks_job *job, const ks_draft_level *level)
{
    for (int i = 0; i < level->n_pins; i++)
        if (level->pins[i].item != job->cone)
            return false;
    for (int i = 0; i < level->layout.n_spots; i++)
        if (level->layout.spots[i].item != job->cone)
            return false;
    return true;
}

/* Whether ware on this level or over it is wanted on a level of that number. */
static bool is_numbered(const ks_job *job, const ks_draft_load *load, int level)
{
    for (int l = level; l < load->n_levels; l++)
        for (int i = 0; i < load->levels[l].n_pins; i++)
            if (load->levels[l].pins[i].item != job->cone &&
                load->levels[l].at.bay == load->levels[level].at.bay)
                return true;
    return false;
}

static double tallest_mm(const ks_job *job, const ks_draft_level *level)
{
    double most = 0;
    for (int i = 0; i < level->layout.n_spots; i++)
        most = fmax(most, job->height_mm[level->layout.spots[i].item]);
    for (int i = 0; i < level->n_pins; i++)
        if (level->pins[i].item != job->cone)
            most = fmax(most, job->height_mm[level->pins[i].item]);
    return most;
}

static void drop_packs(const ks_job *job, ks_shelf_layout *layout)
{
    int kept = 0;
    for (int i = 0; i < layout->n_spots; i++)
        if (layout->spots[i].item != job->cone)
            layout->spots[kept++] = layout->spots[i];
    layout->n_spots = kept;
}

static bool is_needed(const ks_job *job, const ks_draft_load *load, int level)
{
    return !ks_level_is_bare(job, &load->levels[level]) || is_numbered(job, load, level);
}

static closing closing_of(const ks_job *job, const ks_draft *draft, int slot, ks_arena *arena)
{
    const ks_draft_load *load = &draft->loads[slot];
    closing c = {job, &job->kinds[load->kind], slot, arena, 0, NULL, NULL, NULL};
    c.levels = KS_TAKE(arena, load->n_levels, ks_draft_level);
    c.clear_mm = KS_TAKE(arena, load->n_levels, double);
    c.least_z = KS_TAKE(arena, load->n_levels, ks_um);
    for (int l = 0; l < load->n_levels; l++)
        if (is_needed(job, load, l))
            c.levels[c.n++] = load->levels[l];
    return c;
}

/* What stood over a level that goes stays about as high as it was, on longer posts of the level
 * below, or of the floor. */
static void keep_high(closing *c, const ks_draft_load *load, int out)
{
    const ks_stack_level *gone = &load->levels[out].at;
    for (int l = out - 1; l >= 0; l--) {
        const ks_stack_level *below = &load->levels[l].at;
        if (below->bay != gone->bay)
            continue;
        if (gone->posts >= 0)
            c->clear_mm[l] = ks_gap_clear_mm(c->kind, gone->z + gone->gap - below->z, false);
        return;
    }
    for (int l = out; l < c->n; l++) /* those over it, now that it is gone */
        if (c->levels[l].at.bay == gone->bay) {
            c->least_z[l] = c->levels[l].at.z;
            return;
        }
}

/* All levels but one; what stood over it stays high, or comes as low as it can. */
static closing closing_without(const ks_job *job, const ks_draft *draft, int slot, int out,
                               bool high, ks_arena *arena)
{
    const ks_draft_load *load = &draft->loads[slot];
    closing c = closing_of(job, draft, slot, arena);
    c.n = 0;
    for (int l = 0; l < load->n_levels; l++)
        if (l != out)
            c.levels[c.n++] = load->levels[l];
    if (high)
        keep_high(&c, load, out);
    return c;
}

/* All levels, each with the posts it has or longer ones. */
static closing closing_as_high(const ks_job *job, const ks_draft *draft, int slot, ks_arena *arena)
{
    const ks_draft_load *load = &draft->loads[slot];
    closing c = closing_of(job, draft, slot, arena);
    c.n = load->n_levels;
    for (int l = 0; l < c.n; l++) {
        c.levels[l] = load->levels[l];
        if (load->levels[l].at.posts >= 0)
            c.clear_mm[l] = ks_level_clear_mm(c.kind, &load->levels[l].at);
    }
    return c;
}

static int number_of(const closing *c, int level)
{
    int number = 0;
    for (int l = 0; l < level; l++)
        number += c->levels[l].at.bay == c->levels[level].at.bay;
    return number;
}

static int tier_of(const closing *c, int level)
{
    int lower = 0;
    for (int l = 0; l < c->n; l++)
        lower += c->levels[l].at.z < c->levels[level].at.z;
    return lower;
}

static double one_each(void *context, const ks_stack_level *level)
{
    (void)context;
    (void)level;
    return 1;
}

static ks_stack build_stack(const closing *c)
{
    ks_level_need *needs = KS_TAKE(c->arena, c->n, ks_level_need);
    for (int l = 0; l < c->n; l++)
        needs[l] =
            (ks_level_need){.bay = c->levels[l].at.bay,
                            .number = number_of(c, l),
                            .clear_mm = fmax(tallest_mm(c->job, &c->levels[l]), c->clear_mm[l]),
                            .support = c->levels[l].at.support,
                            .least_z = c->least_z[l],
                            .tier = tier_of(c, l)};
    int places = c->kind->furniture->post_layouts[c->levels[0].at.standing].places;
    ks_stack_wish wish = {c->job, c->kind, one_each, NULL, c->n, needs, 0, &places, 0};
    return ks_stack_best(&wish, c->arena);
}

/* The level that is to stand where this one of the new load is; NULL = one with nothing on it. */
static ks_draft_level *level_for(const closing *c, const ks_stack_level *at)
{
    for (int l = 0; l < c->n; l++)
        if (c->levels[l].at.bay == at->bay && number_of(c, l) == at->number)
            return &c->levels[l];
    return NULL;
}

static bool stands(const closing *c, const ks_draft_level *level, const ks_shelf_layout *layout)
{
    ks_arena scratch = {0};
    int n = level->n_pins;
    ks_shelf_spot *all = KS_TAKE(&scratch, n + layout->n_spots, ks_shelf_spot);
    for (int i = 0; i < n; i++)
        all[i] = level->pins[i];
    for (int i = 0; i < layout->n_spots; i++)
        all[n + i] = layout->spots[i];
    ks_shelf_space space = ks_level_space(c->job, c->kind, &level->at, &scratch);
    n += layout->n_spots;
    bool free = ks_shelf_slack(&space, c->job->items, n, all, layout->post_turn_deg) >= 0 &&
                ks_shelf_loadable(&space, c->job->items, n, all);
    ks_arena_finish(&scratch);
    return free;
}

/* All of the ware, and the pack that belongs there, laid out anew. */
static bool lay_anew(const closing *c, ks_draft_level *level, const ks_shelf_layout *ware)
{
    const ks_job *job = c->job;
    int *copies = KS_TAKE(c->arena, job->n_items, int), wanted = ware->n_spots + level->cones;
    for (int i = 0; i < ware->n_spots; i++)
        copies[ware->spots[i].item]++;
    if (job->cone >= 0)
        copies[job->cone] = level->cones;
    ks_random random = ks_stream(job->options.seed, KS_FOR_CLOSING_UP, c->slot,
                                 level->at.bay * 64 + level->at.number);
    ks_fill fill = {.job = job,
                    .kind = c->kind,
                    .level = &level->at,
                    .worth = job->worth,
                    .copies = copies,
                    .must = copies,
                    .warm = ware,
                    .n_pins = level->n_pins,
                    .pins = level->pins,
                    .mass_left_kg = INFINITY,
                    .seed = ks_random_bits(&random),
                    .work = RELAYING_WORK};
    level->layout = ks_level_fill(&fill, c->arena);
    return level->layout.n_spots == wanted;
}

/* What stood there stands there still, its pack too where one belongs there. */
static bool lay(const closing *c, ks_draft_level *level, const ks_draft_level *was)
{
    ks_shelf_layout ware = was->layout;
    ware.spots = KS_TAKE(c->arena, ware.n_spots, ks_shelf_spot);
    for (int i = 0; i < ware.n_spots; i++)
        ware.spots[i] = was->layout.spots[i];
    drop_packs(c->job, &ware);
    const ks_shelf_layout *as_it_was = level->cones ? &was->layout : &ware;
    if (as_it_was->n_spots == ware.n_spots + level->cones && stands(c, level, as_it_was)) {
        level->layout = *as_it_was;
        return true;
    }
    return lay_anew(c, level, &ware);
}

static bool lay_level(const closing *c, ks_draft_level *level)
{
    static const ks_draft_level nothing = {0};
    const ks_draft_level *was = level_for(c, &level->at);
    return lay(c, level, was ? was : &nothing);
}

/* The pack of a middle level that has no room for it goes to another between the lowest and the
 * highest that have one. */
static bool pass_on_pack(const closing *c, ks_draft_load *load, ks_draft_level *from)
{
    ks_um low = INT64_MAX, high = 0;
    for (int l = 0; l < load->n_levels; l++)
        if (load->levels[l].cones > 0) {
            low = load->levels[l].at.z < low ? load->levels[l].at.z : low;
            high = load->levels[l].at.z > high ? load->levels[l].at.z : high;
        }
    if (from->cones == 0 || from->at.z == low || from->at.z == high)
        return false;
    from->cones = 0;
    if (!lay_level(c, from))
        return false;
    for (int l = 0; l < load->n_levels; l++) {
        ks_draft_level *to = &load->levels[l];
        if (to == from || to->cones > 0 || to->at.z <= low || to->at.z >= high ||
            ks_level_clear_mm(c->kind, &to->at) < c->job->height_mm[c->job->cone])
            continue;
        to->cones = 1;
        if (lay_level(c, to))
            return true;
        to->cones = 0;
        lay_level(c, to);
    }
    return false;
}

typedef bool laying(const closing *c, const ks_draft *draft, ks_draft *tried);

/* Each level as it was. */
static bool is_laid(const closing *c, const ks_draft *draft, ks_draft *tried)
{
    (void)draft;
    ks_draft_load *load = &tried->loads[c->slot];
    ks_draft_level *full = NULL;
    for (int l = 0; l < load->n_levels; l++)
        if (!lay_level(c, &load->levels[l])) {
            if (full)
                return false;
            full = &load->levels[l];
        }
    return !full || pass_on_pack(c, load, full);
}

/* All levels anew, each piece on any of them. */
static bool is_spread(const closing *c, const ks_draft *draft, ks_draft *tried)
{
    return ks_spread(c->job, &draft->loads[c->slot], c->slot, &tried->loads[c->slot], c->arena);
}

/* Takes the load on its new furniture when nothing more is wrong with it. */
static bool is_built(const closing *c, laying *lay_all, ks_draft *draft)
{
    ks_stack stack = build_stack(c);
    if (stack.n_levels == 0)
        return false;
    int pieces;
    ks_draft tried = ks_draft_copy(c->job, draft, c->arena);
    if (!ks_draft_build(c->job, &tried, c->slot, &stack, c->arena) || !lay_all(c, draft, &tried))
        return false;
    if (ks_wishes_broken(c->job, &tried.loads[c->slot]) >
        ks_wishes_broken(c->job, &draft->loads[c->slot]))
        return false;
    int faults = ks_alone_faults_of(c->job, &tried, c->slot, &pieces);
    if (faults > 0 && faults > ks_alone_faults_of(c->job, draft, c->slot, &pieces))
        return false;
    ks_draft_count(c->job, &tried);
    *draft = tried;
    return true;
}

/* What stands on which of the levels that are shelved alike: heights at which shelves may lie, and
 * levels that a pack belongs on, are met by some orders and not by others. Whether any changed. */
static bool shuffle(closing *c, ks_random *random)
{
    bool any = false;
    for (int l = c->n - 1; l > 0; l--) {
        int k = ks_random_below(random, l + 1);
        ks_draft_level *a = &c->levels[l], *b = &c->levels[k];
        if (a->at.bay != b->at.bay || a->at.support != b->at.support || a->n_pins || b->n_pins)
            continue;
        ks_shelf_layout layout = a->layout;
        a->layout = b->layout;
        b->layout = layout;
        any = any || l != k;
    }
    return any;
}

/* All bare levels at once. */
static bool is_closed(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena)
{
    closing c = closing_of(job, draft, slot, arena), as_it_was = c;
    ks_random random = ks_stream(job->options.seed, KS_FOR_CLOSING_UP, slot, ORDERS_TRIED);
    as_it_was.levels = KS_TAKE(arena, c.n, ks_draft_level);
    for (int l = 0; l < c.n; l++)
        as_it_was.levels[l] = c.levels[l];
    bool another = c.n > 0;
    for (int t = 0; t < ORDERS_TRIED && another; t++) {
        if (is_built(&c, is_laid, draft))
            return true;
        another = shuffle(&c, &random);
    }
    return c.n > 0 && is_built(&as_it_was, is_spread, draft);
}

static int bare_levels(const ks_job *job, const ks_draft_load *load)
{
    int n = 0;
    for (int l = 0; l < load->n_levels; l++)
        n += !is_needed(job, load, l);
    return n;
}

/* One bare level: where those above cannot stand lower, for a sensor, say, they may do with fewer.
 * Ware that is laid anew may leave another level bare instead: that is no gain, and would go on
 * without an end. */
static bool is_one_closed(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena)
{
    const int bare = bare_levels(job, &draft->loads[slot]);
    for (int l = draft->loads[slot].n_levels - 1; l >= 0; l--) {
        if (is_needed(job, &draft->loads[slot], l))
            continue;
        for (int high = 1; high >= 0; high--) {
            ks_draft tried = ks_draft_copy(job, draft, arena);
            closing c = closing_without(job, draft, slot, l, high, arena);
            if (!is_built(&c, is_laid, &tried) && !is_built(&c, is_spread, &tried))
                continue;
            if (bare_levels(job, &tried.loads[slot]) >= bare)
                continue;
            *draft = tried;
            return true;
        }
    }
    return false;
}

/* No level less, but ware on more of them. */
static bool is_shared(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena)
{
    const ks_draft_load *load = &draft->loads[slot];
    if (bare_levels(job, load) == 0)
        return false;
    ks_draft tried = ks_draft_copy(job, draft, arena);
    closing c = closing_as_high(job, draft, slot, arena);
    if (!is_built(&c, is_spread, &tried) ||
        bare_levels(job, &tried.loads[slot]) >= bare_levels(job, load))
        return false;
    *draft = tried;
    return true;
}

/* One piece of a level comes onto another, each level then as tall as its ware. */
static void move_one(closing *c, int from, int spot, int onto)
{
    ks_shelf_layout *left = &c->levels[from].layout, *right = &c->levels[onto].layout;
    ks_shelf_spot *fewer = KS_TAKE(c->arena, left->n_spots, ks_shelf_spot);
    ks_shelf_spot *more = KS_TAKE(c->arena, right->n_spots + 1, ks_shelf_spot);
    for (int i = 0; i < right->n_spots; i++)
        more[i] = right->spots[i];
    more[right->n_spots] = left->spots[spot];
    for (int i = 0; i + 1 < left->n_spots; i++)
        fewer[i] = left->spots[i < spot ? i : i + 1];
    left->spots = fewer;
    left->n_spots--;
    right->spots = more;
    right->n_spots++;
}

static bool is_first_of_kind(const ks_shelf_layout *layout, int spot)
{
    for (int i = 0; i < spot; i++)
        if (layout->spots[i].item == layout->spots[spot].item)
            return false;
    return true;
}

/* Whether the load can be built with one piece of this spot down or up on the bare level, and fewer
 * levels are bare then. */
static bool is_filled_from(const ks_job *job, ks_draft *draft, int slot, int from, int spot,
                           int bare, ks_arena *arena)
{
    ks_draft tried = ks_draft_copy(job, draft, arena);
    closing c = closing_of(job, draft, slot, arena);
    c.n = draft->loads[slot].n_levels;
    for (int l = 0; l < c.n; l++)
        c.levels[l] = draft->loads[slot].levels[l];
    move_one(&c, from, spot, bare);
    if (!is_built(&c, is_laid, &tried) ||
        bare_levels(job, &tried.loads[slot]) >= bare_levels(job, &draft->loads[slot]))
        return false;
    *draft = tried;
    return true;
}

/* A level that cannot go, since what is over it can stand no lower, takes a piece from another. */
static bool is_one_filled(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena)
{
    const ks_draft_load *load = &draft->loads[slot];
    for (int bare = 0; bare < load->n_levels; bare++)
        for (int l = 0; !is_needed(job, load, bare) && l < load->n_levels; l++)
            for (int i = 0; l != bare && i < load->levels[l].layout.n_spots; i++)
                if (load->levels[l].layout.spots[i].item != job->cone &&
                    is_first_of_kind(&load->levels[l].layout, i) &&
                    is_filled_from(job, draft, slot, l, i, bare, arena))
                    return true;
    return false;
}

bool ks_close_up(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena)
{
    int n = draft->loads[slot].n_levels, bare = bare_levels(job, &draft->loads[slot]);
    if (bare == 0)
        return false;
    if (bare == n) {
        draft->loads[slot].n_levels = 0;
        ks_draft_count(job, draft);
        return true;
    }
    bool any = is_closed(job, draft, slot, arena);
    while (is_one_closed(job, draft, slot, arena))
        any = true;
    any = is_shared(job, draft, slot, arena) || any;
    while (is_one_filled(job, draft, slot, arena))
        any = true;
    return any;
}

static void join(closing *c, int from, int onto)
{
    const ks_shelf_layout *more = &c->levels[from].layout;
    ks_shelf_layout *layout = &c->levels[onto].layout;
    ks_shelf_spot *spots = KS_TAKE(c->arena, layout->n_spots + more->n_spots, ks_shelf_spot);
    for (int i = 0; i < layout->n_spots; i++)
        spots[i] = layout->spots[i];
    for (int i = 0; i < more->n_spots; i++)
        spots[layout->n_spots + i] = more->spots[i];
    layout->spots = spots;
    layout->n_spots += more->n_spots;
    for (int l = from; l + 1 < c->n; l++)
        c->levels[l] = c->levels[l + 1];
    c->n--;
}

bool ks_merge_levels(const ks_job *job, ks_draft *draft, int slot, int from, int onto,
                     ks_arena *arena)
{
    closing c = closing_of(job, draft, slot, arena);
    if (c.n < draft->loads[slot].n_levels || is_numbered(job, &draft->loads[slot], from))
        return false;
    join(&c, from, onto);
    return is_built(&c, is_laid, draft);
}
