#include "place/draft/pack_sight.h"

#include "pack/shelf/shelf_rule.h"

#include <math.h>
#include <string.h>

bool ks_is_peephole(const ks_keep_out *out)
{
    return out->kind && strcmp(out->kind, "peephole") == 0;
}

/* A level line from the middle of the hole. */
typedef struct {
    ks_point ends[2];
    double z_mm; /* above the level's shelf, as high as both hole and pack are */
} sight;

static ks_outline line_of(const sight *s)
{
    return (ks_outline){2, s->ends, 0};
}

static sight sight_to(const ks_job *job, const ks_stack_level *at, const ks_keep_out *peephole,
                      ks_point to)
{
    double z = ks_mm_of(at->z), tall = job->height_mm[job->cone];
    double low = fmax(0, peephole->from_mm - z), high = fmin(tall, peephole->to_mm - z);
    return (sight){{ks_outline_centroid(&peephole->outline), to}, (low + high) / 2};
}

static bool meets(const sight *s, const ks_outline *shape)
{
    ks_outline line = line_of(s);
    return ks_outline_distance(&line, shape) <= 0;
}

static bool is_at_its_height(const ks_job *job, const ks_stack_level *at,
                             const ks_keep_out *peephole)
{
    double z = ks_mm_of(at->z);
    return z <= peephole->to_mm && z + job->height_mm[job->cone] >= peephole->from_mm;
}

bool ks_sight_looks(const ks_job *job, const ks_load_kind *kind, const ks_stack_level *at,
                    const ks_keep_out *peephole)
{
    if (!is_at_its_height(job, at, peephole))
        return false;
    ks_arena scratch = {0};
    const ks_kiln *kiln = kind->furniture->kiln;
    ks_outline shelves =
        ks_support_outline(kiln, &kiln->bays[at->bay].supports[at->support], &scratch);
    sight s = sight_to(job, at, peephole, (ks_point){0, 0});
    bool looks = meets(&s, &shelves);
    ks_arena_finish(&scratch);
    return looks;
}

/* The hole itself is an obstacle of the level too. */
static bool is_blocked(const ks_shelf_space *space, const ks_keep_out *peephole, const sight *s)
{
    for (int i = 0; i < space->n_obstacles; i++) {
        const ks_shelf_obstacle *thing = &space->obstacles[i];
        if (thing->outline.at != peephole->outline.at && !thing->grog_only &&
            thing->from_mm < s->z_mm && thing->to_mm > s->z_mm && meets(s, &thing->outline))
            return true;
    }
    return false;
}

static bool is_in_sight(const ks_job *job, const ks_shelf_space *space, const ks_stack_level *at,
                        const ks_keep_out *peephole, ks_stand pack)
{
    ks_arena scratch = {0};
    sight axis = sight_to(job, at, peephole, (ks_point){0, 0});
    ks_outline box = ks_outline_place(&job->items[job->cone].parts[0].outline, pack, &scratch);
    bool on_axis = meets(&axis, &box);
    ks_arena_finish(&scratch);
    sight s = sight_to(job, at, peephole, (ks_point){pack.x, pack.y});
    return on_axis && !is_blocked(space, peephole, &s);
}

bool ks_sight_of(const ks_job *job, const ks_load_kind *kind, const ks_stack_level *at,
                 const ks_keep_out *peephole, ks_stand pack)
{
    if (!is_at_its_height(job, at, peephole))
        return false;
    ks_arena scratch = {0};
    ks_shelf_space space = ks_level_space(job, kind, at, &scratch);
    bool seen = is_in_sight(job, &space, at, peephole, pack);
    ks_arena_finish(&scratch);
    return seen;
}

static ks_shelf_spot spot_of(const ks_draft_level *level, int i)
{
    return i < level->n_pins ? level->pins[i] : level->layout.spots[i - level->n_pins];
}

static bool is_hidden_by(const ks_job *job, const sight *s, ks_shelf_spot spot)
{
    ks_arena scratch = {0};
    const ks_shelf_item *item = &job->items[spot.item];
    bool hidden = false;
    for (int p = 0; p < item->n_parts && !hidden; p++) {
        if (item->parts[p].from_mm >= s->z_mm || item->parts[p].to_mm <= s->z_mm)
            continue;
        ks_outline part = ks_outline_place(&item->parts[p].outline, spot.stand, &scratch);
        hidden = meets(s, &part);
    }
    ks_arena_finish(&scratch);
    return hidden;
}

static bool is_seen_past_ware(const ks_job *job, const ks_draft_level *level,
                              const ks_keep_out *peephole, int pack)
{
    ks_stand stand = spot_of(level, pack).stand;
    sight s = sight_to(job, &level->at, peephole, (ks_point){stand.x, stand.y});
    for (int i = 0; i < level->n_pins + level->layout.n_spots; i++)
        if (i != pack && is_hidden_by(job, &s, spot_of(level, i)))
            return false;
    return true;
}

bool ks_sight_past(const ks_job *job, const ks_load_kind *kind, const ks_draft_level *level,
                   const ks_keep_out *peephole)
{
    for (int i = 0; i < level->n_pins + level->layout.n_spots; i++)
        if (spot_of(level, i).item == job->cone &&
            ks_sight_of(job, kind, &level->at, peephole, spot_of(level, i).stand) &&
            is_seen_past_ware(job, level, peephole, i))
            return true;
    return false;
}

bool ks_sight_stood(const ks_job *job, const ks_load_kind *kind, ks_draft_level *level,
                    const ks_keep_out *peephole, ks_arena *arena)
{
    enum { STEPS = 200 };
    ks_arena scratch = {0};
    ks_shelf_space space = ks_level_space(job, kind, &level->at, &scratch);
    ks_point hole = ks_outline_centroid(&peephole->outline);
    ks_shelf_spot *pins = KS_TAKE(arena, level->n_pins + 1, ks_shelf_spot);
    for (int i = 0; i < level->n_pins; i++)
        pins[i] = level->pins[i];
    double turn = fabs(hole.x) > fabs(hole.y) ? 90 : 0;
    ks_draft_level with = *level;
    with.pins = pins;
    with.n_pins++;
    bool found = false;
    for (int step = STEPS; step >= 0 && !found; step--) {
        ks_stand stand = {ks_mm_of(ks_um_of(hole.x * step / STEPS)),
                          ks_mm_of(ks_um_of(hole.y * step / STEPS)), turn};
        pins[level->n_pins] = (ks_shelf_spot){job->cone, stand};
        found =
            ks_shelf_slack(&space, &job->items[job->cone], 1, &(ks_shelf_spot){0, stand}, 0) >= 0 &&
            is_in_sight(job, &space, &level->at, peephole, stand) &&
            is_seen_past_ware(job, &with, peephole, level->n_pins) &&
            ks_shelf_loadable(&space, job->items, with.n_pins, pins);
    }
    if (found)
        *level = with;
    ks_arena_finish(&scratch);
    return found;
}
