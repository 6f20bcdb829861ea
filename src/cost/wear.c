#include "cost/wear.h"

#include "base/money_text.h"
#include "base/number.h"
#include "cost/fine.h"
#include "cost/tariff.h"
#include "kilnstow/cone.h"

#include <math.h>

enum { HOUR_S = 3600 };

void ks_whole_line_add(ks_cost_lines *lines, const char *what, const char *how, ks_fine amount,
                       ks_arena *arena)
{
    int64_t minor = ks_fine_minor(amount);
    if (minor != 0)
        ks_cost_line_add(lines, what, how, ks_minor_fine(minor), arena);
}

double ks_wearing_life(const ks_wearing *thing, double rank)
{
    const ks_life *lives = thing->lives;
    int n = thing->n_lives, i = 1;
    if (rank <= ks_cone_rank(lives[0].cone))
        return lives[0].firings;
    if (rank >= ks_cone_rank(lives[n - 1].cone))
        return lives[n - 1].firings;
    while (ks_cone_rank(lives[i].cone) < rank)
        i++;
    double from = ks_cone_rank(lives[i - 1].cone), to = ks_cone_rank(lives[i].cone);
    double part = to > from ? (rank - from) / (to - from) : 1;
    return exp((1 - part) * log(lives[i - 1].firings) + part * log(lives[i].firings));
}

double ks_firing_severity(const ks_load *load, const ks_firing_result *fired)
{
    if (*load->firing.cone)
        return ks_cone_rank(load->firing.cone);
    double hottest = -1;
    for (int i = 0; i < fired->n_levels; i++)
        hottest = fmax(hottest, fired->levels[i].cone_edge);
    return hottest;
}

/* "230.00 + 3.0 h x 18.00 EUR/h over 350 firings to cone 6" */
static const char *wear_words(const ks_order *order, const ks_wearing *thing, double life,
                              const char *cone, ks_arena *arena)
{
    int digits = ks_currency_digits(order->currency);
    const char *fitting = "";
    if (thing->fitting_s > 0)
        fitting = ks_arena_print(
            arena, " + %s h x %s %s/h", ks_number_fixed(thing->fitting_s / HOUR_S, 2, arena),
            ks_money_print(order->money->labour_minor_h, digits, arena), order->currency);
    return ks_arena_print(arena, "%s %s%s, lasts %.0f firings to %s",
                          ks_money_print(thing->price_minor, digits, arena), order->currency,
                          fitting, life, cone);
}

/* The cone that the severity comes to, in words. */
static const char *severity_words(double rank, ks_arena *arena)
{
    if (rank < 0)
        return "below the first cone";
    const char *name = ks_cone_name((int)floor(rank + 0.5));
    return name ? ks_arena_print(arena, "cone %s", name) : "the last cone";
}

static bool wears_in(const ks_wearing *thing, ks_heat_kind kind)
{
    return thing->heat == KS_WEARS_IN_ANY || (thing->heat == KS_WEARS_IN_GAS) == (kind == KS_GAS);
}

static void bill_things(const ks_order *order, const ks_kiln *kiln, double severity,
                        ks_arena *arena, ks_cost_lines *lines)
{
    const ks_money_terms *terms = order->money;
    for (int i = 0; i < terms->n_wearing; i++) {
        const ks_wearing *thing = &terms->wearing[i];
        if (!wears_in(thing, kiln->heat.kind))
            continue;
        double life = ks_wearing_life(thing, severity);
        ks_fine price = ks_fine_plus(
            ks_minor_fine(thing->price_minor),
            ks_fine_times(ks_minor_fine(terms->labour_minor_h), thing->fitting_s / HOUR_S));
        ks_whole_line_add(lines, ks_arena_print(arena, "wear, %s", thing->name),
                          wear_words(order, thing, life, severity_words(severity, arena), arena),
                          ks_fine_times(price, 1 / life), arena);
    }
}

/* What breaks is bought anew as well as what wears out. */
static void furniture_line(const ks_order *order, const char *what, const ks_furniture_wear *kind,
                           int used, ks_arena *arena, ks_cost_lines *lines)
{
    double worn = kind->firings > 0 ? 1 / kind->firings : 0;
    const char *price =
        ks_money_print(kind->price_minor, ks_currency_digits(order->currency), arena);
    const char *lasts = "no wear given";
    if (worn > 0)
        lasts = ks_arena_print(arena, "lasts %.0f firings", kind->firings);
    const char *how = ks_arena_print(arena, "%d x %s %s, %s", used, price, order->currency, lasts);
    if (kind->breakage > 0)
        how = ks_arena_print(arena, "%s, %s %% break in a firing", how,
                             ks_number_fixed(100 * kind->breakage, 2, arena));
    ks_whole_line_add(
        lines, ks_arena_print(arena, "wear, %s", what), how,
        ks_fine_times(ks_minor_fine(kind->price_minor), (worn + kind->breakage) * used), arena);
}

static void counted_line(const ks_order *order, const char *what, int n, const char *units,
                         ks_fine price, ks_arena *arena, ks_cost_lines *lines)
{
    ks_whole_line_add(
        lines, what,
        ks_arena_print(arena, "%d %s x %s %s", n, units,
                       ks_price_print(price, ks_currency_digits(order->currency), arena),
                       order->currency),
        ks_fine_times(price, n), arena);
}

void ks_wear_bill(const ks_plan *plan, int load, const ks_firing_result *fired, ks_arena *arena,
                  ks_cost_lines *lines)
{
    const ks_load *of = &plan->loads[load];
    const ks_money_terms *terms = plan->order->money;
    int shelves = 0, posts = 0, packs = 0;
    for (int v = 0; v < of->n_levels; v++) {
        shelves += of->levels[v].n_shelves;
        for (int p = 0; p < of->levels[v].n_pieces; p++)
            packs += of->levels[v].pieces[p].role == KS_CONES;
    }
    for (int i = 0; i < of->n_posts; i++)
        posts += of->posts[i].n_heights;
    bill_things(plan->order, &plan->order->kilns[of->kiln], ks_firing_severity(of, fired), arena,
                lines);
    furniture_line(plan->order, "shelves", &terms->shelf, shelves, arena, lines);
    furniture_line(plan->order, "posts", &terms->post, posts, arena, lines);
    counted_line(plan->order, "kiln wash", shelves, "shelves", terms->wash_per_shelf, arena, lines);
    counted_line(plan->order, "cones", packs, "packs", ks_minor_fine(terms->cone_pack_minor), arena,
                 lines);
}
