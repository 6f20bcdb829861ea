#include "place/draft/cone_packs.h"

#include "pack/shelf/shelf_rule.h"

#include <math.h>
#include <string.h>

static bool can_hold(const ks_job *job, const ks_draft_load *load, int level)
{
    return ks_level_clear_mm(&job->kinds[load->kind], &load->levels[level].at) >=
           job->height_mm[job->cone];
}

/* The level nearest to this height that can take a pack and lies between the two others (-1 = no
 * end there); -1 if none can. */
static int nearest_level(const ks_job *job, const ks_draft_load *load, double z_mm, int over,
                         int under)
{
    int best = -1;
    double least = INFINITY;
    for (int l = 0; l < load->n_levels; l++) {
        double off = fabs(ks_mm_of(load->levels[l].at.z) - z_mm);
        bool between = (over < 0 || load->levels[l].at.z > load->levels[over].at.z) &&
                       (under < 0 || load->levels[l].at.z < load->levels[under].at.z);
        if (between && can_hold(job, load, l) && off < least) {
            best = l;
            least = off;
        }
    }
    return best;
}

/* As far out towards the peephole as a pack can stand. */
static bool stand_in_line(const ks_job *job, const ks_load_kind *kind, ks_draft_level *level,
                          ks_point peephole, ks_arena *arena)
{
    ks_arena scratch = {0};
    ks_shelf_space space = ks_level_space(job, kind, &level->at, &scratch);
    ks_shelf_spot *pins = KS_TAKE(arena, level->n_pins + 1, ks_shelf_spot);
    for (int i = 0; i < level->n_pins; i++)
        pins[i] = level->pins[i];
    bool found = false;
    double turn = fabs(peephole.x) > fabs(peephole.y) ? 90 : 0;
    for (int step = 200; step >= 0 && !found; step--) {
        double x = peephole.x * step / 200, y = peephole.y * step / 200;
        ks_shelf_spot spot = {0, {ks_mm_of(ks_um_of(x)), ks_mm_of(ks_um_of(y)), turn}};
        if (ks_shelf_slack(&space, &job->items[job->cone], 1, &spot, 0) < 0)
            continue;
        pins[level->n_pins] = (ks_shelf_spot){job->cone, spot.stand};
        found = ks_shelf_loadable(&space, job->items, level->n_pins + 1, pins);
    }
    if (found) {
        level->pins = pins;
        level->n_pins++;
    }
    ks_arena_finish(&scratch);
    return found;
}

/* Whether it lies somewhere on the way from the peephole to the chamber's middle. */
static bool is_on_the_way(const ks_outline *shape, const ks_keep_out *peephole)
{
    const ks_point way[2] = {ks_outline_centroid(&peephole->outline), {0, 0}};
    ks_outline line = {2, way, 0};
    return ks_outline_distance(&line, shape) <= 0;
}

static bool are_on_the_way(const ks_kiln *kiln, const ks_stack_level *at,
                           const ks_keep_out *peephole)
{
    ks_arena scratch = {0};
    const ks_support *support = &kiln->bays[at->bay].supports[at->support];
    ks_outline shelves = ks_support_outline(kiln, support, &scratch);
    bool on_the_way = is_on_the_way(&shelves, peephole);
    ks_arena_finish(&scratch);
    return on_the_way;
}

static bool is_seen(const ks_job *job, const ks_kiln *kiln, const ks_draft_level *level,
                    const ks_keep_out *peephole)
{
    double z = ks_mm_of(level->at.z);
    return z <= peephole->to_mm && z + job->height_mm[job->cone] >= peephole->from_mm &&
           are_on_the_way(kiln, &level->at, peephole);
}

/* One pack in line with a peephole; of the levels it can be on, the first where it can stand. False
 * when a peephole looks onto a level and yet none can. */
static bool ask_in_line(const ks_job *job, ks_draft_load *load, ks_arena *arena)
{
    bool sees = false;
    const ks_load_kind *kind = &job->kinds[load->kind];
    const ks_kiln *kiln = kind->furniture->kiln;
    for (int i = 0; i < kiln->n_keep_outs; i++) {
        const ks_keep_out *out = &kiln->keep_outs[i];
        if (!out->kind || strcmp(out->kind, "peephole") != 0)
            continue;
        for (int l = 0; l < load->n_levels; l++) {
            if (!can_hold(job, load, l) || !is_seen(job, kiln, &load->levels[l], out))
                continue;
            sees = true;
            if (!stand_in_line(job, kind, &load->levels[l], ks_outline_centroid(&out->outline),
                               arena))
                continue;
            load->levels[l].cones = 0;
            return true;
        }
    }
    return !sees;
}

