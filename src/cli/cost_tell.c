#include "cli/cost_tell.h"

#include "base/days/civil.h"
#include "base/language.h"
#include "base/money_text.h"
#include "base/text.h"
#include "cost/fine.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *money(const ks_costing *costing, int64_t minor, ks_arena *arena)
{
    return ks_money_print(minor, costing->digits, arena);
}

/* A price that is not proposed is a dash. */
static const char *price(const ks_costing *costing, int64_t minor, ks_arena *arena)
{
    return minor == KS_NO_PRICE ? "-" : money(costing, minor, arena);
}

/* "  12.50 EUR  what          how" */
static void tell_line(const char *amount, const char *currency, const char *what, const char *how)
{
    if (*how)
        printf("  %12s %s  %-26s %s\n", amount, currency, what, how);
    else
        printf("  %12s %s  %s\n", amount, currency, what);
}

/* `more` digits beyond the currency's own for lines that no one pays as they stand. */
static void tell_lines(const ks_costing *costing, const ks_cost_lines *lines, int more,
                       ks_arena *arena)
{
    for (int i = 0; i < lines->n; i++) {
        const ks_cost_line *line = &lines->lines[i];
        tell_line(ks_fine_print(line->amount, costing->digits, more, arena), costing->currency,
                  line->what, line->how);
    }
}

static void tell_start(const ks_costing *costing, const ks_load_bill *bill, ks_arena *arena)
{
    int64_t minute = bill->start_local_min;
    if (minute < 0)
        return;
    printf(", start %s", ks_civil_print(minute * 60, arena));
}

void ks_tell_bills(const ks_costing *costing, ks_arena *arena)
{
    for (int l = 0; l < costing->n_loads; l++) {
        const ks_load_bill *bill = &costing->loads[l];
        printf("Load %d: %s %s, %.1f kWh", l + 1, money(costing, bill->total_minor, arena),
               costing->currency, bill->kwh);
        if (bill->co2_kg >= 0)
            printf(", %.1f kg CO2", bill->co2_kg);
        tell_start(costing, bill, arena);
        printf("\n");
        tell_lines(costing, &bill->lines, 0, arena);
    }
}

/* The studio's own price beside the proposed ones, and what is left of it. */
static const char *own_price(const ks_cost_outcome *outcome, const ks_piece_cost *cost,
                             ks_arena *arena)
{
    const ks_order *order = outcome->plan->order;
    double margin = ks_piece_margin(order, cost);
    if (isnan(margin))
        return "";
    return ks_arena_print(arena, "%10s%8.1f %%%s",
                          money(&outcome->costing, order->pieces[cost->piece].price_minor, arena),
                          100 * margin, margin < 0 ? ks_tr("  a loss on each") : "");
}

static const char *padded(const char *text, int width, ks_arena *arena)
{
    int n = ks_utf8_count(text);
    return n < width ? ks_arena_print(arena, "%s%*s", text, width - n, "") : text;
}

static int widest_id(const ks_cost_outcome *outcome)
{
    int widest = 24;
    for (int i = 0; i < outcome->costing.n_pieces; i++) {
        int n = ks_utf8_count(outcome->plan->order->pieces[outcome->costing.pieces[i].piece].id);
        widest = n > widest ? n : widest;
    }
    return widest;
}

void ks_tell_pieces(const ks_cost_outcome *outcome, ks_arena *arena)
{
    const ks_costing *costing = &outcome->costing;
    const ks_money_terms *terms = outcome->plan->order->money;
    int width = widest_id(outcome);
    printf("\n  %s%5s%7s%10s%10s%11s%10s%13s%10s%10s   %s each\n",
           padded(ks_tr("piece"), width, arena), "load", "copies", "firing", "cost", "wholesale",
           "retail", "consignment", "own price", "margin", costing->currency);
    for (int i = 0; i < costing->n_pieces; i++) {
        const ks_piece_cost *cost = &costing->pieces[i];
        if (ks_cost_told_before(costing, i))
            continue;
        printf(
            "  %s%5d%7d%10s%10s%11s%10s%13s%s\n",
            padded(outcome->plan->order->pieces[cost->piece].id, width, arena), cost->load + 1,
            ks_cost_copies_like(costing, i), ks_fine_print(cost->firing, costing->digits, 0, arena),
            money(costing, cost->cost_minor, arena), price(costing, cost->wholesale_minor, arena),
            price(costing, cost->retail_minor, arena),
            price(costing, cost->consignment_minor, arena), own_price(outcome, cost, arena));
    }
    if (terms->tax > 0)
        printf("Sales tax of %g %% is %s the retail price%s.\n", 100 * terms->tax,
               terms->tax_inside ? "inside" : "added to",
               terms->tax_inside ? ", and inside the consignment ticket" : " at the till");
}

