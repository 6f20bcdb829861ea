#include "place/draft/cone_packs.h"

#include "place/draft/pack_sight.h"

#include <math.h>

static bool can_hold(const ks_job *job, const ks_draft_load *load, int level)
{
    return ks_level_clear_mm(&job->kinds[load->kind], &load->levels[level].at) >=
           job->height_mm[job->cone];
}

/* Whether a level takes a pack. */
typedef bool takes_pack(const ks_job *job, const ks_draft_load *load, int level);

/* The level nearest to this height that takes a pack and lies between the two others (-1 = no end
 * there); -1 if none does. */
static int nearest_level(const ks_job *job, const ks_draft_load *load, double z_mm, int over,
                         int under, takes_pack *takes)
{
    int best = -1;
    double least = INFINITY;
    for (int l = 0; l < load->n_levels; l++) {
        double off = fabs(ks_mm_of(load->levels[l].at.z) - z_mm);
        bool between = (over < 0 || load->levels[l].at.z > load->levels[over].at.z) &&
                       (under < 0 || load->levels[l].at.z < load->levels[under].at.z);
        if (between && off < least && takes(job, load, l)) {
            best = l;
            least = off;
        }
    }
    return best;
}

bool ks_cones_find_place(const ks_job *job, const ks_load_kind *kind, const ks_draft_level *level,
                         ks_shelf_spot *out)
{
    enum { LOOKED_FOR = 20 };
    ks_arena scratch = {0};
    int *packs = KS_TAKE(&scratch, job->n_items, int);
    packs[job->cone] = 1;
    ks_fill fill = {.job = job,
                    .kind = kind,
                    .level = &level->at,
                    .worth = KS_TAKE(&scratch, job->n_items, double),
                    .copies = packs,
                    .must = packs,
                    .n_pins = level->n_pins,
                    .pins = level->pins,
                    .mass_left_kg = INFINITY,
                    .work = LOOKED_FOR};
    ks_shelf_layout found = ks_level_fill(&fill, &scratch);
    bool has_place = found.n_spots == 1;
    if (has_place)
        *out = found.spots[0];
    ks_arena_finish(&scratch);
    return has_place;
}

static bool has_place(const ks_job *job, int kind, const ks_draft_level *level)
{
    ks_shelf_spot spot;
    return ks_cones_find_place(job, &job->kinds[kind], level, &spot);
}

/* Of the levels that can hold a pack; -1 = there is none. */
typedef struct {
    int lowest, middle, highest;
} reach;

static double low_mm(const ks_draft_load *load)
{
    return ks_mm_of(load->levels[0].at.z);
}

static double top_mm(const ks_draft_load *load)
{
    return ks_mm_of(load->levels[load->n_levels - 1].at.z);
}

static double middle_mm(const ks_draft_load *load)
{
    return (low_mm(load) + top_mm(load)) / 2;
}

static reach reach_of(const ks_job *job, const ks_draft_load *load)
{
    reach r = {nearest_level(job, load, low_mm(load), -1, -1, can_hold), -1,
               nearest_level(job, load, top_mm(load), -1, -1, can_hold)};
    r.middle = nearest_level(job, load, middle_mm(load), r.lowest, r.highest, can_hold);
    return r;
}

static const ks_kiln *kiln_of(const ks_job *job, const ks_draft_load *load)
{
    return job->kinds[load->kind].furniture->kiln;
}

/* One more than the last of the kiln's keep-outs that is a peephole looking onto the level, from
 * `first` on; 0 = none. */
static int next_peephole(const ks_job *job, const ks_draft_load *load, int level, int first)
{
    const ks_kiln *kiln = kiln_of(job, load);
    for (int i = first; i < kiln->n_keep_outs; i++)
        if (ks_is_peephole(&kiln->keep_outs[i]) &&
            ks_sight_looks(job, &job->kinds[load->kind], &load->levels[level].at,
                           &kiln->keep_outs[i]))
            return i + 1;
    return 0;
}

/* A pack in sight of a peephole on this level, where one looks onto it and it can stand there. */
static bool stand_in_sight(const ks_job *job, ks_draft_load *load, int level, ks_arena *arena)
{
    const ks_kiln *kiln = kiln_of(job, load);
    for (int i = 0; can_hold(job, load, level) && (i = next_peephole(job, load, level, i)) > 0;)
        if (ks_sight_stood(job, &job->kinds[load->kind], &load->levels[level],
                           &kiln->keep_outs[i - 1], arena)) {
            load->levels[level].cones = 0;
            return true;
        }
    return false;
}

/* Whether a pack could be seen on this level beside what is kept there. */
static bool could_be_seen(const ks_job *job, const ks_draft_load *load, int level)
{
    ks_arena scratch = {0};
    const ks_draft_level *from = &load->levels[level];
    ks_draft_level kept = {.at = from->at};
    kept.pins = KS_TAKE(&scratch, from->n_pins, ks_shelf_spot);
    for (int i = 0; i < from->n_pins; i++)
        if (from->pins[i].item != job->cone)
            kept.pins[kept.n_pins++] = from->pins[i];
    ks_draft_load alone = {load->kind, 1, &kept};
    bool seen = stand_in_sight(job, &alone, 0, &scratch);
    ks_arena_finish(&scratch);
    return seen;
}

typedef struct {
    const ks_job *job;
    ks_draft_load *load;
    ks_arena *arena;
    ks_cone_packs packs;
    bool seen; /* one of those asked for stands in sight */
} asking;

