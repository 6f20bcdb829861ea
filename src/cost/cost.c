#include "kilnstow/cost.h"

#include "base/language.h"
#include "base/money_text.h"
#include "base/number.h"
#include "cost/assumed.h"
#include "cost/bill.h"
#include "cost/fee.h"
#include "cost/fine.h"
#include "cost/piece_cost.h"
#include "cost/settle.h"
#include "cost/share.h"

#include <string.h>

/* What a weight of one pays of the load's bill, in fine units. A guest's pieces weigh more. */
typedef struct {
    const ks_plan *plan;
    ks_share_rule rule;
    ks_fine bill;
    double kwh;
    double sum;            /* of all payers' weights */
    const char *bill_name; /* "the load's bill" */
    const double *losses;  /* as ks_cost_options has them */
} sharing;

static const char *const third_names[KS_THIRDS] = {KS_WORDS("bottom"), KS_WORDS("middle"),
                                                   KS_WORDS("top")};

int ks_third_of(double part)
{
    int third = (int)(KS_THIRDS * part);
    return third < 0 ? 0 : third < KS_THIRDS ? third : KS_THIRDS - 1;
}

const char *ks_third_name(int third)
{
    return third_names[third];
}

/* The part of such pieces that fails, where the level stands. */
static double losses_of(const sharing *by, const ks_load *load, int level, int piece)
{
    int third = ks_third_of(load->levels[level].z_mm / load->height_mm);
    return by->losses ? by->losses[KS_THIRDS * piece + third] : by->plan->order->money->losses;
}

static const char *const shared_by[] = {
    [KS_SHARE_BOX] = "its own box",
    [KS_SHARE_SLICES] = "slices of height",
    [KS_SHARE_SHELF] = "shelf and clear gap",
    [KS_SHARE_MASS] = "mass",
    [KS_SHARE_COUNT] = "count",
    [KS_SHARE_SIDES] = "the box around it",
    [KS_SHARE_RATE] = "the studio's rates",
};

static void weigh_payers(const ks_plan *plan, int load, ks_arena *arena, sharing *by)
{
    const double *payers = ks_payer_weights(plan, load, by->rule, arena);
    for (int i = 0; i <= plan->order->n_members; i++)
        by->sum += payers[i];
}

/* What a load is shared by: its own bill and weights, or those of all loads. */
static sharing sharing_of(const ks_plan *plan, int load, ks_share_rule rule, ks_arena *arena,
                          const ks_costing *out)
{
    sharing by = {plan, rule, 0, 0, 0, "the load's bill", NULL};
    bool together = ks_loads_together(plan->order, rule);
    if (together)
        by.bill_name = "the bill of all loads";
    for (int l = together ? 0 : load; l < (together ? plan->n_loads : load + 1); l++) {
        by.bill = ks_fine_plus(by.bill, ks_minor_fine(out->loads[l].total_minor));
        by.kwh += out->loads[l].kwh;
        weigh_payers(plan, l, arena, &by);
    }
    return by;
}

/* What is left to pay after her discount. */
static double after_discount(const ks_order *order, int payer)
{
    return payer < order->n_members ? 1 - order->members[payer].discount : 1;
}

/* By the studio's list; in words how. */
static const char *charge_fee(const ks_order *order, const ks_fee *fee, ks_arena *arena,
                              ks_piece_cost *cost)
{
    double factor = ks_guest_factor(order, cost->payer) * after_discount(order, cost->payer);
    cost->firing = ks_fine_times(fee->fee, factor);
    cost->units = fee->units;
    cost->unit = fee->unit;
    cost->fee = fee->fee;
    cost->fee_how = fee->how;
    if (factor == 1)
        return fee->how;
    return ks_arena_print(arena, "%s, times %g for a guest or by discount", fee->how, factor);
}

/* Its part of the bill by its weight. */
static void charge_part(const sharing *by, double weight, ks_piece_cost *cost)
{
    const ks_order *order = by->plan->order;
    double times = ks_guest_factor(order, cost->payer);
    double part = by->sum > 0 ? weight * times / by->sum * after_discount(order, cost->payer) : 0;
    cost->firing = ks_fine_times(by->bill, part);
    cost->units = ks_share_units(by->rule, weight) * times;
    cost->unit = ks_share_unit(by->rule);
    cost->fee_how = "";
}

/* By the list where there is a fee, else by weight. */
static void piece_shared(const sharing *by, double weight, const ks_fee *fee, ks_arena *arena,
                         ks_piece_cost *cost)
{
    const char *how = "";
    if (fee)
        how = charge_fee(by->plan->order, fee, arena, cost);
    else
        charge_part(by, weight, cost);
    cost->firing_part = by->bill > 0 ? (double)cost->firing / (double)by->bill : 0;
    cost->kwh = cost->firing_part * by->kwh;
    if (!fee)
        how = ks_arena_print(arena, "%s %% of %s, by %s",
                             ks_number_fixed(100 * cost->firing_part, 2, arena), by->bill_name,
                             shared_by[by->rule]);
    ks_piece_costed(by->plan, how, cost, arena);
}

