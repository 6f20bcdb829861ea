#include "check/check_judge.h"

/* Who may go in, with whom, and how much of whose. */

static bool kept_apart(const ks_apart *rule, uint32_t a, uint32_t b)
{
    return (a & rule->a && b & rule->b) || (a & rule->b && b & rule->a);
}

static void judge_apart(ks_judge *j)
{
    for (int r = 0; r < j->order->rules.n_apart; r++) {
        const ks_apart *rule = &j->order->rules.apart[r];
        double slack = INFINITY;
        for (int i = 0; i < j->n_things; i++)
            for (int k = i + 1; k < j->n_things; k++) {
                const ks_thing *a = &j->things[i], *b = &j->things[k];
                if (!a->piece || !b->piece || !kept_apart(rule, a->piece->tags, b->piece->tags))
                    continue;
                slack = 0;
                if (rule->whole_load || a->level == b->level)
                    ks_note(j, RULE_APART, -1, ks_spot_pair(j, a, b));
            }
        if (slack < INFINITY)
            ks_note(j, RULE_APART, slack, ks_spot_load(j));
    }
}

static void judge_suits(ks_judge *j)
{
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        if (!thing->piece)
            continue;
        bool suits = ks_piece_suits(j->order, thing->piece, &j->load->firing, j->arena, NULL);
        ks_note(j, RULE_SUITS, suits ? 0 : -1, ks_spot_thing(j, thing));
    }
}

static void judge_quota(ks_judge *j, const ks_member *member)
{
    double litres = 0;
    int pieces = 0;
    for (int i = 0; i < j->n_things; i++) {
        const ks_piece *piece = j->things[i].piece;
        if (!piece || !ks_same_text(piece->owner, member->id))
            continue;
        litres += piece->volume_mm3 / 1e6;
        pieces++;
    }
    ks_spot where = ks_spot_load(j);
    where.a = ks_text(member->id);
    if (member->quota_litres > 0)
        ks_note(j, RULE_QUOTAS, member->quota_litres - litres, where);
    if (member->quota_pieces > 0)
        ks_note(j, RULE_QUOTAS, member->quota_pieces - pieces, where);
}

void ks_check_company(ks_judge *j)
{
    judge_apart(j);
    judge_suits(j);
    for (int m = 0; m < j->order->n_members; m++)
        judge_quota(j, &j->order->members[m]);
}

typedef struct {
    bool bottom, middle, top, at_peephole;
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

static bool is_at(const ks_keep_out *peephole, double low, double high)
{
    return low <= peephole->to_mm && high >= peephole->from_mm;
}

/* Whether something lies on the way from the peephole to the chamber's middle. */
static bool is_on_the_way(const ks_keep_out *peephole, const ks_outline *shape)
{
    const ks_point way[2] = {ks_outline_centroid(&peephole->outline), {0, 0}};
    ks_outline line = {2, way, 0};
    return ks_outline_distance(&line, shape) <= 0;
}

static bool in_line(const ks_thing *pack, const ks_keep_out *peephole)
{
    return is_at(peephole, pack->low, pack->high) &&
           is_on_the_way(peephole, &pack->placed->parts[0].outline);
}

static bool sees_a_level(const ks_judge *j, const ks_keep_out *peephole)
{
    for (int l = 0; l < j->load->n_levels; l++) {
        double z = j->load->levels[l].z_mm;
        if (holds_pack(j, l) && is_at(peephole, z, z + j->order->rules.cones.height_mm) &&
            is_on_the_way(peephole, &j->supports[l]))
            return true;
    }
    return false;
}

static void look_at_pack(const ks_judge *j, const ks_thing *pack, double low, double high,
                         packs *seen)
{
    double z = j->load->levels[pack->level].z_mm;
    seen->bottom = seen->bottom || z <= low;
    seen->top = seen->top || z >= high;
    seen->middle = seen->middle || (z > low && z < high);
    for (int k = 0; pack->placed->n_parts > 0 && k < j->load->n_keep_outs; k++)
        if (ks_same_text(j->load->keep_outs[k].kind, "peephole"))
            seen->at_peephole = seen->at_peephole || in_line(pack, &j->load->keep_outs[k]);
}

static void want(ks_judge *j, bool wanted, bool there, const char *what)
{
    ks_spot where = ks_spot_load(j);
    where.a = what;
    if (wanted)
        ks_note(j, RULE_CONES, there ? 0 : -1, where);
}

/* The levels are those that can hold a pack: none can stand over a level of plates. */
void ks_check_cones(ks_judge *j)
{
    const ks_cone_packs *asked = &j->order->rules.cones;
    double low, high;
    reach_of_packs(j, &low, &high);
    if (!asked->wanted || low > high)
        return;
    packs seen = {0};
    for (int i = 0; i < j->n_things; i++)
        if (j->things[i].placed->role == KS_CONES)
            look_at_pack(j, &j->things[i], low, high, &seen);
    bool sees = false;
    for (int k = 0; k < j->load->n_keep_outs; k++)
        sees = sees || (ks_same_text(j->load->keep_outs[k].kind, "peephole") &&
                        sees_a_level(j, &j->load->keep_outs[k]));
    want(j, asked->bottom, seen.bottom, "cones on the bottom level");
    want(j, asked->middle && is_between(j, low, high), seen.middle, "cones on a middle level");
    want(j, asked->top, seen.top, "cones on the top level");
    want(j, asked->at_peephole && sees, seen.at_peephole, "cones in line with the peephole");
}
