#include "cost/fee.h"

#include "base/language.h"
#include "base/money_text.h"
#include "base/number.h"
#include "cost/fine.h"
#include "cost/sides.h"
#include "cost/tariff.h"
#include "studio/display.h"

#include <math.h>
#include <string.h>

/* How a rate's unit is told, to how many digits, and how many mm3 or kg make one. */
static const struct {
    const char *unit, *named;
    int decimals;
    double size;
} measures[] = {
    [KS_RATE_LITRE] = {"l", "a litre", 4, 1e6},
    [KS_RATE_CUBIC_INCH] = {"in3", "a cubic inch", 1, KS_MM_IN_INCH *KS_MM_IN_INCH *KS_MM_IN_INCH},
    [KS_RATE_KG] = {"kg", "a kilogram", 3, 1},
    [KS_RATE_LB] = {"lb", "a pound", 3, KS_KG_IN_POUND},
    [KS_RATE_PIECE] = {"pieces", "a piece", 0, 1},
    [KS_RATE_SHELF] = {"shelf", "a shelf", 4, 1},
    [KS_RATE_HALF_SHELF] = {"shelf", "half a shelf", 4, 1},
};

typedef struct {
    const ks_plan *plan;
    int load, n_rates;
    const ks_rate *rates;
    ks_arena *arena;
    double whole_shelf_mm2;
} fee_list;

const ks_rate *ks_studio_rates(const ks_money_terms *terms, ks_arena *arena, int *n)
{
    *n = terms->n_rates;
    if (terms->n_rates > 0)
        return terms->rates;
    ks_rate *one = KS_TAKE(arena, 1, ks_rate);
    *n = 1;
    *one = (ks_rate){.name = "",
                     .per = KS_RATE_LITRE,
                     .box = KS_RATE_BY_OUTLINE,
                     .price = terms->rate_per_litre,
                     .half_minor = KS_NO_PRICE,
                     .least_minor = terms->rate_least_minor};
    return one;
}

/* What lies across the chamber at one height at most: a board, or two halves of one. */
static double whole_shelf_mm2(const ks_kiln *kiln)
{
    double most = 0;
    for (int b = 0; b < kiln->n_bays; b++)
        for (int s = 0; s < kiln->bays[b].n_supports; s++) {
            const ks_support *support = &kiln->bays[b].supports[s];
            double area = 0;
            for (int i = 0; i < support->n_shelves; i++)
                area += ks_outline_area(&kiln->shelves[support->shelves[i].kind].outline);
            most = fmax(most, area);
        }
    return most;
}

static bool holds(const fee_list *list, const ks_rate *rate)
{
    const ks_order *order = list->plan->order;
    const char *id = list->plan->loads[list->load].firing.id;
    for (int i = 0; i < rate->n_firings; i++)
        if (id && strcmp(order->firings[rate->firings[i]].id, id) == 0)
            return true;
    return rate->n_firings == 0;
}

static const ks_rate *rate_of_load(const fee_list *list)
{
    for (int i = 0; i < list->n_rates; i++)
        if (holds(list, &list->rates[i]))
            return &list->rates[i];
    return NULL;
}

static double rounded(double value, int decimals)
{
    double step = pow(10, decimals);
    return round(value * step) / step;
}

/* A side as a ruler tells it: to 0.1 mm or 0.01 in, or up to the rate's step. */
static double ruled_mm(const fee_list *list, const ks_rate *rate, double mm)
{
    bool inches = strcmp(list->plan->order->display.length, "in") == 0;
    double step = rate->round_up_mm;
    if (step > 0)
        return ceil(mm / step - 1e-6) * step;
    return inches ? rounded(mm / KS_MM_IN_INCH, 2) * KS_MM_IN_INCH : rounded(mm, 1);
}

static const char *side_words(const ks_display *display, double mm, ks_arena *arena)
{
    return ks_arena_print(arena, "%g", rounded(ks_show_number(display, KS_LENGTH, mm), 4));
}

static double box_mm3(const fee_list *list, const ks_rate *rate, const ks_piece *piece,
                      const ks_sides *sides, const char **how)
{
    const ks_display *display = &list->plan->order->display;
    ks_arena *arena = list->arena;
    *how = "";
    if (rate->box == KS_RATE_BY_OUTLINE)
        return piece->area_mm2 * sides->height_mm;
    double length = ruled_mm(list, rate, sides->length_mm);
    double width = ruled_mm(list, rate, sides->width_mm);
    double height = ruled_mm(list, rate, sides->height_mm);
    *how = ks_arena_print(arena, "%s x %s x %s %s = ", side_words(display, length, arena),
                          side_words(display, width, arena), side_words(display, height, arena),
                          display->length);
    return length * width * height;
}