void ks_tell_shares(const ks_costing *costing, ks_arena *arena)
{
    printf("\nShares, together %s %s:\n", money(costing, costing->total_minor, arena),
           costing->currency);
    for (int i = 0; i < costing->n_shares; i++) {
        const ks_share *share = &costing->shares[i];
        if (share->pieces == 0 && share->lines.n == 0)
            continue;
        printf(
            ks_tr_count(share->pieces, "  %12s %s  %s, %d piece\n", "  %12s %s  %s, %d pieces\n"),
            money(costing, share->minor, arena), costing->currency, share->name, share->pieces);
        for (int k = 0; k < share->lines.n; k++)
            printf("  %20s    %s%s%s\n",
                   money(costing, ks_fine_minor(share->lines.lines[k].amount), arena),
                   share->lines.lines[k].what, *share->lines.lines[k].how ? ", " : "",
                   share->lines.lines[k].how);
    }
}

void ks_tell_assumed(const ks_costing *costing)
{
    if (costing->n_assumed > 0)
        printf("\nAssumed:\n");
    for (int i = 0; i < costing->n_assumed; i++)
        printf("  %s\n", costing->assumed[i]);
}

static void tell_price(const ks_costing *costing, int64_t minor, const char *what, const char *how,
                       ks_arena *arena)
{
    tell_line(money(costing, minor, arena), costing->currency, what, how);
}

static void tell_prices(const ks_cost_outcome *outcome, const ks_piece_cost *cost, ks_arena *arena)
{
    const ks_costing *costing = &outcome->costing;
    const ks_money_terms *terms = outcome->plan->order->money;
    const char *rounding = "";
    if (terms->round_to_minor > 1)
        rounding = ks_arena_print(arena, ", up to a multiple of %s",
                                  ks_money_print(terms->round_to_minor, costing->digits, arena));
    tell_price(costing, cost->cost_minor, "cost", "the sum, to the nearest unit", arena);
    if (!cost->worked)
        return;
    tell_price(costing, cost->wholesale_minor, "wholesale",
               ks_arena_print(arena, "cost x %g%s", terms->wholesale_factor, rounding), arena);
    tell_price(costing, cost->retail_minor, "retail",
               ks_arena_print(arena, "cost x %g x %g%s", terms->wholesale_factor,
                              terms->retail_factor, rounding),
               arena);
    tell_price(costing, cost->tax_minor, terms->tax_inside ? "  of it sales tax" : "  sales tax",
               ks_arena_print(arena, "%g %% %s", 100 * terms->tax,
                              terms->tax_inside ? "inside the retail price" : "on top of it"),
               arena);
    tell_price(costing, cost->shop_minor, "customer pays", "", arena);
    tell_price(costing, cost->shop_minor - cost->tax_minor, "you keep", "without the tax", arena);
    tell_price(costing, cost->consignment_minor, "consignment ticket",
               ks_arena_print(arena, "leaves wholesale after %g %% commission%s%s",
                              100 * terms->commission, terms->tax_inside ? " and tax" : "",
                              rounding),
               arena);
}

