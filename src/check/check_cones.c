#include "check/check_judge.h"

/* Witness cone packs: on the levels asked for, and seen through the peephole. */

typedef struct {
    bool any, bottom, middle, top;
} packs;

/* Whether a pack has room on the level under what is above it. */
static bool holds_pack(const ks_judge *j, int l)
{
    const ks_level *level = &j->load->levels[l];
    bool topmost = true;
    for (int m = 0; m < j->load->n_levels; m++)
        topmost = topmost && !(ks_same_text(j->load->levels[m].bay, level->bay) &&
                               j->load->levels[m].z_mm > level->z_mm);
    double kept = topmost ? j->load->clearance.lid : j->load->clearance.above;
    double tall = j->order->rules.cones.height_mm;
    return tall + kept <= level->gap_mm + KS_GRID &&
           ks_check_lintel(j, level->z_mm, tall) >= -KS_GRID;
}

/* The lowest and the highest of the levels that can hold a pack. */
static void reach_of_packs(const ks_judge *j, double *low, double *high)
{
    *low = INFINITY;
    *high = -INFINITY;
    for (int l = 0; l < j->load->n_levels; l++)
        if (holds_pack(j, l)) {
            *low = fmin(*low, j->load->levels[l].z_mm);
            *high = fmax(*high, j->load->levels[l].z_mm);
        }
}

static bool is_between(const ks_judge *j, double low, double high)
{
    for (int l = 0; l < j->load->n_levels; l++) {
        double z = j->load->levels[l].z_mm;
        if (z > low && z < high && holds_pack(j, l))
            return true;
    }
    return false;
}

static void look_at_pack(const ks_judge *j, const ks_thing *pack, double low, double high,
                         packs *seen)
{
    double z = j->load->levels[pack->level].z_mm;
    seen->any = true;
    seen->bottom = seen->bottom || z <= low;
    seen->top = seen->top || z >= high;
    seen->middle = seen->middle || (z > low && z < high);
}

static void want(ks_judge *j, bool wanted, bool there, const char *what)
{
    ks_spot where = ks_spot_load(j);
    where.a = what;
    if (wanted)
        ks_note(j, RULE_CONES, there ? 0 : -1, where);
}

/* A level line from the middle of a peephole. */
typedef struct {
    ks_point ends[2];
    double z; /* above the chamber floor */
} line;

static bool meets(const line *l, const ks_outline *shape)
{
    ks_outline as_outline = {2, l->ends, 0};
    return ks_outline_distance(&as_outline, shape) <= 0;
}

static bool is_over(double z, double low, double high)
{
    return z > low && z < high;
}

/* To the middle of the pack, as high as both it and the hole are. */
static line line_to(const ks_keep_out *hole, const ks_thing *pack)
{
    ks_stand at = pack->placed->stand;
    return (line){{ks_outline_centroid(&hole->outline), {at.x, at.y}},
                  (fmax(hole->from_mm, pack->low) + fmin(hole->to_mm, pack->high)) / 2};
}

/* The hole looks from its middle to the chamber's. */
static bool is_before(const ks_keep_out *hole, const ks_outline *shape)
{
    line axis = {{ks_outline_centroid(&hole->outline), {0, 0}}, 0};
    return meets(&axis, shape);
}

/* What stands between, to be named in the remark; NULL = nothing. */
static const char *hidden_by_furniture(const ks_judge *j, const line *l)
{
    for (int i = 0; i < j->load->n_posts; i++) {
        const ks_post *post = &j->load->posts[i];
        if (is_over(l->z, post->from_mm, post->to_mm) && meets(l, &post->outline))
            return "a post before it";
    }
    for (int i = 0; i < j->load->n_levels; i++)
        for (int s = 0; s < j->load->levels[i].n_shelves; s++) {
            const ks_shelf *shelf = &j->load->levels[i].shelves[s];
            double top = j->load->levels[i].z_mm;
            if (is_over(l->z, top - shelf->thickness_mm, top) && meets(l, &shelf->outline))
                return "a shelf before it";
        }
    return NULL;
}

