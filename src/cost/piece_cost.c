#include "cost/piece_cost.h"

#include "base/language.h"
#include "base/number.h"
#include "cost/batch.h"
#include "cost/fine.h"
#include "cost/tariff.h"

#include "base/money_text.h"
#include "cost/price.h"

#include <math.h>

ks_fine ks_piece_glaze(const ks_order *order, const ks_piece *piece)
{
    ks_fine price = 0;
    for (int i = 0; i < piece->n_glazes && piece->stage == KS_GLAZED; i++) {
        const ks_glaze *glaze = &order->glazes[piece->glazes[i]];
        ks_fine per_kg = ks_glaze_per_kg(order, glaze);
        price =
            ks_fine_plus(price, ks_fine_times(per_kg, ks_glaze_on_piece_g(glaze, piece) / 1000));
    }
    return price;
}

static void add(ks_piece_cost *cost, const char *what, const char *how, ks_fine amount,
                ks_arena *arena)
{
    if (amount != 0)
        ks_cost_line_add(&cost->lines, what, how, amount, arena);
}

static void add_glazes(const ks_order *order, const ks_piece *piece, ks_piece_cost *cost,
                       ks_arena *arena)
{
    for (int i = 0; i < piece->n_glazes && piece->stage == KS_GLAZED; i++) {
        const ks_glaze *glaze = &order->glazes[piece->glazes[i]];
        double grams = ks_glaze_on_piece_g(glaze, piece);
        ks_fine per_kg = ks_glaze_per_kg(order, glaze);
        add(cost, ks_arena_print(arena, "glaze, %s", glaze->name),
            ks_arena_print(arena, "%s g dry on %s cm2 in %d coats x %s %s/kg",
                           ks_number_fixed(grams, 1, arena),
                           ks_number_fixed(piece->surface_mm2 / 100 / piece->n_glazes, 0, arena),
                           glaze->coats,
                           ks_fine_print(per_kg, ks_currency_digits(order->currency), 2, arena),
                           order->currency),
            ks_fine_times(per_kg, grams / 1000), arena);
    }
}

/* Clay is bought wet: what stands here, bone dry or bisque, was heavier by its water (a plastic
 * body holds about 20 % of its wet mass; common practice, no source) and by what firing drives off.
 */
static double wet_kg(const ks_clay *clay, ks_stage stage, double kg)
{
    double dry_kg = stage >= KS_BISQUE ? kg / (1 - clay->loss_on_ignition) : kg;
    return stage == KS_LEATHER ? kg : dry_kg / 0.8;
}

/* A price per kilogram that no one told counts as nothing, and is noted among what was assumed. */
static void add_body(const ks_order *order, const char *what, const ks_clay *clay, double kg,
                     ks_piece_cost *cost, ks_arena *arena)
{
    if (!clay || clay->price_minor_per_kg < 0 || kg <= 0)
        return;
    ks_fine per_kg = ks_fine_times(KS_FINE, clay->price_minor_per_kg);
    add(cost, what, ks_product_words(kg, "kg", per_kg, order->currency, arena),
        ks_fine_times(per_kg, kg), arena);
}

/* A setter made for this firing is clay too; one that has been fired is used again. */
static void add_clay(const ks_order *order, const ks_piece *piece, ks_piece_cost *cost,
                     ks_arena *arena)
{
    const ks_clay *clay = piece->clay >= 0 ? &order->clays[piece->clay] : NULL;
    bool on_setter = piece->has_setter && piece->bare_mass_kg > 0;
    double form_kg = on_setter ? piece->bare_mass_kg : piece->mass_kg;
    if (clay)
        add_body(order, ks_arena_print(arena, "clay, %s, wet", clay->id), clay,
                 piece->clay_wet_kg > 0 ? piece->clay_wet_kg : wet_kg(clay, piece->stage, form_kg),
                 cost, arena);
    const ks_clay *under = piece->setter.clay >= 0 ? &order->clays[piece->setter.clay] : clay;
    bool bought_wet = piece->setter.kind == KS_PART_SLAB || piece->setter.kind == KS_PART_COOKIE;
    bool anew = !(piece->setter.stage_told && piece->setter.stage == KS_FIRED);
    if (on_setter && under && bought_wet && anew)
        add_body(order, "setter and its bed, wet", under,
                 wet_kg(under, piece->setter.stage_told ? piece->setter.stage : piece->stage,
                        piece->mass_kg - form_kg),
                 cost, arena);
}

