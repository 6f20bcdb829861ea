#include "cost/bill.h"

#include "cost/fine.h"
#include "base/days/civil.h"
#include "clock/start.h"
#include "cost/tariff.h"
#include "cost/wear.h"

#include <math.h>
#include <string.h>

enum { MINUTE_S = 60, HOUR_S = 3600 };

/* CO2 of fuels, kg per kWh of higher heating value: natural gas 53.06, propane 62.87 kg per million
 * Btu (US EPA emission factors, from memory), 293.07 kWh each. */
static const struct {
    const char *fuel;
    double co2_kg_kwh;
} fuels[] = {{"natural gas", 53.06 / 293.0711}, {"propane", 62.87 / 293.0711}};

/* Seconds of the local clock as minutes, before 1970 too. */
static int64_t floor_minutes(int64_t local_s)
{
    return local_s / MINUTE_S - (local_s % MINUTE_S < 0);
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

/* Loads without a day are taken to fall into one month. */
static bool same_month(ks_start a, ks_start b)
{
    ks_civil x = ks_civil_of(a.local_min * MINUTE_S), y = ks_civil_of(b.local_min * MINUTE_S);
    return !a.known || !b.known || (x.year == y.year && x.month == y.month);
}

/* What the month has used before this load: as told, and what earlier loads of it drew. */
static double month_kwh(const ks_plan *plan, int load, const ks_firing_result *fired)
{
    const ks_money_terms *terms = plan->order->money;
    ks_start start = ks_load_start(plan->order, &plan->loads[load]);
    double kwh = terms->power.month_kwh;
    for (int l = 0; l < load; l++)
        if (plan->order->kilns[plan->loads[l].kiln].heat.kind == KS_ELECTRIC &&
            same_month(start, ks_load_start(plan->order, &plan->loads[l])))
            kwh += fired[l].energy.total;
    return kwh;
}

/* Energy, demand and fixed fee of a firing that is switched on then. */
static void price_power(const ks_plan *plan, int load, const ks_firing_result *fired,
                        int64_t start_utc_s, ks_arena *arena, ks_cost_lines *lines)
{
    const ks_order *order = plan->order;
    ks_power_tariff power = order->money->power;
    ks_zone_rule zone = ks_studio_zone(order);
    ks_draw_step *steps;
    power.month_kwh = month_kwh(plan, load, fired);
    int n = curve_steps(&fired[load], arena, &steps);
    ks_tariff_price(&power, &zone, start_utc_s, n, steps, order->currency, arena, lines);
}

ks_fine ks_load_power_at(const ks_plan *plan, int load, const ks_firing_result *fired,
                         int64_t start_utc_s)
{
    ks_arena scratch = {0}; /* asked for every hour of a week: the bill's words are not kept */
    ks_cost_lines lines = {0};
    price_power(plan, load, fired, start_utc_s, &scratch, &lines);
    ks_arena_finish(&scratch);
    return lines.sum;
}

static ks_status bill_power(const ks_plan *plan, int load, const ks_firing_result *fired,
                            ks_arena *arena, ks_load_bill *bill, ks_error *err)
{
    const ks_order *order = plan->order;
    const ks_power_tariff *power = &order->money->power;
    ks_start told = ks_load_start(order, &plan->loads[load]);
    if (ks_start_matters(power) && !told.known)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: costs.start: found nothing; prices that change by time need to know "
                       "when the firing starts, like \"2026-11-28 18:00\", or a date of the load",
                       order->file);
    ks_zone_rule zone = ks_studio_zone(order);
    int64_t start = ks_utc_of_local(&zone, told.local_min * MINUTE_S);
    if (told.known)
        bill->start_local_min = floor_minutes(ks_local_of_utc(&zone, start));
    price_power(plan, load, fired, start, arena, &bill->lines);
    bill->co2_kg = isnan(power->co2_kg_kwh) ? -1 : power->co2_kg_kwh * bill->kwh;
    return KS_OK;
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

static void bill_fuel(const ks_money_terms *terms, const ks_kiln *kiln,
                      const ks_firing_result *fired, const char *currency, ks_arena *arena,
                      ks_load_bill *bill)
{
    static const char *const units[] = {"kWh", "m3", "therm", "kg"};
    double used = fuel_units(fired, terms->fuel.unit);
    const char *how =
        ks_product_words(used, units[terms->fuel.unit], terms->fuel.price, currency, arena);
    ks_whole_line_add(&bill->lines, "gas", how, ks_fine_times(terms->fuel.price, used), arena);
    ks_whole_line_add(&bill->lines, "fixed fee", "for each firing", terms->fuel.per_firing, arena);
    bill->co2_kg = -1;
    for (size_t i = 0; i < sizeof fuels / sizeof *fuels; i++)
        if (strcmp(kiln->heat.fuel, fuels[i].fuel) == 0)
            bill->co2_kg = fuels[i].co2_kg_kwh * bill->kwh;
}

static void bill_work(const ks_order *order, ks_arena *arena, ks_load_bill *bill)
{
    const ks_money_terms *terms = order->money;
    ks_fine hour = ks_minor_fine(terms->labour_minor_h);
    ks_whole_line_add(&bill->lines, "loading and unloading",
                      ks_product_words(terms->load_s / HOUR_S, "h", hour, order->currency, arena),
                      ks_fine_times(hour, terms->load_s / HOUR_S), arena);
}

ks_status ks_load_charge(const ks_plan *plan, int load, const ks_firing_result *fired,
                         ks_arena *arena, ks_load_bill *out, ks_error *err)
{
    const ks_load *of = &plan->loads[load];
    const ks_order *order = plan->order;
    const ks_money_terms *terms = order->money;
    const ks_kiln *kiln = &order->kilns[of->kiln];
    bool gas = kiln->heat.kind == KS_GAS;
    *out = (ks_load_bill){.kwh = fired[load].energy.total, .co2_kg = -1, .start_local_min = -1};
    if (gas ? !terms->fuel.told : !terms->power.told)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: costs.%s: found nothing; the price of what heats %s is needed",
                       order->file, gas ? "gas" : "electricity", kiln->name);
    ks_status status = KS_OK;
    if (gas)
        bill_fuel(terms, kiln, &fired[load], order->currency, arena, out);
    else
        status = bill_power(plan, load, fired, arena, out, err);
    if (status)
        return status;
    ks_wear_bill(plan, load, &fired[load], arena, &out->lines);
    bill_work(order, arena, out);
    out->total_minor = ks_fine_minor(out->lines.sum);
    return KS_OK;
}