static ks_status load_costed(const sharing *by, int load, ks_arena *arena, ks_costing *out,
                             ks_error *err)
{
    const ks_plan *plan = by->plan;
    const ks_load *of = &plan->loads[load];
    double *weights, empty;
    ks_fee *fees = NULL;
    (void)ks_load_weights(plan, load, by->rule, arena, &weights, &empty);
    if (by->rule == KS_SHARE_RATE && ks_load_fees(plan, load, arena, &fees, err) != KS_OK)
        return KS_BAD_INPUT;
    for (int v = 0, at = 0; v < of->n_levels; v++)
        for (int p = 0; p < of->levels[v].n_pieces; p++, at++) {
            const ks_placed *placed = &of->levels[v].pieces[p];
            if (placed->role == KS_CONES || placed->piece < 0)
                continue;
            ks_piece_cost *cost = &out->pieces[out->n_pieces++];
            *cost = (ks_piece_cost){.load = load,
                                    .level = v,
                                    .place = p,
                                    .piece = placed->piece,
                                    .copy = placed->copy,
                                    .owner = placed->owner,
                                    .payer = ks_payer_of(plan->order, placed->owner),
                                    .losses = losses_of(by, of, v, placed->piece)};
            piece_shared(by, weights[at], fees ? &fees[at] : NULL, arena, cost);
        }
    return KS_OK;
}

static int places_of(const ks_plan *plan)
{
    int n = 0;
    for (int l = 0; l < plan->n_loads; l++)
        for (int v = 0; v < plan->loads[l].n_levels; v++)
            n += plan->loads[l].levels[v].n_pieces;
    return n;
}

/* Terms that nobody can mean have run into the ceiling of amounts. */
static ks_status amounts_held(const ks_order *order, const ks_costing *costing, ks_error *err)
{
    bool held = true;
    for (int l = 0; l < costing->n_loads; l++)
        held = held && costing->loads[l].lines.sum < KS_FINE_MOST;
    for (int i = 0; i < costing->n_pieces; i++)
        held = held && costing->pieces[i].total < KS_FINE_MOST;
    if (held)
        return KS_OK;
    return ks_fail(
        err, KS_BAD_INPUT,
        "%s: costs: found prices that come to more than can be counted; look for a price "
        "in the wrong unit",
        order->file);
}

static ks_status terms_suffice(const ks_order *order, ks_share_rule rule, ks_error *err)
{
    const ks_money_terms *terms = order->money;
    if (rule != KS_SHARE_RATE || terms->n_rates > 0 || terms->rate_per_litre > 0 ||
        terms->rate_least_minor > 0)
        return KS_OK;
    return ks_fail(
        err, KS_BAD_INPUT,
        "%s: costs.share.per_litre: found nothing; sharing by rate needs what a litre of "
        "ware pays, or the studio's list in costs.share.rates",
        order->file);
}

ks_status ks_cost(const ks_plan *plan, const ks_firing_result *fired,
                  const ks_cost_options *options, ks_arena *arena, ks_costing *out, ks_error *err)
{
    const ks_order *order = plan->order;
    if (!order->money)
        return ks_fail(
            err, KS_BAD_INPUT,
            "%s: costs: found nothing; an order that is to be costed tells tariff, wear, "
            "labour and prices there",
            order->file);
    ks_share_rule rule = options->rule < 0 ? order->money->rule : (ks_share_rule)options->rule;
    *out = (ks_costing){.currency = order->currency, .n_loads = plan->n_loads, .rule = rule};
    ks_status status = terms_suffice(order, rule, err);
    out->digits = ks_currency_digits(order->currency);
    out->loads = KS_TAKE(arena, plan->n_loads, ks_load_bill);
    out->pieces = KS_TAKE(arena, places_of(plan), ks_piece_cost);
    for (int l = 0; l < plan->n_loads && !status; l++)
        status = ks_load_charge(plan, l, fired, arena, &out->loads[l], err);
    if (status)
        return status;
    sharing by = {0};
    for (int l = 0; l < plan->n_loads && !status; l++) {
        if (l == 0 || !ks_loads_together(order, rule))
            by = sharing_of(plan, l, rule, arena, out);
        by.losses = options->losses;
        status = load_costed(&by, l, arena, out, err);
    }
    if (status)
        return status;
    ks_costing_settle(plan, rule, arena, out);
    ks_cost_assumed(plan, fired, arena, out);
    return amounts_held(order, out, err);
}

static bool alike(const ks_piece_cost *a, const ks_piece_cost *b)
{
    return a->piece == b->piece && a->load == b->load && a->total == b->total;
}

bool ks_cost_told_before(const ks_costing *costing, int i)
{
    for (int j = 0; j < i; j++)
        if (alike(&costing->pieces[j], &costing->pieces[i]))
            return true;
    return false;
}

int ks_cost_copies_like(const ks_costing *costing, int i)
{
    int n = 0;
    for (int j = i; j < costing->n_pieces; j++)
        n += alike(&costing->pieces[j], &costing->pieces[i]);
    return n;
}
