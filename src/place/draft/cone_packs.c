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

/* Whether the shelves lie somewhere on the way from the peephole to the chamber's middle. */
static bool are_on_the_way(const ks_kiln *kiln, const ks_stack_level *at,
                           const ks_keep_out *peephole)
{
    ks_arena scratch = {0};
    const ks_point way[2] = {ks_outline_centroid(&peephole->outline), {0, 0}};
    ks_outline line = {2, way, 0},
               shelves =
                   ks_support_outline(kiln, &kiln->bays[at->bay].supports[at->support], &scratch);
    bool on_the_way = ks_outline_distance(&line, &shelves) <= 0;
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

bool ks_ask_cones(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena)
{
    ks_draft_load *load = &draft->loads[slot];
    const ks_cone_packs *cones = &job->order->rules.cones;
    if (job->cone < 0 || load->n_levels == 0)
        return true;
    double top = ks_mm_of(load->levels[load->n_levels - 1].at.z),
           low = ks_mm_of(load->levels[0].at.z);
    int lowest = nearest_level(job, load, low, -1, -1),
        highest = nearest_level(job, load, top, -1, -1);
    int wanted[3] = {cones->bottom ? lowest : -1,
                     cones->middle ? nearest_level(job, load, (low + top) / 2, lowest, highest)
                                   : -1,
                     cones->top ? highest : -1};
    for (int i = 0; i < 3; i++)
        if (wanted[i] >= 0)
            load->levels[wanted[i]].cones = 1;
    return !cones->at_peephole || ask_in_line(job, load, arena);
}
