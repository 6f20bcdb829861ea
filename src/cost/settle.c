#include "cost/settle.h"

#include "base/number.h"
#include "cost/concessions.h"
#include "cost/fine.h"
#include "cost/piece_cost.h"
#include "cost/share.h"
#include "cost/tariff.h"

#include <math.h>

double *ks_payer_weights(const ks_plan *plan, int load, ks_share_rule rule, ks_arena *arena)
{
    const ks_order *order = plan->order;
    const ks_load *of = &plan->loads[load];
    double *weights, empty, *by_payer = KS_TAKE(arena, order->n_members + 1, double);
    int studio = order->n_members, at = 0;
    (void)ks_load_weights(plan, load, rule, arena, &weights, &empty);
    for (int v = 0; v < of->n_levels; v++)
        for (int p = 0; p < of->levels[v].n_pieces; p++, at++) {
            const ks_placed *placed = &of->levels[v].pieces[p];
            if (placed->role == KS_CONES) {
                by_payer[studio] += order->money->cones == KS_PAID_STUDIO ? weights[at] : 0;
                continue;
            }
            int payer = ks_payer_of(order, placed->owner);
            by_payer[payer] += weights[at] * ks_guest_factor(order, payer);
        }
    if (order->money->empty_space == KS_PAID_STUDIO)
        by_payer[studio] += empty;
    return by_payer;
}

typedef struct {
    int64_t minor;
    const char *name; /* "firing of load 1" */
    ks_share_rule rule;
} shared_bill;

static double as_shown(double units, int decimals)
{
    double step = pow(10, decimals);
    return round(units * step) / step;
}

/* "38.43 x 10.5632 l / 102.2140 l = 3.9715", so that anyone can redo it: what these figures come
 * to, to the last place. */
static const char *how_shared(const shared_bill *bill, double own, double all,
                              const ks_costing *costing, ks_arena *arena)
{
    const char *unit = ks_share_unit(bill->rule);
    int decimals = bill->rule == KS_SHARE_COUNT ? 2 : 4;
    double hers = as_shown(ks_share_units(bill->rule, own), decimals);
    double of_all = as_shown(ks_share_units(bill->rule, all), decimals);
    ks_fine due = ks_fine_times(ks_minor_fine(bill->minor), of_all > 0 ? hers / of_all : own / all);
    return ks_arena_print(arena, "%s x %s %s / %s %s = %s",
                          ks_fine_print(ks_minor_fine(bill->minor), costing->digits, 0, arena),
                          ks_number_fixed(hers, decimals, arena), unit,
                          ks_number_fixed(of_all, decimals, arena), unit,
                          ks_fine_print(due, costing->digits, 2, arena));
}

/* Every rule but the fixed rate, by weights. */
static void settle_bill(const shared_bill *bill, double *weights, ks_arena *arena, ks_costing *out)
{
    double sum = 0;
    int64_t *parts = KS_TAKE(arena, out->n_shares, int64_t);
    for (int i = 0; i < out->n_shares; i++)
        sum += weights[i];
    /* An empty kiln that was fired all the same is the studio's. */
    bool empty = !(sum > 0);
    if (empty)
        weights[out->n_shares - 1] = sum = 1;
    ks_share_out(bill->minor, out->n_shares, weights, parts, arena);
    for (int i = 0; i < out->n_shares; i++)
        ks_share_line(&out->shares[i], bill->name,
                      empty ? "an empty kiln" : how_shared(bill, weights[i], sum, out, arena),
                      parts[i], arena);
}

static void loads_settled_together(const ks_plan *plan, ks_share_rule rule, ks_arena *arena,
                                   ks_costing *out)
{
    double *weights = KS_TAKE(arena, out->n_shares, double);
    int64_t bill = 0;
    for (int l = 0; l < out->n_loads; l++) {
        const double *of_load = ks_payer_weights(plan, l, rule, arena);
        for (int i = 0; i < out->n_shares; i++)
            weights[i] += of_load[i];
        bill += out->loads[l].total_minor;
    }
    settle_bill(&(shared_bill){bill, "firing of all loads together", rule}, weights, arena, out);
}