static const ks_thing *hidden_by_ware(const ks_judge *j, const line *l, const ks_thing *pack)
{
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        for (int p = 0; thing != pack && p < thing->placed->n_parts; p++) {
            ks_outline widest = ks_thing_widest(thing, p);
            if (is_over(l->z, ks_low_of(thing, p), ks_high_of(thing, p)) && meets(l, &widest))
                return thing;
        }
    }
    return NULL;
}

static bool looks_onto(const ks_judge *j, const ks_keep_out *hole, int level)
{
    double z = j->load->levels[level].z_mm, tall = j->order->rules.cones.height_mm;
    return ks_same_text(hole->kind, "peephole") && hole->to_mm >= z && hole->from_mm <= z + tall &&
           is_before(hole, &j->supports[level]);
}

static bool sees(const ks_judge *j, const ks_keep_out *hole, const ks_thing *pack)
{
    line l = line_to(hole, pack);
    return pack->placed->n_parts > 0 && is_before(hole, &pack->placed->parts[0].outline) &&
           !hidden_by_furniture(j, &l) && !hidden_by_ware(j, &l, pack);
}

static void remark_hidden(ks_judge *j, const ks_keep_out *hole, const ks_thing *pack)
{
    line l = line_to(hole, pack);
    const ks_thing *ware = hidden_by_ware(j, &l, pack);
    ks_spot where = ks_spot_thing(j, pack);
    if (!is_before(hole, &pack->placed->parts[0].outline))
        where.b = "the peephole, which looks past it";
    else if (ware)
        where = ks_spot_pair(j, pack, ware);
    else
        where.b = hidden_by_furniture(j, &l);
    ks_remark_note(j, REMARK_SIGHT, where);
}

/* Whether a peephole looks onto the pack's level; one that sees it not is remarked. */
static bool look_for_pack(ks_judge *j, const ks_thing *pack)
{
    const ks_keep_out *hidden = NULL;
    for (int k = 0; k < j->load->n_keep_outs; k++) {
        const ks_keep_out *hole = &j->load->keep_outs[k];
        if (!looks_onto(j, hole, pack->level))
            continue;
        if (sees(j, hole, pack))
            return true;
        hidden = hole;
    }
    if (hidden && pack->placed->n_parts > 0)
        remark_hidden(j, hidden, pack);
    return hidden != NULL;
}

static bool is_looked_onto(const ks_judge *j)
{
    for (int k = 0; k < j->load->n_keep_outs; k++)
        for (int l = 0; l < j->load->n_levels; l++)
            if (holds_pack(j, l) && looks_onto(j, &j->load->keep_outs[k], l))
                return true;
    return false;
}

static void look_through_peepholes(ks_judge *j)
{
    bool any = false;
    for (int i = 0; i < j->n_things; i++)
        if (j->things[i].placed->role == KS_CONES && look_for_pack(j, &j->things[i]))
            any = true;
    ks_spot where = ks_spot_load(j);
    where.a = "no cone pack at a peephole";
    if (!any && is_looked_onto(j))
        ks_remark_note(j, REMARK_SIGHT, where);
}

/* The levels are those that can hold a pack: none can stand over a level of plates. */
void ks_check_cones(ks_judge *j)
{
    if (!j->order->rules.cones.wanted || !j->kiln)
        return;
    ks_cone_packs asked = ks_order_cones(j->order, j->kiln);
    double low, high;
    reach_of_packs(j, &low, &high);
    if (low > high)
        return;
    packs seen = {0};
    for (int i = 0; i < j->n_things; i++)
        if (j->things[i].placed->role == KS_CONES)
            look_at_pack(j, &j->things[i], low, high, &seen);
    want(j, asked.one, seen.any, "a cone pack");
    want(j, asked.bottom, seen.bottom, "cones on the bottom level");
    want(j, asked.middle && is_between(j, low, high), seen.middle, "cones on a middle level");
    want(j, asked.top, seen.top, "cones on the top level");
    if (asked.at_peephole)
        look_through_peepholes(j);
}