/* Whether a pack has a place on the level beside what is pinned there. */
static bool has_place(const ks_job *job, int kind, const ks_draft_level *level)
{
    enum { LOOKED_FOR = 20 };
    ks_arena scratch = {0};
    int *packs = KS_TAKE(&scratch, job->n_items, int);
    packs[job->cone] = 1;
    ks_fill fill = {.job = job,
                    .kind = &job->kinds[kind],
                    .level = &level->at,
                    .worth = KS_TAKE(&scratch, job->n_items, double),
                    .copies = packs,
                    .must = packs,
                    .n_pins = level->n_pins,
                    .pins = level->pins,
                    .mass_left_kg = INFINITY,
                    .work = LOOKED_FOR};
    bool found = ks_level_fill(&fill, &scratch).n_spots == 1;
    ks_arena_finish(&scratch);
    return found;
}

/* Of the levels that can hold a pack; -1 = there is none. */
typedef struct {
    int lowest, middle, highest;
} reach;

static reach reach_of(const ks_job *job, const ks_draft_load *load)
{
    double top = ks_mm_of(load->levels[load->n_levels - 1].at.z),
           low = ks_mm_of(load->levels[0].at.z);
    reach r = {nearest_level(job, load, low, -1, -1), -1, nearest_level(job, load, top, -1, -1)};
    r.middle = nearest_level(job, load, (low + top) / 2, r.lowest, r.highest);
    return r;
}

bool ks_ask_cones(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena)
{
    ks_draft_load *load = &draft->loads[slot];
    const ks_cone_packs *cones = &job->order->rules.cones;
    if (job->cone < 0 || load->n_levels == 0)
        return true;
    reach r = reach_of(job, load);
    int wanted[3] = {cones->bottom ? r.lowest : -1, cones->middle ? r.middle : -1,
                     cones->top ? r.highest : -1};
    for (int i = 0; i < 3; i++) {
        if (wanted[i] < 0 || load->levels[wanted[i]].cones == 1)
            continue;
        if (!has_place(job, load->kind, &load->levels[wanted[i]]))
            return false;
        load->levels[wanted[i]].cones = 1;
    }
    return !cones->at_peephole || ask_in_line(job, load, arena);
}

static ks_shelf_spot spot_of(const ks_draft_level *level, int i)
{
    return i < level->n_pins ? level->pins[i] : level->layout.spots[i - level->n_pins];
}

/* Whether a pack stands on the level; where a peephole is named, in line with it. */
static bool holds_pack(const ks_job *job, const ks_draft_level *level, const ks_keep_out *peephole)
{
    ks_arena scratch = {0};
    bool holds = false;
    for (int i = 0; i < level->n_pins + level->layout.n_spots && !holds; i++) {
        if (spot_of(level, i).item != job->cone)
            continue;
        ks_stand stand = spot_of(level, i).stand;
        ks_outline pack =
            ks_outline_place(&job->items[job->cone].parts[0].outline, stand, &scratch);
        holds = !peephole || is_on_the_way(&pack, peephole);
    }
    ks_arena_finish(&scratch);
    return holds;
}

static bool hold_pack_between(const ks_job *job, const ks_draft_load *load, ks_um low, ks_um high)
{
    for (int l = 0; l < load->n_levels; l++)
        if (load->levels[l].at.z >= low && load->levels[l].at.z <= high &&
            holds_pack(job, &load->levels[l], NULL))
            return true;
    return false;
}

/* Where no peephole looks onto a level, none has to stand in line. */
static bool stand_in_sight(const ks_job *job, const ks_draft_load *load)
{
    const ks_kiln *kiln = job->kinds[load->kind].furniture->kiln;
    bool sees = false;
    for (int i = 0; i < kiln->n_keep_outs; i++) {
        const ks_keep_out *out = &kiln->keep_outs[i];
        bool looks = out->kind && strcmp(out->kind, "peephole") == 0;
        for (int l = 0; l < load->n_levels && looks; l++) {
            const ks_draft_level *level = &load->levels[l];
            if (!can_hold(job, load, l) || !is_seen(job, kiln, level, out))
                continue;
            if (holds_pack(job, level, out))
                return true;
            sees = true;
        }
    }
    return !sees;
}

bool ks_cones_stand(const ks_job *job, const ks_draft_load *load)
{
    const ks_cone_packs *cones = &job->order->rules.cones;
    if (job->cone < 0 || load->n_levels == 0)
        return true;
    reach r = reach_of(job, load);
    if (r.lowest < 0)
        return true;
    ks_um low = load->levels[r.lowest].at.z, high = load->levels[r.highest].at.z;
    return (!cones->bottom || hold_pack_between(job, load, low, low)) &&
           (!cones->top || hold_pack_between(job, load, high, high)) &&
           (!cones->middle || r.middle < 0 || hold_pack_between(job, load, low + 1, high - 1)) &&
           (!cones->at_peephole || stand_in_sight(job, load));
}