static void tell_break_even(const ks_cost_outcome *outcome, const ks_piece_cost *cost,
                            ks_arena *arena)
{
    const ks_costing *costing = &outcome->costing;
    const ks_money_terms *terms = outcome->plan->order->money;
    int64_t told = outcome->plan->order->pieces[cost->piece].price_minor;
    double told_kept = (double)told / (terms->tax_inside ? 1 + terms->tax : 1);
    const struct {
        const char *sold;
        int64_t kept_minor;
    } ways[] = {
        {"wholesale", cost->wholesale_minor},
        {"retail", cost->shop_minor - cost->tax_minor},
        {ks_arena_print(arena, "the price in the order, %s", money(costing, told, arena)),
         (int64_t)(told_kept + 0.5)},
    };
    if (!cost->worked && told <= 0)
        return;
    printf("\nBreak-even: this copy alone causes %s %s of its cost; selling %s\n",
           ks_fine_print(cost->own, costing->digits, 0, arena), costing->currency,
           "such pieces pays for the whole firing of its load from");
    for (int i = cost->worked ? 0 : 2; i < (told > 0 ? 3 : 2); i++) {
        int64_t n = ks_break_even(outcome->plan, costing, cost, ways[i].kept_minor);
        if (n >= 0)
            printf("  %8lld pieces at %s\n", (long long)n, ways[i].sold);
        else
            printf("  no number at %s: the price does not cover the piece itself\n", ways[i].sold);
    }
}

void ks_tell_piece(const ks_cost_outcome *outcome, const ks_piece_cost *cost, ks_arena *arena)
{
    const ks_costing *costing = &outcome->costing;
    const ks_piece *piece = &outcome->plan->order->pieces[cost->piece];
    const ks_load_bill *bill = &costing->loads[cost->load];
    printf("%s, copy %d, in load %d. The load's bill, %s %s", piece->id, cost->copy, cost->load + 1,
           money(costing, bill->total_minor, arena), costing->currency);
    tell_start(costing, bill, arena);
    printf(":\n");
    tell_lines(costing, &bill->lines, 0, arena);
    printf("\nThe piece:\n");
    tell_lines(costing, &cost->lines, 2, arena);
    printf("\n");
    tell_prices(outcome, cost, arena);
    tell_break_even(outcome, cost, arena);
    if (*piece->defaults)
        printf("\nNot given for the piece, so taken from its shape or as usual: %s.\n",
               piece->defaults);
}

void ks_tell_what_if(const ks_cost_outcome *outcome, ks_arena *arena)
{
    const ks_costing *costing = &outcome->costing;
    printf("\nWhat if, each simulated and shared anew:\n  %-22s%10s%12s%10s%10s   %s\n", "", "kWh",
           "load's bill", "cost", "retail", costing->currency);
    for (int i = 0; i < outcome->n_what_if; i++) {
        const ks_what_if *of = &outcome->what_if[i];
        if (!of->worked) {
            printf("  %-22s not possible: %s\n", of->change, of->note);
            continue;
        }
        printf("  %-22s%10.1f%12s%10s%10s%s%s%s\n", of->change, of->kwh,
               money(costing, of->bill_minor, arena), money(costing, of->cost_minor, arena),
               price(costing, of->retail_minor, arena), *of->note ? "   " : "", of->note,
               of->reached ? "" : "; the kiln does not reach the end");
    }
}

static void tell_cheaper(const ks_costing *costing, const ks_start_advices *starts,
                         const ks_start_advice *advice, ks_arena *arena)
{
    for (int i = 0; i < advice->n; i++)
        printf("  load %d: on %s saves %s %s%s\n", advice->load + 1,
               ks_zone_print(&starts->zone, advice->starts[i].on_s, arena),
               money(costing, advice->starts[i].saves_minor, arena), costing->currency,
               advice->is_watched ? "" : ks_tr(", but nobody may be there when it should end"));
    if (advice->n == 0)
        printf("  load %d: no hour within a week of %s that is free, open and in time is cheaper\n",
               advice->load + 1, ks_zone_print(&starts->zone, advice->told_s, arena));
}

void ks_tell_starts(const ks_cost_outcome *outcome, ks_arena *arena)
{
    const ks_start_advices *starts = outcome->starts;
    printf("\nWhen to start, as advice; the bills are those of the starts above:\n");
    if (starts->n == 0)
        printf("  the hour of starting changes no price here\n");
    for (int i = 0; i < starts->n; i++)
        tell_cheaper(&outcome->costing, starts, &starts->loads[i], arena);
}
