#include "place/finish/tidy_tiers.h"

#include "pack/shelf/shelf_rule.h"
#include "place/job/stream.h"

#include <math.h>
#include <stdlib.h>

enum { RELAYING_WORK = 40 };

static const ks_draft_load *load_of(const ks_tiers *s)
{
    return &s->draft.loads[s->slot];
}

static const ks_load_kind *kind_of(const ks_tiers *s)
{
    return &s->job->kinds[load_of(s)->kind];
}

static bool in_tier(const ks_stack_level *a, const ks_stack_level *b)
{
    return a->standing == b->standing && a->column == b->column && a->number == b->number;
}

void ks_tiers_list(ks_tiers *s)
{
    const ks_draft_load *load = load_of(s);
    s->n = 0;
    for (int l = 0; l < load->n_levels; l++) {
        const ks_shelf_layout *layout = &load->levels[l].layout;
        int t = 0;
        while (t < s->n && !in_tier(ks_tier_at(s, t), &load->levels[l].at))
            t++;
        if (t == s->n)
            s->tiers[s->n++] = (ks_tier){l, 0, false};
        for (int i = 0; i < layout->n_spots; i++)
            s->tiers[t].mass_kg += s->job->items[layout->spots[i].item].mass_kg;
        s->tiers[t].pinned = s->tiers[t].pinned || load->levels[l].n_pins > 0;
    }
}

static double tallest_mm(const ks_job *job, const ks_shelf_layout *layout)
{
    double most = 0;
    for (int i = 0; i < layout->n_spots; i++)
        if (job->height_mm[layout->spots[i].item] > most)
            most = job->height_mm[layout->spots[i].item];
    return most;
}

static bool goes_under(const ks_tiers *s, const ks_draft_level *level)
{
    return tallest_mm(s->job, &level->layout) <= ks_level_clear_mm(kind_of(s), &level->at);
}

/* The load's level in this tier and bay, shelved so (-1 = however); -1 when there is none. */
static int level_in(const ks_draft_load *load, const ks_stack_level *tier, int bay, int support)
{
    for (int l = 0; l < load->n_levels; l++)
        if (in_tier(&load->levels[l].at, tier) && load->levels[l].at.bay == bay &&
            (support < 0 || load->levels[l].at.support == support))
            return l;
    return -1;
}

static void change_ware(ks_draft_level *a, ks_draft_level *b)
{
    ks_draft_level was = *a;
    a->layout = b->layout;
    a->cones = b->cones;
    b->layout = was.layout;
    b->cones = was.cones;
}

bool ks_tiers_ware_changed(const ks_tiers *s, int low, int high, ks_draft_load *load)
{
    for (int l = 0; l < load->n_levels; l++) {
        ks_draft_level *level = &load->levels[l];
        if (!in_tier(&level->at, ks_tier_at(s, low)))
            continue;
        int twin = level_in(load, ks_tier_at(s, high), level->at.bay, level->at.support);
        if (twin < 0)
            return false;
        change_ware(level, &load->levels[twin]);
        if (!goes_under(s, level) || !goes_under(s, &load->levels[twin]))
            return false;
    }
    return true;
}

static ks_um thickness_of(const ks_tiers *s, int t)
{
    const ks_stack_level *at = ks_tier_at(s, t);
    const ks_kiln *kiln = kind_of(s)->furniture->kiln;
    const ks_support *support = &kiln->bays[at->bay].supports[at->support];
    return ks_um_of(kiln->shelves[support->shelves[0].kind].thickness_mm);
}

/* Whether the tier stands over or under the other: bays that part stand side by side. */
static bool in_line(const ks_tiers *s, int t, int other)
{
    return ks_tiers_share_column(s, t, other) ||
           kind_of(s)->furniture->post_layouts[ks_tier_at(s, other)->standing].n_columns == 1;
}

/* Where the tier's shelves lie, and on what: of a moved tier all but its bay and shelves. */
static void lay_on(const ks_tiers *s, int t, const ks_stack_level *place, ks_draft_load *load)
{
    for (int l = 0; l < load->n_levels; l++) {
        ks_stack_level *at = &load->levels[l].at;
        if (!in_tier(&load_of(s)->levels[l].at, ks_tier_at(s, t)))
            continue;
        at->z = place->z;
        at->gap = place->gap;
        at->under = place->under;
        at->posts = place->posts;
        at->number = place->number;
    }
}

/* The `nth` of the gaps that the top tier's ware can do with, where it is to carry others. */
static int gap_for(const ks_tiers *s, int top, int nth)
{
    const ks_furniture *f = kind_of(s)->furniture;
    double tallest = 0;
    ks_um last = -1;
    for (int l = 0; l < load_of(s)->n_levels; l++)
        if (in_tier(&load_of(s)->levels[l].at, ks_tier_at(s, top)))
            tallest = fmax(tallest, tallest_mm(s->job, &load_of(s)->levels[l].layout));
    for (int g = 0; g < f->n_gaps; g++) {
        if (ks_gap_clear_mm(kind_of(s), f->gaps[g].height, false) < tallest ||
            f->gaps[g].height == last)
            continue;
        last = f->gaps[g].height;
        if (nth-- == 0)
            return g;
    }
    return -1;
}