/* On this level, in sight if it can be. */
static bool ask_on(asking *a, int level)
{
    ks_draft_level *on = level < 0 ? NULL : &a->load->levels[level];
    if (!on || on->cones == 1)
        return true;
    if (a->packs.at_peephole && stand_in_sight(a->job, a->load, level, a->arena)) {
        a->seen = true;
        return true;
    }
    if (!has_place(a->job, a->load->kind, on))
        return false;
    on->cones = 1;
    return true;
}

/* The level from which a pack is seen that lies nearest to the middle, between those two; -1 where
 * there is none. */
static int seen_level(const asking *a, int over, int under)
{
    double middle = middle_mm(a->load);
    return a->packs.at_peephole ? nearest_level(a->job, a->load, middle, over, under, could_be_seen)
                                : -1;
}

/* One on the level from where it is seen, else the one nearest to the middle. */
static bool ask_one(asking *a)
{
    int level = seen_level(a, -1, -1);
    if (level < 0)
        level = nearest_level(a->job, a->load, middle_mm(a->load), -1, -1, can_hold);
    return ask_on(a, level);
}

static bool ask_each(asking *a)
{
    reach r = reach_of(a->job, a->load);
    int seen = a->packs.middle && r.middle >= 0 ? seen_level(a, r.lowest, r.highest) : -1;
    return ask_on(a, a->packs.bottom ? r.lowest : -1) &&
           ask_on(a,
                  a->packs.top && !(a->packs.bottom && r.highest == r.lowest) ? r.highest : -1) &&
           ask_on(a, !a->packs.middle ? -1
                     : seen >= 0      ? seen
                                      : r.middle);
}

/* One more where a peephole looks, if none of the others is seen. */
static void ask_in_sight(asking *a)
{
    int level = a->seen ? -1 : seen_level(a, -1, -1);
    if (level >= 0)
        stand_in_sight(a->job, a->load, level, a->arena);
}

bool ks_ask_cones(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena)
{
    ks_draft_load *load = &draft->loads[slot];
    if (job->cone < 0 || load->n_levels == 0)
        return true;
    asking a = {job, load, arena, ks_order_cones(job->order, kiln_of(job, load)), false};
    bool stand = a.packs.one ? ask_one(&a) : ask_each(&a);
    if (stand)
        ask_in_sight(&a);
    return stand;
}

static bool holds_pack(const ks_job *job, const ks_draft_level *level)
{
    for (int i = 0; i < level->n_pins; i++)
        if (level->pins[i].item == job->cone)
            return true;
    for (int i = 0; i < level->layout.n_spots; i++)
        if (level->layout.spots[i].item == job->cone)
            return true;
    return false;
}

static bool hold_pack_between(const ks_job *job, const ks_draft_load *load, ks_um low, ks_um high)
{
    for (int l = 0; l < load->n_levels; l++)
        if (load->levels[l].at.z >= low && load->levels[l].at.z <= high &&
            holds_pack(job, &load->levels[l]))
            return true;
    return false;
}

static bool is_any_seen(const ks_job *job, const ks_draft_load *load, int level)
{
    const ks_kiln *kiln = kiln_of(job, load);
    for (int i = 0; (i = next_peephole(job, load, level, i)) > 0;)
        if (ks_sight_past(job, &job->kinds[load->kind], &load->levels[level],
                          &kiln->keep_outs[i - 1]))
            return true;
    return false;
}

void ks_cones_keep(const ks_job *job, ks_draft_load *load, int level, const ks_shelf_spot *pack,
                   ks_arena *arena)
{
    ks_draft_level *on = &load->levels[level];
    ks_shelf_spot *pins = KS_TAKE(arena, on->n_pins + 1, ks_shelf_spot);
    int n = 0;
    for (int i = 0; i < on->n_pins; i++)
        if (on->pins[i].item != job->cone)
            pins[n++] = on->pins[i];
    on->pins = pins;
    on->n_pins = n;
    on->cones = pack != NULL;
    if (!pack || !ks_order_cones(job->order, kiln_of(job, load)).at_peephole)
        return;
    pins[on->n_pins++] = *pack;
    if (is_any_seen(job, load, level))
        on->cones = 0;
    else
        on->n_pins--;
}

/* Where none could be seen on any level, none has to. */
static bool is_one_in_sight(const ks_job *job, const ks_draft_load *load)
{
    for (int l = 0; l < load->n_levels; l++)
        if (is_any_seen(job, load, l))
            return true;
    for (int l = 0; l < load->n_levels; l++)
        if (could_be_seen(job, load, l))
            return false;
    return true;
}

bool ks_cones_stand(const ks_job *job, const ks_draft_load *load)
{
    if (job->cone < 0 || load->n_levels == 0)
        return true;
    ks_cone_packs cones = ks_order_cones(job->order, kiln_of(job, load));
    reach r = reach_of(job, load);
    if (r.lowest < 0)
        return true;
    ks_um low = load->levels[r.lowest].at.z, high = load->levels[r.highest].at.z;
    return (!cones.bottom || hold_pack_between(job, load, low, low)) &&
           (!cones.top || hold_pack_between(job, load, high, high)) &&
           (!cones.middle || r.middle < 0 || hold_pack_between(job, load, low + 1, high - 1)) &&
           (!cones.one || hold_pack_between(job, load, 0, high)) &&
           (!cones.at_peephole || is_one_in_sight(job, load));
}