static double measured(const fee_list *list, const ks_rate *rate, const ks_piece *piece,
                       const ks_sides *sides, const char **how)
{
    *how = "";
    switch (rate->per) {
    case KS_RATE_LITRE:
    case KS_RATE_CUBIC_INCH:
        return box_mm3(list, rate, piece, sides, how);
    case KS_RATE_KG:
    case KS_RATE_LB:
        return piece->mass_kg;
    case KS_RATE_PIECE:
        return 1;
    case KS_RATE_SHELF:
    case KS_RATE_HALF_SHELF:
        break;
    }
    double area_mm2 = sides->length_mm * sides->width_mm;
    return list->whole_shelf_mm2 > 0 ? area_mm2 / list->whole_shelf_mm2 : 0;
}

/* The first size that holds the piece. */
static const ks_size_tier *tier_of(const ks_rate *rate, double units, const ks_sides *sides)
{
    double longest_mm = fmax(sides->length_mm, sides->height_mm);
    for (int i = 0; i < rate->n_tiers; i++) {
        const ks_size_tier *tier = &rate->tiers[i];
        bool slim = isnan(tier->longest_mm) || longest_mm <= tier->longest_mm + 0.05;
        if (slim && (isnan(tier->up_to) || units <= tier->up_to))
            return tier;
    }
    return &rate->tiers[rate->n_tiers - 1];
}

static const char *amount_words(const ks_order *order, int64_t minor, ks_arena *arena)
{
    return ks_arena_print(arena, "%s %s",
                          ks_money_print(minor, ks_currency_digits(order->currency), arena),
                          order->currency);
}

static const char *units_words(const ks_fee *fee, const ks_rate *rate, ks_arena *arena)
{
    return ks_number_fixed(fee->units, measures[rate->per].decimals, arena);
}

/* By the price of one unit, or of a size; in whole minor units. */
static void price_fee(const fee_list *list, const ks_rate *rate, const ks_sides *sides,
                      const char *measured_as, ks_fee *out)
{
    const ks_order *order = list->plan->order;
    ks_arena *arena = list->arena;
    const char *told = units_words(out, rate, arena);
    int digits = ks_currency_digits(order->currency);
    if (rate->n_tiers > 0) {
        const ks_size_tier *tier = tier_of(rate, out->units, sides);
        out->fee = ks_minor_fine(tier->price_minor);
        out->how = ks_arena_print(arena, "%s%s %s: its size pays %s", measured_as, told, out->unit,
                                  amount_words(order, tier->price_minor, arena));
    } else {
        out->fee = ks_minor_fine(ks_fine_minor(ks_fine_times(rate->price, out->units)));
        out->how = rate->per == KS_RATE_PIECE
                       ? ks_arena_print(arena, "%s %s a piece",
                                        ks_price_print(rate->price, digits, arena), order->currency)
                       : ks_arena_print(arena, "%s%s %s x %s %s/%s", measured_as, told, out->unit,
                                        ks_price_print(rate->price, digits, arena), order->currency,
                                        out->unit);
    }
    if (out->fee >= ks_minor_fine(rate->least_minor))
        return;
    out->fee = ks_minor_fine(rate->least_minor);
    out->how = ks_arena_print(arena, "%s, at least %s", out->how,
                              amount_words(order, rate->least_minor, arena));
}

/* An owner's ware takes so many halves of a shelf, each begun one paid. */
static int64_t shelves_minor(const ks_rate *rate, double shelves, double *charged)
{
    int halves = (int)ceil(2 * shelves - 1e-6);
    if (rate->per == KS_RATE_HALF_SHELF) {
        *charged = halves / 2.0;
        return ks_fine_minor(ks_fine_times(rate->price, halves));
    }
    int64_t whole = ks_fine_minor(rate->price);
    bool odd = halves % 2 == 1 && rate->half_minor != KS_NO_PRICE;
    int n = odd ? halves / 2 : (halves + 1) / 2;
    *charged = n + (odd ? 0.5 : 0);
    return n * whole + (odd ? rate->half_minor : 0);
}

static bool same_owner(const char *a, const char *b)
{
    return strcmp(a ? a : "", b ? b : "") == 0;
}

typedef struct {
    int n;
    const ks_placed **placed;
    ks_fee *fees;
} fee_rows;

/* What the owner of row `i` takes and pays, shared among her pieces as they take room. */
static void charge_shelves(const fee_list *list, const ks_rate *rate, const fee_rows *rows, int i)
{
    ks_arena *arena = list->arena;
    const ks_order *order = list->plan->order;
    double shelves = 0, charged;
    for (int k = 0; k < rows->n; k++)
        if (same_owner(rows->placed[k]->owner, rows->placed[i]->owner))
            shelves += rows->fees[k].units;
    int64_t minor = shelves_minor(rate, shelves, &charged);
    rows->fees[i].fee =
        shelves > 0 ? ks_fine_times(ks_minor_fine(minor), rows->fees[i].units / shelves) : 0;
    rows->fees[i].how = ks_arena_print(arena, "%s of %s shelf taken, %g charged: %s",
                                       ks_number_fixed(rows->fees[i].units, 4, arena),
                                       ks_number_fixed(shelves, 4, arena), charged,
                                       amount_words(order, minor, arena));
}