/* By the studio's list: the studio takes what is over and bears what is short. */
static void load_at_rate(int load, ks_arena *arena, ks_costing *out)
{
    int studio = out->n_shares - 1;
    ks_fine *fees = KS_TAKE(arena, out->n_shares, ks_fine);
    int64_t left = out->loads[load].total_minor;
    for (int i = 0; i < out->n_pieces; i++) {
        int payer = out->pieces[i].payer;
        if (out->pieces[i].load == load && payer != studio)
            fees[payer] = ks_fine_plus(fees[payer], out->pieces[i].fee);
    }
    for (int i = 0; i < studio; left -= ks_fine_minor(fees[i++]))
        ks_share_line(&out->shares[i], ks_arena_print(arena, "firing of load %d", load + 1),
                      "at the studio's rates", ks_fine_minor(fees[i]), arena);
    ks_share_line(&out->shares[studio], ks_arena_print(arena, "firing of load %d", load + 1),
                  "what the rates leave", left, arena);
}

/* Glazes are the studio's: who used them pays them, to the cent by the largest remainder. */
static int64_t settle_glazes(ks_arena *arena, ks_costing *out)
{
    double *due = KS_TAKE(arena, out->n_shares, double);
    int64_t *parts = KS_TAKE(arena, out->n_shares, int64_t);
    ks_fine sum = 0;
    for (int i = 0; i < out->n_pieces; i++) {
        const ks_piece_cost *cost = &out->pieces[i];
        due[cost->payer] += (double)cost->glaze;
        sum = ks_fine_plus(sum, cost->glaze);
    }
    int64_t total = ks_fine_minor(sum);
    if (sum > 0)
        ks_share_out(total, out->n_shares, due, parts, arena);
    for (int i = 0; i < out->n_shares; i++)
        ks_share_line(&out->shares[i], "glaze",
                      ks_arena_print(arena, "by weight laid on = %s",
                                     ks_fine_print((ks_fine)due[i], out->digits, 2, arena)),
                      parts[i], arena);
    return sum > 0 ? total : 0;
}

static int64_t settle_extras(const ks_money_terms *terms, ks_arena *arena, ks_costing *out)
{
    int64_t sum = 0;
    for (int i = 0; i < terms->n_extras; i++) {
        const ks_extra *extra = &terms->extras[i];
        int payer = extra->member < 0 ? out->n_shares - 1 : extra->member;
        ks_share_line(&out->shares[payer], extra->what, "", extra->minor, arena);
        sum += extra->minor;
    }
    return sum;
}

/* What lifts small shares to the least charge is taken off the studio's; who pays a flat fee pays
 * that alone. Damage, refires and credits come on top of it. */
static void charge_least(const ks_order *order, ks_arena *arena, ks_costing *out)
{
    const ks_money_terms *terms = order->money;
    int studio = out->n_shares - 1;
    for (int i = 0; i < studio; i++) {
        int64_t short_by = terms->member_least_minor - out->shares[i].minor;
        if (out->shares[i].pieces == 0 || short_by <= 0 || ks_subscription_of(order, i))
            continue;
        ks_share_line(&out->shares[i], "up to the least charge", "", short_by, arena);
        ks_share_line(&out->shares[studio], "taken from the least charge", out->shares[i].name,
                      -short_by, arena);
    }
}

static void open_shares(const ks_order *order, ks_arena *arena, ks_costing *out)
{
    out->n_shares = order->n_members + 1;
    out->shares = KS_TAKE(arena, out->n_shares, ks_share);
    for (int m = 0; m < order->n_members; m++)
        out->shares[m] = (ks_share){.member = order->members[m].id, .name = order->members[m].name};
    out->shares[order->n_members] = (ks_share){.member = "", .name = "the studio"};
    for (int i = 0; i < out->n_pieces; i++)
        out->shares[out->pieces[i].payer].pieces++;
}

void ks_costing_settle(const ks_plan *plan, ks_share_rule rule, ks_arena *arena, ks_costing *out)
{
    open_shares(plan->order, arena, out);
    out->total_minor = 0;
    bool together = ks_loads_together(plan->order, rule);
    for (int l = 0; l < out->n_loads; l++) {
        out->total_minor += out->loads[l].total_minor;
        if (rule == KS_SHARE_RATE)
            load_at_rate(l, arena, out);
        else if (!together)
            settle_bill(&(shared_bill){out->loads[l].total_minor,
                                       ks_arena_print(arena, "firing of load %d", l + 1), rule},
                        ks_payer_weights(plan, l, rule, arena), arena, out);
    }
    if (together)
        loads_settled_together(plan, rule, arena, out);
    ks_concessions_settle(plan, rule, arena, out);
    out->total_minor += settle_glazes(arena, out);
    charge_least(plan->order, arena, out);
    out->total_minor += settle_extras(plan->order->money, arena, out);
}
