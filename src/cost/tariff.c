#include "cost/tariff.h"

#include "base/text.h"
#include "base/money_text.h"
#include "base/number.h"
#include "clock/window.h"
#include "cost/fine.h"

#include <math.h>
#include <string.h>

enum { MINUTE_S = 60, HOUR_S = 3600, QUARTERS = 4 };

void ks_cost_line_add(ks_cost_lines *lines, const char *what, const char *how, ks_fine amount,
                      ks_arena *arena)
{
    lines->lines = KS_GROW(arena, lines->lines, lines->n, &lines->room, ks_cost_line);
    lines->lines[lines->n++] = (ks_cost_line){what, how, amount};
    lines->sum = ks_fine_plus(lines->sum, amount);
}

/* The reader sees to it that some price always holds; the last one is for what is left. */
static int price_at(const ks_power_tariff *tariff, const ks_zone_rule *zone, int64_t utc_s)
{
    ks_civil at = ks_civil_of(ks_local_of_utc(zone, utc_s));
    for (int i = 0; i < tariff->n_times; i++)
        if (ks_window_holds(&tariff->times[i].when, at))
            return i;
    return tariff->n_times - 1;
}

/* kWh of each price time. A step is cut at whole minutes of the clock, where prices may change. */
static void kwh_by_time(const ks_power_tariff *tariff, const ks_zone_rule *zone,
                        int64_t start_utc_s, int n_steps, const ks_draw_step *steps, double *kwh)
{
    for (int i = 0; i < n_steps; i++) {
        double at_s = steps[i].from_h * HOUR_S, end_s = steps[i].to_h * HOUR_S;
        while (at_s < end_s - 1e-6) {
            int64_t minute = (int64_t)floor((at_s + 1e-6) / MINUTE_S);
            double cut_s = fmin(end_s, (double)(minute + 1) * MINUTE_S);
            int which = price_at(tariff, zone, start_utc_s + minute * MINUTE_S);
            kwh[which] += steps[i].kw * (cut_s - at_s) / HOUR_S;
            at_s = cut_s;
        }
    }
}

static double kwh_of(int n_steps, const ks_draw_step *steps)
{
    double kwh = 0;
    for (int i = 0; i < n_steps; i++)
        kwh += steps[i].kw * (steps[i].to_h - steps[i].from_h);
    return kwh;
}

double ks_tariff_demand_kw(int n_steps, const ks_draw_step *steps)
{
    double most = 0, in_quarter = 0;
    int64_t quarter = 0;
    for (int i = 0; i < n_steps; i++) {
        double at = steps[i].from_h;
        while (at < steps[i].to_h - 1e-9) {
            int64_t now = (int64_t)floor(at * QUARTERS + 1e-9);
            double cut = fmin(steps[i].to_h, (double)(now + 1) / QUARTERS);
            in_quarter = now == quarter ? in_quarter : 0;
            quarter = now;
            in_quarter += steps[i].kw * (cut - at);
            most = fmax(most, in_quarter * QUARTERS);
            at = cut;
        }
    }
    return most;
}

const char *ks_price_print(ks_fine price, int digits, ks_arena *arena)
{
    char *text = ks_arena_print(arena, "%s", ks_fine_print(price, digits, 3, arena));
    for (int i = 0; i < (digits > 0 ? 3 : 4); i++) {
        size_t last = strlen(text) - 1;
        if (text[last] == '0' || text[last] == '.')
            text[last] = '\0';
    }
    return text;
}

const char *ks_product_words(double units, const char *unit, ks_fine price, const char *currency,
                             ks_arena *arena)
{
    int digits = ks_currency_digits(currency), decimals = 2;
    if (strcmp(unit, "kg") == 0)
        decimals = 3;
    return ks_arena_print(arena, "%s %s x %s %s/%s", ks_number_fixed(units, decimals, arena), unit,
                          ks_price_print(price, digits, arena), currency, unit);
}

static void energy_line(const char *what, double kwh, ks_fine per_kwh, const char *currency,
                        ks_arena *arena, ks_cost_lines *lines)
{
    ks_fine exact = ks_fine_times(per_kwh, kwh);
    ks_cost_line_add(lines, what, ks_product_words(kwh, "kWh", per_kwh, currency, arena),
                     ks_minor_fine(ks_fine_minor(exact)), arena);
}

static void price_times(const ks_power_tariff *tariff, const double *kwh, const char *currency,
                        ks_arena *arena, ks_cost_lines *lines)
{
    for (int i = 0; i < tariff->n_times; i++) {
        const ks_price_time *price = &tariff->times[i];
        if (kwh[i] > 0)
            energy_line(*price->name ? ks_arena_print(arena, "energy, %s", price->name) : "energy",
                        kwh[i], price->per_kwh, currency, arena, lines);
    }
}

static void price_tiers(const ks_power_tariff *tariff, double kwh, const char *currency,
                        ks_arena *arena, ks_cost_lines *lines)
{
    double used = tariff->month_kwh;
    for (int i = 0; i < tariff->n_tiers && kwh > 0; i++) {
        double here = fmin(kwh, tariff->tiers[i].up_to_kwh - used);
        if (here <= 0)
            continue;
        energy_line(ks_arena_print(arena, "energy, tier %d", i + 1), here, tariff->tiers[i].per_kwh,
                    currency, arena, lines);
        kwh -= here;
        used += here;
    }
}

void ks_tariff_price(const ks_power_tariff *tariff, const ks_zone_rule *zone, int64_t start_utc_s,
                     int n_steps, const ks_draw_step *steps, const char *currency, ks_arena *arena,
                     ks_cost_lines *lines)
{
    if (tariff->n_tiers > 0) {
        price_tiers(tariff, kwh_of(n_steps, steps), currency, arena, lines);
    } else {
        double *kwh = KS_TAKE(arena, tariff->n_times, double);
        kwh_by_time(tariff, zone, start_utc_s, n_steps, steps, kwh);
        price_times(tariff, kwh, currency, arena, lines);
    }
    double demand_kw = ks_tariff_demand_kw(n_steps, steps) * tariff->demand_share;
    if (tariff->demand_per_kw > 0 && demand_kw > 0)
        ks_cost_line_add(
            lines, "demand",
            ks_product_words(demand_kw, "kW", tariff->demand_per_kw, currency, arena),
            ks_minor_fine(ks_fine_minor(ks_fine_times(tariff->demand_per_kw, demand_kw))), arena);
    if (tariff->per_firing > 0)
        ks_cost_line_add(lines, "fixed fee", "for each firing",
                         ks_minor_fine(ks_fine_minor(tariff->per_firing)), arena);
}