static fee_rows rows_of(const fee_list *list)
{
    const ks_load *load = &list->plan->loads[list->load];
    fee_rows rows = {0};
    int n = 0;
    for (int v = 0; v < load->n_levels; v++)
        n += load->levels[v].n_pieces;
    rows.placed = KS_TAKE(list->arena, n, const ks_placed *);
    rows.fees = KS_TAKE(list->arena, n, ks_fee);
    for (int v = 0; v < load->n_levels; v++)
        for (int p = 0; p < load->levels[v].n_pieces; p++) {
            rows.fees[rows.n] = (ks_fee){.unit = "", .how = ""};
            rows.placed[rows.n++] = &load->levels[v].pieces[p];
        }
    return rows;
}

static bool pays(const ks_placed *placed)
{
    return placed->role != KS_CONES && placed->piece >= 0;
}

static void charge(const fee_list *list, const ks_rate *rate, const fee_rows *rows)
{
    bool shelves = rate->per == KS_RATE_SHELF || rate->per == KS_RATE_HALF_SHELF;
    for (int i = 0; i < rows->n; i++) {
        const char *how;
        ks_fee *fee = &rows->fees[i];
        fee->unit = measures[rate->per].unit;
        if (!pays(rows->placed[i]))
            continue;
        const ks_piece *piece = &list->plan->order->pieces[rows->placed[i]->piece];
        ks_sides sides = ks_parts_sides(piece->n_parts, piece->parts);
        fee->units = rounded(measured(list, rate, piece, &sides, &how) / measures[rate->per].size,
                             measures[rate->per].decimals);
        if (!shelves)
            price_fee(list, rate, &sides, how, fee);
    }
    for (int i = 0; i < rows->n && shelves; i++)
        if (pays(rows->placed[i]))
            charge_shelves(list, rate, rows, i);
}

ks_status ks_load_fees(const ks_plan *plan, int load, ks_arena *arena, ks_fee **out, ks_error *err)
{
    const ks_order *order = plan->order;
    fee_list list = {.plan = plan, .load = load, .arena = arena};
    list.rates = ks_studio_rates(order->money, arena, &list.n_rates);
    list.whole_shelf_mm2 = whole_shelf_mm2(&order->kilns[plan->loads[load].kiln]);
    fee_rows rows = rows_of(&list);
    const ks_rate *rate = rate_of_load(&list);
    *out = rows.fees;
    if (!rate)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: costs.share.rates: found none for the firing \"%s\" of load %d; let "
                       "one name it in \"firings\", or the last one hold for all",
                       order->file, plan->loads[load].firing.id ? plan->loads[load].firing.id : "",
                       load + 1);
    charge(&list, rate, &rows);
    return KS_OK;
}

static const char *sizes_words(const ks_order *order, const ks_rate *rate, ks_arena *arena)
{
    const char *words = "";
    for (int i = 0; i < rate->n_tiers; i++) {
        const ks_size_tier *tier = &rate->tiers[i];
        const char *limit = isnan(tier->up_to) ? ""
                                               : ks_arena_print(arena, "up to %g %s ", tier->up_to,
                                                                measures[rate->per].unit);
        if (!isnan(tier->longest_mm))
            limit = ks_arena_print(arena, "%sno longer than %s %s ", limit,
                                   side_words(&order->display, tier->longest_mm, arena),
                                   order->display.length);
        words = ks_arena_print(arena, "%s%s%s%s", words, i > 0 ? ", " : "",
                               *limit  ? limit
                               : i > 0 ? ks_tr("larger ")
                                       : "",
                               amount_words(order, tier->price_minor, arena));
    }
    return ks_arena_print(arena, "a piece %s", words);
}

const char *ks_rate_words(const ks_order *order, const ks_rate *rate, ks_arena *arena)
{
    bool of_box = rate->per == KS_RATE_LITRE || rate->per == KS_RATE_CUBIC_INCH;
    int digits = ks_currency_digits(order->currency);
    const char *words =
        rate->n_tiers > 0
            ? sizes_words(order, rate, arena)
            : ks_arena_print(arena, "%s pays %s %s", ks_tr(measures[rate->per].named),
                             ks_price_print(rate->price, digits, arena), order->currency);
    if (rate->half_minor != KS_NO_PRICE)
        words = ks_arena_print(arena, "%s, half a shelf %s", words,
                               amount_words(order, rate->half_minor, arena));
    if (of_box)
        words = ks_arena_print(arena, "%s, by %s", words,
                               rate->box == KS_RATE_BY_SIDES
                                   ? ks_tr("length x width x height")
                                   : ks_tr("the outline seen from above x height"));
    if (rate->round_up_mm > 0)
        words = ks_arena_print(arena, "%s, each side up to a multiple of %s %s", words,
                               side_words(&order->display, rate->round_up_mm, arena),
                               order->display.length);
    if (rate->least_minor > 0)
        words = ks_arena_print(arena, "%s, a piece at least %s", words,
                               amount_words(order, rate->least_minor, arena));
    return *rate->name ? ks_arena_print(arena, "%s: %s", rate->name, words) : words;
}
