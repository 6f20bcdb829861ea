#include "cost/concessions.h"

#include "base/language.h"
#include "base/money_text.h"
#include "base/number.h"
#include "cost/fine.h"
#include "cost/share.h"

#include <math.h>
#include <string.h>

const ks_subscription *ks_subscription_of(const ks_order *order, int member)
{
    const ks_money_terms *terms = order->money;
    for (int i = 0; i < terms->n_subscriptions; i++)
        if (strcmp(terms->subscriptions[i].id, order->members[member].subscription) == 0)
            return &terms->subscriptions[i];
    return NULL;
}

typedef struct {
    const ks_order *order;
    ks_costing *costing;
    int member;
    int64_t firing_minor; /* of hers, as far as nothing has paid it yet */
    ks_arena *arena;
} concession;

/* On the member's share, and the other way round on the studio's. */
static void settle_line(concession *of, const char *what, const char *how, int64_t minor)
{
    ks_costing *costing = of->costing;
    ks_share *hers = &costing->shares[of->member];
    ks_share_line(hers, what, how, minor, of->arena);
    ks_share_line(&costing->shares[costing->n_shares - 1], what, hers->name, -minor, of->arena);
}

static const char *percent_words(const concession *of, double part)
{
    return ks_arena_print(of->arena, "%s %% of %s",
                          ks_number_print(rint(part * 1e6) / 1e4, of->arena),
                          ks_money_print(of->firing_minor, of->costing->digits, of->arena));
}

static int64_t part_of(int64_t minor, double part)
{
    return ks_fine_minor(ks_fine_times(ks_minor_fine(minor), part));
}

static void surcharge_guest(concession *of)
{
    double more = of->order->money->guest_factor - 1;
    int64_t minor = part_of(of->firing_minor, more);
    if (!of->order->members[of->member].guest)
        return;
    settle_line(of, more > 0 ? "guest's surcharge" : "guest's reduction", percent_words(of, more),
                minor);
    of->firing_minor += minor;
}

/* What all her ware comes to in the unit it is charged by. */
static double own_units(const concession *of, const char **unit)
{
    double units = 0;
    *unit = "";
    for (int i = 0; i < of->costing->n_pieces; i++) {
        const ks_piece_cost *cost = &of->costing->pieces[i];
        if (cost->payer != of->member)
            continue;
        units += cost->units;
        *unit = cost->unit;
    }
    return units;
}

static void subscribe(concession *of, const ks_subscription *to)
{
    const char *unit, *how = "";
    double units = own_units(of, &unit);
    int64_t covered = of->firing_minor;
    if (!isnan(to->included) && to->included < units) {
        covered = part_of(of->firing_minor, to->included / units);
        how = ks_arena_print(of->arena, "%s x %s %s / %s %s",
                             ks_money_print(of->firing_minor, of->costing->digits, of->arena),
                             ks_number_print(to->included, of->arena), unit,
                             ks_number_fixed(units, 4, of->arena), unit);
    }
    settle_line(of, ks_arena_print(of->arena, "within the subscription %s", to->name), how,
                -covered);
    of->firing_minor -= covered;
}

static void settle_member(concession *of, ks_share_rule rule)
{
    const ks_subscription *to = ks_subscription_of(of->order, of->member);
    double discount = of->order->members[of->member].discount;
    if (rule == KS_SHARE_RATE)
        surcharge_guest(of);
    if (to)
        subscribe(of, to);
    if (discount > 0)
        settle_line(of, ks_tr("discount"), percent_words(of, discount),
                    -part_of(of->firing_minor, discount));
    if (to)
        settle_line(of, ks_arena_print(of->arena, "subscription %s", to->name), "", to->fee_minor);
}

void ks_concessions_settle(const ks_plan *plan, ks_share_rule rule, ks_arena *arena,
                           ks_costing *out)
{
    for (int m = 0; m < plan->order->n_members; m++) {
        concession of = {plan->order, out, m, out->shares[m].minor, arena};
        if (out->shares[m].pieces > 0)
            settle_member(&of, rule);
    }
}
