#include "cost/bill.h"

#include "base/money.h"
#include "base/number.h"
#include "cost/fine.h"
#include "cost/tariff.h"

#include <math.h>
#include <string.h>

enum { HOURS_OF_WEEK = 168, MINUTE_S = 60, HOUR_S = 3600 };

/* CO2 of fuels, kg per kWh of higher heating value: natural gas 53.06, propane 62.87 kg per million
 * Btu (US EPA emission factors, from memory), 293.07 kWh each. */
static const struct {
    const char *fuel;
    double co2_kg_kwh;
} fuels[] = {{"natural gas", 53.06 / 293.0711}, {"propane", 62.87 / 293.0711}};

/* A line in whole minor units. */
static void whole_line(ks_load_bill *bill, const char *what, const char *how, ks_fine amount,
                       ks_arena *arena)
{
    int64_t minor = ks_fine_minor(amount);
    if (minor != 0)
        ks_cost_line_added(&bill->lines, what, how, ks_minor_fine(minor), arena);
}

static int curve_steps(const ks_firing_result *fired, ks_arena *arena, ks_draw_step **steps)
{
    int n = 0;
    *steps = KS_TAKE(arena, fired->n_points, ks_draw_step);
    for (int i = 1; i < fired->n_points; i++)
        if (fired->points[i].power_kw > 0)
            (*steps)[n++] = (ks_draw_step){fired->points[i - 1].time_h, fired->points[i].time_h,
                                           fired->points[i].power_kw};
    return n;
}

static void power_billed(const ks_money_terms *terms, const ks_firing_result *fired,
                         const ks_cost_options *options, const char *currency, ks_arena *arena,
                         ks_load_bill *bill)
{
    ks_draw_step *steps;
    ks_zone_rule zone;
    int n = curve_steps(fired, arena, &steps);
    (void)ks_zone_rule_parse(terms->zone, &zone);
    int64_t start = ks_utc_of_local(&zone, terms->start_local_min * MINUTE_S);
    if (options->best_start)
        start = ks_tariff_best_start(&terms->power, &zone, start, HOURS_OF_WEEK, n, steps);
    if (terms->start_told || options->best_start)
        bill->start_local_min = ks_local_of_utc(&zone, start) / MINUTE_S;
    ks_tariff_price(&terms->power, &zone, start, n, steps, currency, arena, &bill->lines);
    bill->co2_kg = isnan(terms->power.co2_kg_kwh) ? -1 : terms->power.co2_kg_kwh * bill->kwh;
}

/* Of a fuel whose heat the simulation gives in kWh of higher heating value. */
static double fuel_units(const ks_firing_result *fired, ks_fuel_unit unit)
{
    switch (unit) {
    case KS_PER_M3:
        return fired->fuel_m3;
    case KS_PER_KG:
        return fired->fuel_kg;
    case KS_PER_THERM:
        return fired->energy.total / 29.3071; /* 100 000 Btu */
    case KS_PER_KWH:
        break;
    }
    return fired->energy.total;
}

static void fuel_billed(const ks_money_terms *terms, const ks_kiln *kiln,
                        const ks_firing_result *fired, const char *currency, ks_arena *arena,
                        ks_load_bill *bill)
{
    static const char *const units[] = {"kWh", "m3", "therm", "kg"};
    double used = fuel_units(fired, terms->fuel.unit);
    int digits = ks_currency_digits(currency);
    double major = (double)terms->fuel.price / KS_FINE / pow(10, digits);
    const char *how = ks_arena_print(
        arena, "%s %s x %s %s/%s", ks_number_fixed(used, 2, arena), units[terms->fuel.unit],
        ks_number_fixed(major, digits + 3, arena), currency, units[terms->fuel.unit]);
    whole_line(bill, "gas", how, ks_fine_times(terms->fuel.price, used), arena);
    whole_line(bill, "fixed fee", "for each firing", terms->fuel.per_firing, arena);
    bill->co2_kg = -1;
    for (size_t i = 0; i < sizeof fuels / sizeof *fuels; i++)
        if (strcmp(kiln->heat.fuel, fuels[i].fuel) == 0)
            bill->co2_kg = fuels[i].co2_kg_kwh * bill->kwh;
}

/* Firings a thing lasts at this cone: between two told cones the logarithm of the life goes
 * straight with the cone's place in the row, beyond them it stays. */
