#include "place/check_judge.h"

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

/* The place of a level within its bay, and how many the bay has. */
static void rank_of(const ks_judge *j, int l, int *rank, int *count)
{
    *rank = *count = 0;
    const ks_level *level = &j->load->levels[l];
    for (int m = 0; m < j->load->n_levels; m++) {
        const ks_level *other = &j->load->levels[m];
        if (!ks_same_text(other->bay, level->bay))
            continue;
        ++*count;
        *rank += other->z_mm < level->z_mm;
    }
}

typedef struct {
    bool bottom, middle, top, at_peephole;
} packs;

static double z_of_chamber(const ks_judge *j, bool highest)
{
    double z = highest ? -INFINITY : INFINITY;
    for (int l = 0; l < j->load->n_levels; l++)
        z = highest ? fmax(z, j->load->levels[l].z_mm) : fmin(z, j->load->levels[l].z_mm);
    return z;
}

static bool is_at(const ks_keep_out *peephole, double low, double high)
{
    return low <= peephole->to_mm && high >= peephole->from_mm;
}

/* In line: on the way from the peephole to the chamber's middle, at its height. */
static bool in_line(const ks_thing *pack, const ks_keep_out *peephole)
{
    if (!is_at(peephole, pack->low, pack->high))
        return false;
    const ks_point way[2] = {ks_outline_centroid(&peephole->outline), {0, 0}};
    ks_outline line = {2, way, 0};
    return ks_outline_distance(&line, &pack->placed->parts[0].outline) <= 0;
}

static bool sees_a_level(const ks_judge *j, const ks_keep_out *peephole)
{
    for (int l = 0; l < j->load->n_levels; l++) {
        double z = j->load->levels[l].z_mm;
        if (is_at(peephole, z, z + j->order->rules.cones.height_mm))
            return true;
    }
    return false;
}

static void look_at_pack(const ks_judge *j, const ks_thing *pack, packs *seen)
{
    int rank, count;
    rank_of(j, pack->level, &rank, &count);
    double z = j->load->levels[pack->level].z_mm;
    seen->bottom = seen->bottom || rank == 0 || z <= z_of_chamber(j, false);
    seen->top = seen->top || rank == count - 1 || z >= z_of_chamber(j, true);
    seen->middle = seen->middle || (rank > 0 && rank < count - 1);
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

void ks_check_cones(ks_judge *j)
{
    const ks_cone_packs *asked = &j->order->rules.cones;
    if (!asked->wanted || j->load->n_levels == 0)
        return;
    packs seen = {0};
    for (int i = 0; i < j->n_things; i++)
        if (j->things[i].placed->role == KS_CONES)
            look_at_pack(j, &j->things[i], &seen);
    bool has_middle = false, sees = false;
    for (int l = 0; l < j->load->n_levels; l++) {
        int rank, count;
        rank_of(j, l, &rank, &count);
        has_middle = has_middle || count >= 3;
    }
    for (int k = 0; k < j->load->n_keep_outs; k++)
        sees = sees || (ks_same_text(j->load->keep_outs[k].kind, "peephole") &&
                        sees_a_level(j, &j->load->keep_outs[k]));
    want(j, asked->bottom, seen.bottom, "cones on the bottom level");
    want(j, asked->middle && has_middle, seen.middle, "cones on a middle level");
    want(j, asked->top, seen.top, "cones on the top level");
    want(j, asked->at_peephole && sees, seen.at_peephole, "cones in line with the peephole");
}
