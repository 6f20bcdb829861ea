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
        bool suits = ks_piece_suits(j->order, thing->piece, &j->load->firing, NULL);
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