static double life_at(const ks_wearing *thing, int rank)
{
    const ks_life *lives = thing->lives;
    int n = thing->n_lives;
    int first = ks_cone_rank(lives[0].cone), last = ks_cone_rank(lives[n - 1].cone);
    if (rank <= first)
        return lives[0].firings;
    if (rank >= last)
        return lives[n - 1].firings;
    int i = 1;
    while (ks_cone_rank(lives[i].cone) < rank)
        i++;
    double from = ks_cone_rank(lives[i - 1].cone), to = ks_cone_rank(lives[i].cone);
    double part = (rank - from) / (to - from);
    return exp((1 - part) * log(lives[i - 1].firings) + part * log(lives[i].firings));
}

static void wear_billed(const ks_plan *plan, const ks_load *load, ks_arena *arena,
                        ks_load_bill *bill)
{
    const ks_money_terms *terms = plan->order->money;
    int rank = ks_cone_rank(load->firing.cone);
    for (int i = 0; i < terms->n_wearing; i++) {
        const ks_wearing *thing = &terms->wearing[i];
        double life = life_at(thing, rank);
        ks_fine price =
            ks_minor_fine(thing->price_minor) +
            ks_fine_times(ks_minor_fine(terms->labour_minor_h), thing->fitting_s / HOUR_S);
        whole_line(bill, ks_arena_print(arena, "wear, %s", thing->name),
                   ks_arena_print(arena, "one of %.0f firings", life),
                   ks_fine_times(price, 1 / life), arena);
    }
}

/* What breaks is bought anew as well as what wears out. */
static ks_fine wear_of(const ks_furniture_wear *kind, int used)
{
    double part = kind->firings > 0 ? 1 / kind->firings + kind->breakage : kind->breakage;
    return ks_fine_times(ks_minor_fine(kind->price_minor), part * used);
}

static void furniture_billed(const ks_money_terms *terms, const ks_load *load, ks_arena *arena,
                             ks_load_bill *bill)
{
    int shelves = 0, packs = 0;
    for (int v = 0; v < load->n_levels; v++) {
        shelves += load->levels[v].n_shelves;
        for (int p = 0; p < load->levels[v].n_pieces; p++)
            packs += load->levels[v].pieces[p].role == KS_CONES;
    }
    whole_line(bill, "wear, shelves", ks_arena_print(arena, "%d shelves", shelves),
               wear_of(&terms->shelf, shelves), arena);
    whole_line(bill, "wear, posts", ks_arena_print(arena, "%d posts", load->n_posts),
               wear_of(&terms->post, load->n_posts), arena);
    whole_line(bill, "kiln wash", ks_arena_print(arena, "%d shelves", shelves),
               terms->wash_per_shelf * shelves, arena);
    whole_line(bill, "cones", ks_arena_print(arena, "%d packs", packs),
               ks_minor_fine(terms->cone_pack_minor * packs), arena);
}

static void work_billed(const ks_money_terms *terms, ks_arena *arena, ks_load_bill *bill)
{
    ks_fine hour = ks_minor_fine(terms->labour_minor_h);
    whole_line(bill, "loading and unloading",
               ks_arena_print(arena, "%.0f min", terms->load_s / MINUTE_S),
               ks_fine_times(hour, terms->load_s / HOUR_S), arena);
}

ks_status ks_load_billed(const ks_plan *plan, int load, const ks_firing_result *fired,
                         const ks_cost_options *options, ks_arena *arena, ks_load_bill *out,
                         ks_error *err)
{
    const ks_load *of = &plan->loads[load];
    const ks_order *order = plan->order;
    const ks_money_terms *terms = order->money;
    const ks_kiln *kiln = &order->kilns[of->kiln];
    bool gas = kiln->heat.kind == KS_GAS;
    *out = (ks_load_bill){.kwh = fired->energy.total, .co2_kg = -1, .start_local_min = -1};
    if (gas ? !terms->fuel.told : !terms->power.told)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: costs.%s: found nothing; the price of what heats %s is needed",
                       order->file, gas ? "gas" : "electricity", kiln->name);
    if (gas)
        fuel_billed(terms, kiln, fired, order->currency, arena, out);
    else
        power_billed(terms, fired, options, order->currency, arena, out);
    wear_billed(plan, of, arena, out);
    furniture_billed(terms, of, arena, out);
    work_billed(terms, arena, out);
    out->total_minor = ks_fine_minor(out->lines.sum);
    return KS_OK;
}