static void add_work(const ks_order *order, const ks_piece *piece, ks_piece_cost *cost,
                     ks_arena *arena)
{
    const ks_money_terms *terms = order->money;
    ks_fine hour = ks_minor_fine(terms->labour_minor_h);
    int n = piece->n_work > 0 ? piece->n_work : terms->n_work;
    cost->worked = terms->labour_told && n > 0;
    for (int i = 0; i < n; i++) {
        const ks_piece_work *work = piece->n_work > 0 ? &piece->work[i] : &terms->work[i];
        add(cost, *work->step ? ks_arena_print(arena, "labour, %s", work->step) : ks_tr("labour"),
            ks_arena_print(arena, "%s min x %s %s/h", ks_number_fixed(work->time_s / 60, 1, arena),
                           ks_fine_print(hour, ks_currency_digits(order->currency), 0, arena),
                           order->currency),
            ks_fine_times(hour, work->time_s / 3600), arena);
    }
}

/* What an earlier firing cost, of its share in this one, where the order tells no price for it: the
 * one bisque and glaze firing with figures for both used 90 and 120 kWh (an unnamed kiln; weak). */
static const double earlier_part = 0.75;

static void add_earlier(const ks_order *order, const ks_piece *piece, ks_piece_cost *cost,
                        ks_arena *arena)
{
    const ks_money_terms *terms = order->money;
    int firings = piece->earlier_firings;
    if (terms->earlier_told)
        add(cost, "earlier firings",
            ks_arena_print(arena, "%d x %s", firings,
                           ks_product_words(piece->mass_kg, "kg", terms->earlier_per_kg,
                                            order->currency, arena)),
            ks_fine_times(terms->earlier_per_kg, firings * piece->mass_kg), arena);
    else
        add(cost, "earlier firings",
            ks_arena_print(arena, "assumed: %d x %.0f %% of its share in this one", firings,
                           100 * earlier_part),
            ks_fine_times(cost->firing, firings * earlier_part), arena);
}

static void load(const ks_money_terms *terms, const ks_order *order, ks_piece_cost *cost,
                 ks_arena *arena)
{
    int digits = ks_currency_digits(order->currency);
    ks_fine direct = cost->lines.sum;
    double burden = (1 + terms->overhead) / (1 - cost->losses);
    add(cost, "overhead",
        ks_arena_print(arena, "%s %% of %s", ks_number_fixed(100 * terms->overhead, 1, arena),
                       ks_fine_print(direct, digits, 2, arena)),
        ks_fine_times(direct, terms->overhead), arena);
    add(cost, "losses",
        ks_arena_print(arena, "%s %% fail; the sound ones carry them",
                       ks_number_fixed(100 * cost->losses, 1, arena)),
        ks_fine_times(cost->lines.sum, cost->losses / (1 - cost->losses)), arena);
    cost->total = cost->lines.sum;
    cost->firing_due = ks_fine_times(cost->firing, burden);
    cost->own = cost->total - cost->firing_due;
}

void ks_piece_costed(const ks_plan *plan, const char *firing_how, ks_piece_cost *cost,
                     ks_arena *arena)
{
    const ks_order *order = plan->order;
    const ks_piece *piece = &order->pieces[cost->piece];
    add(cost, "firing", firing_how, cost->firing, arena);
    cost->glaze = ks_piece_glaze(order, piece);
    add_glazes(order, piece, cost, arena);
    add_clay(order, piece, cost, arena);
    add_work(order, piece, cost, arena);
    add_earlier(order, piece, cost, arena);
    load(order->money, order, cost, arena);
    ks_piece_price(order->money, cost);
}