static int by_height(const void *x, const void *y)
{
    const ks_draft_level *a = x, *b = y;
    if (a->at.z != b->at.z)
        return a->at.z < b->at.z ? -1 : 1;
    return a->at.bay - b->at.bay;
}

/* The gap that the tier which comes to stand at a place needs there. */
static bool set_gap(const ks_tiers *s, int tier, int at_top, int choice, ks_stack_level *place)
{
    const ks_furniture *f = kind_of(s)->furniture;
    place->posts = at_top ? -1 : ks_tier_at(s, tier)->posts;
    if (!at_top && place->posts < 0)
        place->posts = gap_for(s, tier, choice);
    if (!at_top && place->posts < 0)
        return false;
    place->gap = at_top ? ks_um_of(f->kiln->height_mm) - place->z : f->gaps[place->posts].height;
    return true;
}

bool ks_tiers_changed(const ks_tiers *s, int low, int high, int choice, ks_draft_load *load)
{
    bool to_lid = ks_tier_at(s, high)->posts < 0;
    ks_stack_level place = {.under = ks_tier_at(s, low)->under};
    ks_um base = ks_tier_at(s, low)->z - thickness_of(s, low);
    if (choice > 0 && !to_lid)
        return false;
    for (int t = low; t <= high; t++) {
        if (!in_line(s, t, low))
            continue;
        int here = t == low ? high : t == high ? low : t;
        place.z = base + thickness_of(s, here);
        place.number = ks_tier_at(s, t)->number;
        if (!set_gap(s, here, to_lid && t == high, choice, &place))
            return false;
        lay_on(s, here, &place, load);
        base = place.z + place.gap;
        place.under = place.posts;
    }
    for (int t = high + 1; t < s->n; t++) {
        ks_stack_level over = *ks_tier_at(s, t);
        over.under = place.under;
        if (over.z - thickness_of(s, t) == base && in_line(s, t, high))
            lay_on(s, t, &over, load);
    }
    for (int l = 0; l < load->n_levels; l++)
        if (!goes_under(s, &load->levels[l]))
            return false;
    qsort(load->levels, (size_t)load->n_levels, sizeof *load->levels, by_height);
    return true;
}

/* The level's ware laid out anew, with so many cone packs. */
static bool level_relaid(ks_tiers *s, ks_draft_level *level, int cones)
{
    const ks_job *job = s->job;
    int *copies = KS_TAKE(s->arena, job->n_items, int);
    int wanted = cones;
    for (int i = 0; i < level->layout.n_spots; i++)
        if (level->layout.spots[i].item != job->cone) {
            copies[level->layout.spots[i].item]++;
            wanted++;
        }
    if (job->cone >= 0)
        copies[job->cone] = cones;
    ks_random random = ks_stream(job->options.seed, KS_FOR_TIDYING, s->slot, s->relaid++);
    ks_fill fill = {.job = job,
                    .kind = kind_of(s),
                    .level = &level->at,
                    .worth = job->worth,
                    .copies = copies,
                    .must = copies,
                    .warm = &level->layout,
                    .mass_left_kg = INFINITY,
                    .seed = ks_random_bits(&random),
                    .work = RELAYING_WORK};
    level->layout = ks_level_fill(&fill, s->arena);
    level->cones = cones;
    return level->layout.n_spots == wanted;
}

static bool stands(const ks_tiers *s, const ks_draft_level *level)
{
    ks_shelf_space space = ks_level_space(s->job, kind_of(s), &level->at, s->arena);
    const ks_shelf_layout *layout = &level->layout;
    return ks_shelf_slack(&space, s->job->items, layout->n_spots, layout->spots,
                          layout->post_turn_deg) >= 0 &&
           ks_shelf_loadable(&space, s->job->items, layout->n_spots, layout->spots);
}

bool ks_tiers_stand(const ks_tiers *s, const ks_draft_load *load)
{
    for (int l = 0; l < load->n_levels; l++)
        if (!stands(s, &load->levels[l]))
            return false;
    return true;
}

bool ks_tiers_relaid(ks_tiers *s, ks_draft_load *load)
{
    for (int l = 0; l < load->n_levels; l++) {
        ks_draft_level *level = &load->levels[l];
        int before = level_in(load_of(s), &level->at, level->at.bay, -1);
        int cones = before < 0 ? level->cones : load_of(s)->levels[before].cones;
        if (cones == level->cones && stands(s, level))
            continue;
        if (level->n_pins > 0 || !level_relaid(s, level, cones))
            return false;
    }
    return true;
}
