#include "check/check_judge.h"

#include "studio/stacked.h"

/* Clearances between pieces; see docs/checking.md. */

typedef struct {
    const ks_thing *a, *b;
    int part_a, part_b;
    ks_rule rule; /* for parts at one height */
    double need_mm;
    double gap; /* in height */
    bool one_stack, never_over;
} pair;

static bool one_stack(const ks_thing *a, const ks_thing *b)
{
    return a->root == b->root && a->level == b->level;
}

static double larger(double a, double b)
{
    return a > b ? a : b;
}

static double need_of(const ks_judge *j, const pair *p)
{
    const ks_placed *a = p->a->placed, *b = p->b->placed;
    if (p->one_stack)
        return 0;
    double base = a->glazed || b->glazed ? j->load->clearance.ware : 0;
    if (p->rule == RULE_SETTERS)
        base = j->load->clearance.setter;
    return larger(base, larger(a->around_mm, b->around_mm));
}

static pair pair_of(const ks_judge *j, const ks_thing *a, int part_a, const ks_thing *b, int part_b)
{
    pair p = {.a = a, .b = b, .part_a = part_a, .part_b = part_b, .one_stack = one_stack(a, b)};
    bool setters =
        ks_is_setter(a->placed->parts[part_a].kind) && ks_is_setter(b->placed->parts[part_b].kind);
    p.rule = setters ? RULE_SETTERS : p.one_stack ? RULE_INSIDES : RULE_WARE;
    p.need_mm = need_of(j, &p);
    p.gap = ks_gap_between(ks_low_of(a, part_a), ks_high_of(a, part_a), ks_low_of(b, part_b),
                           ks_high_of(b, part_b));
    p.never_over = !p.one_stack && (a->runny || b->runny);
    return p;
}

/* Whether the upper part lies over its own shelves, and the lower one under them. */
static bool shelf_between(const ks_judge *j, const pair *p)
{
    bool a_lower = p->a->z < p->b->z;
    const ks_thing *lower = a_lower ? p->a : p->b, *upper = a_lower ? p->b : p->a;
    int low_part = a_lower ? p->part_a : p->part_b, up_part = a_lower ? p->part_b : p->part_a;
    const ks_level *level = &j->load->levels[upper->level];
    if (level->n_shelves == 0)
        return false;
    double thickest = 0;
    for (int s = 0; s < level->n_shelves; s++)
        thickest = larger(thickest, level->shelves[s].thickness_mm);
    if (ks_high_of(lower, low_part) > upper->z - thickest + KS_GRID)
        return false;
    return ks_outline_inside(&upper->placed->parts[up_part].outline, &j->supports[upper->level]) >=
           -KS_GRID;
}

static double plan_distance(const pair *p)
{
    if (p->one_stack)
        return ks_parts_apart_mm(&p->a->placed->parts[p->part_a], &p->b->placed->parts[p->part_b]);
    ks_outline a = ks_thing_widest(p->a, p->part_a), b = ks_thing_widest(p->b, p->part_b);
    return ks_outline_distance(&a, &b);
}

/* Parts that stand over one another: enough between them in height? */
static void judge_over(ks_judge *j, const pair *p, double plan_slack, double under)
{
    if (p->a->z != p->b->z && shelf_between(j, p))
        return;
    double slack = p->never_over ? plan_slack : larger(plan_slack, p->gap - under);
    ks_note(j, RULE_UNDER, slack, ks_spot_pair(j, p->a, p->b));
}

/* Parts at one height need the distance; parts less than `under` apart in height need it too,
 * since the upper would overhang the lower or come close to it at a slant. */
static void judge_parts(ks_judge *j, const pair *p)
{
    double under = p->one_stack ? 0 : j->load->clearance.under;
    bool may_be_over = p->gap >= under && !p->never_over;
    double least = ks_box_distance(p->a->boxes[p->part_a], p->b->boxes[p->part_b]) - p->need_mm;
    if (may_be_over ? least >= 0 || ks_is_dull(j, RULE_UNDER, p->gap - under)
                    : ks_is_dull(j, p->rule, least))
        return;
    double slack = plan_distance(p) - p->need_mm;
    if (p->gap < -KS_GRID || (slack >= 0 && !may_be_over))
        ks_note(j, p->rule, slack, ks_spot_pair(j, p->a, p->b));
    else if (slack < 0)
        judge_over(j, p, slack, under);
}

static void judge_things(ks_judge *j, const ks_thing *a, const ks_thing *b)
{
    for (int i = 0; i < a->placed->n_parts; i++)
        for (int k = 0; k < b->placed->n_parts; k++) {
            pair p = pair_of(j, a, i, b, k);
            judge_parts(j, &p);
        }
}

/* Pairs so far apart that none of their parts could be the tightest are not looked into. */
static bool nothing_to_say(const ks_judge *j, const ks_thing *a, const ks_thing *b)
{
    const ks_clearance *clear = &j->load->clearance;
    double need = larger(larger(clear->ware, clear->setter),
                         larger(a->placed->around_mm, b->placed->around_mm));
    double least = ks_box_distance(a->box, b->box) - need;
    if (least >= 0 && ks_is_dull(j, RULE_WARE, least) &&
        (!a->has_setter || !b->has_setter || ks_is_dull(j, RULE_SETTERS, least)))
        return true;
    double gap = ks_gap_between(a->low, a->high, b->low, b->high);
    return a->level != b->level && gap >= clear->under && !a->runny && !b->runny;
}

static bool is_asked(const ks_judge *j, const ks_thing *a, const ks_thing *b)
{
    return ks_is_asked(j, a->placed->id, a->placed->copy) ||
           ks_is_asked(j, b->placed->id, b->placed->copy);
}

void ks_check_distances(ks_judge *j)
{
    for (int i = 0; i < j->n_things; i++)
        for (int k = i + 1; k < j->n_things; k++)
            if (is_asked(j, &j->things[i], &j->things[k]) &&
                !nothing_to_say(j, &j->things[i], &j->things[k]))
                judge_things(j, &j->things[i], &j->things[k]);
}
