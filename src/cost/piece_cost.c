#include "cost/piece_cost.h"

#include "base/number.h"
#include "cost/batch.h"
#include "cost/fine.h"
#include "cost/tariff.h"

#include <math.h>

ks_fine ks_piece_glaze(const ks_order *order, const ks_piece *piece)
{
    ks_fine price = 0;
    for (int i = 0; i < piece->n_glazes && piece->stage == KS_GLAZED; i++) {
        const ks_glaze *glaze = &order->glazes[piece->glazes[i]];
        price +=
            ks_fine_times(ks_glaze_per_kg(order, glaze), ks_glaze_on_piece_g(glaze, piece) / 1000);
    }
    return price;
}

static void added(ks_piece_cost *cost, const char *what, const char *how, ks_fine amount,
                  ks_arena *arena)
{
    if (amount != 0)
        ks_cost_line_added(&cost->lines, what, how, amount, arena);
}

static void glazes_added(const ks_order *order, const ks_piece *piece, ks_piece_cost *cost,
                         ks_arena *arena)
{
    for (int i = 0; i < piece->n_glazes && piece->stage == KS_GLAZED; i++) {
        const ks_glaze *glaze = &order->glazes[piece->glazes[i]];
        double grams = ks_glaze_on_piece_g(glaze, piece);
        added(cost, ks_arena_print(arena, "glaze, %s", glaze->name),
              ks_arena_print(arena, "%s g dry", ks_number_fixed(grams, 1, arena)),
              ks_fine_times(ks_glaze_per_kg(order, glaze), grams / 1000), arena);
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

static void clay_added(const ks_order *order, const ks_piece *piece, ks_piece_cost *cost,
                       ks_arena *arena)
{
    const ks_clay *clay = piece->clay >= 0 ? &order->clays[piece->clay] : NULL;
    if (!clay || clay->price_minor_per_kg < 0)
        return;
    double form_kg =
        piece->has_setter && piece->bare_mass_kg > 0 ? piece->bare_mass_kg : piece->mass_kg;
    ks_fine per_kg = (ks_fine)llround(clay->price_minor_per_kg * KS_FINE);
    double kg = wet_kg(clay, piece->stage, form_kg);
    added(cost, "clay", ks_arena_print(arena, "%s kg wet", ks_number_fixed(kg, 3, arena)),
          ks_fine_times(per_kg, kg), arena);
    const ks_clay *under = piece->setter.clay >= 0 ? &order->clays[piece->setter.clay] : clay;
    double setter_kg = wet_kg(under, piece->stage, piece->mass_kg - form_kg);
    if (piece->has_setter && under->price_minor_per_kg >= 0)
        added(cost, "setter",
              ks_arena_print(arena, "%s kg wet", ks_number_fixed(setter_kg, 3, arena)),
              ks_fine_times((ks_fine)llround(under->price_minor_per_kg * KS_FINE), setter_kg),
              arena);
}

static void work_added(const ks_money_terms *terms, ks_piece_cost *cost, ks_arena *arena)
{
    for (int i = 0; i < terms->n_work; i++)
        added(
            cost, ks_arena_print(arena, "labour, %s", terms->work[i].step),
            ks_arena_print(arena, "%s min", ks_number_fixed(terms->work[i].time_s / 60, 1, arena)),
            ks_fine_times(ks_minor_fine(terms->labour_minor_h), terms->work[i].time_s / 3600),
            arena);
}

/* A piece of bisque has been fired once, whether or not the order says so. */
static void earlier_added(const ks_money_terms *terms, const ks_piece *piece, ks_piece_cost *cost,
                          ks_arena *arena)
{
    int told = piece->earlier_firings;
    int firings = told > 0 ? told : piece->stage >= KS_BISQUE;
    added(cost, "earlier firings",
          ks_arena_print(arena, "%d x %s kg%s", firings, ks_number_fixed(piece->mass_kg, 3, arena),
                         terms->earlier_told ? "" : ", price per kg assumed"),
          ks_fine_times(terms->earlier_per_kg, firings * piece->mass_kg), arena);
}

static int64_t rounded_up(int64_t minor, int64_t step)
{
    return step > 1 ? (minor + step - 1) / step * step : minor;
}

static void priced(const ks_money_terms *terms, ks_piece_cost *cost)
{
    double cost_minor = (double)cost->total / KS_FINE;
    double wholesale = cost_minor * terms->wholesale_factor;
    cost->cost_minor = ks_fine_minor(cost->total);
    cost->wholesale_minor = rounded_up(llround(wholesale), terms->round_to_minor);
    cost->retail_minor =
        rounded_up(llround(wholesale * terms->retail_factor), terms->round_to_minor);
    cost->consignment_minor =
        rounded_up(llround(wholesale / (1 - terms->commission)), terms->round_to_minor);
    cost->shop_minor = terms->tax_inside ? cost->retail_minor
                                         : llround((double)cost->retail_minor * (1 + terms->tax));
}

void ks_piece_costed(const ks_plan *plan, ks_piece_cost *cost, ks_arena *arena)
{
    const ks_order *order = plan->order;
    const ks_money_terms *terms = order->money;
    const ks_piece *piece = &order->pieces[cost->piece];
    added(cost, "firing",
          ks_arena_print(arena, "%s %% of the load's bill",
                         ks_number_fixed(100 * cost->firing_part, 2, arena)),
          cost->firing, arena);
    glazes_added(order, piece, cost, arena);
    clay_added(order, piece, cost, arena);
    work_added(terms, cost, arena);
    earlier_added(terms, piece, cost, arena);
    ks_fine direct = cost->lines.sum;
    added(cost, "overhead",
          ks_arena_print(arena, "%s %%", ks_number_fixed(100 * terms->overhead, 1, arena)),
          ks_fine_times(direct, terms->overhead), arena);
    ks_fine sound = ks_fine_times(cost->lines.sum, terms->losses / (1 - terms->losses));
    added(cost, "losses",
          ks_arena_print(arena, "%s %% fail; the sound ones carry them",
                         ks_number_fixed(100 * terms->losses, 1, arena)),
          sound, arena);
    cost->total = cost->lines.sum;
    priced(terms, cost);
}
