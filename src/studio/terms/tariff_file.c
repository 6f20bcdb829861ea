/* Reads and writes tariffs. */
#include "studio/terms/costs_file.h"

#include "base/money_text.h"
#include "studio/terms/window_file.h"

#include <string.h>

enum { MOST_PRICES = 100 };

static const ks_field power_fields[] = {
    KS_FIELD_KNOWN("price"),
    KS_FIELD_KNOWN("prices"),
    KS_FIELD_KNOWN("tiers"),
    KS_FIELD(NUMBER, ks_power_tariff, month_kwh, "month_kwh", .most = 1e7),
    KS_FIELD_KNOWN("demand_per_kw"),
    KS_FIELD(NUMBER, ks_power_tariff, demand_share, "demand_share", .most = 1),
    KS_FIELD_KNOWN("per_firing"),
    KS_FIELD(NUMBER, ks_power_tariff, co2_kg_kwh, "co2_kg_per_kwh", .most = 5),
};

/* A price by time as told. */
typedef struct {
    const char *name;
    double from_s, to_s;
} told_price_time;

static const ks_field price_time_fields[] = {
    KS_FIELD(TEXT, told_price_time, name, "name", .most = 100),
    KS_FIELD_KNOWN("price"),
    KS_FIELD_KNOWN("days"),
    KS_FIELD_KNOWN("months"),
    KS_FIELD(TIME, told_price_time, from_s, "from", .most = 86400),
    KS_FIELD(TIME, told_price_time, to_s, "to", .most = 86400),
};

static const ks_field tier_fields[] = {
    KS_FIELD(NUMBER, ks_price_tier, up_to_kwh, "up_to_kwh", .most = 1e7),
    KS_FIELD_KNOWN("price"),
};

static const ks_field fuel_fields[] = {
    KS_FIELD_KNOWN("price"),
    KS_FIELD(WORD, ks_fuel_tariff, unit, "per", .required = true, .words = "kWh|m3|therm|kg"),
    KS_FIELD_KNOWN("per_firing"),
};

/* A price per unit, in minor units. */
static const double most_minor = 1e9;

ks_fine ks_fine_read(ks_reading *reading, const ks_json *node)
{
    double minor = 0;
    const char *fault = "an amount such as 0.3127 is needed";
    if (!node)
        return 0;
    if (node->kind == KS_JSON_NUMBER || node->kind == KS_JSON_TEXT)
        fault = ks_money_parse_fine(node->text, reading->fields.minor_digits, &minor);
    if (!fault && !(minor >= 0 && minor <= most_minor))
        fault = ks_arena_print(reading->fields.arena, "it must be from 0 to %.0f",
                               most_minor / pow(10, reading->fields.minor_digits));
    if (fault)
        ks_json_fail(node, reading->fields.err, "found %s; %s", ks_json_found(node).words, fault);
    return fault ? 0 : (ks_fine)llround(minor * KS_FINE);
}

void ks_fine_write(ks_json_out *out, const char *key, ks_fine amount, int digits)
{
    int64_t whole = KS_FINE;
    for (int i = 0; i < digits; i++)
        whole *= 10;
    char *text = ks_arena_print(out->text.arena, "%lld.%0*lld", (long long)(amount / whole),
                                6 + digits, (long long)(amount % whole));
    size_t length = strlen(text);
    while (text[length - 1] == '0')
        length--;
    text[text[length - 1] == '.' ? length - 1 : length] = '\0';
    ks_out_json(out, key, text);
}

/* The price of a node that must have one; a node that is no object has been told already. */
static ks_fine price_needed(ks_reading *reading, const ks_json *node, const char *what)
{
    const ks_json *price = ks_json_get(node, "price");
    if (!price && node->kind == KS_JSON_OBJECT)
        ks_json_lacks(node, "price", reading->fields.err, what);
    return ks_fine_read(reading, price);
}

static void read_price_time(ks_reading *reading, const ks_json *node, void *into)
{
    told_price_time told = {.name = ""};
    KS_FIELDS_READ(node, price_time_fields, &reading->fields, &told);
    *(ks_price_time *)into = (ks_price_time){
        .name = told.name,
        .per_kwh = price_needed(reading, node, "what a kWh costs at these times"),
        .when = ks_window_read(reading, node, told.from_s, told.to_s),
    };
}

static void write_price_time(ks_json_out *out, const ks_price_time *price, int digits)
{
    told_price_time told = {price->name, price->when.from_min * 60.0, price->when.to_min * 60.0};
    ks_out_object_flat(out, NULL);
    KS_FIELDS_WRITE(out, price_time_fields, digits, &told);
    ks_fine_write(out, "price", price->per_kwh, digits);
    ks_window_days_write(out, &price->when);
    ks_out_end(out);
}

static void read_tier(ks_reading *reading, const ks_json *node, void *into)
{
    ks_price_tier *tier = into;
    tier->up_to_kwh = INFINITY;
    KS_FIELDS_READ(node, tier_fields, &reading->fields, tier);
    tier->per_kwh = price_needed(reading, node, "what a kWh of this tier costs");
}

/* Every minute of the year and every kWh must have a price. */
static void prices_complete(ks_reading *reading, const ks_json *node, const ks_power_tariff *power)
{
    ks_error *err = reading->fields.err;
    if (power->n_times == 0 && power->n_tiers == 0)
        ks_json_lacks(node, "price", err, "what a kWh costs, or \"prices\" by time, or \"tiers\"");
    if (power->n_times > 0 && !ks_window_is_always(&power->times[power->n_times - 1].when))
        ks_json_fail(ks_json_get(node, "prices"), err,
                     "the last price does not hold always; end with one for all other times");
    for (int i = 0; i < power->n_tiers; i++) {
        bool last = i + 1 == power->n_tiers;
        double to = power->tiers[i].up_to_kwh;
        if (last ? isfinite(to) : to >= power->tiers[i + 1].up_to_kwh)
            ks_json_fail(ks_json_get(node, "tiers"), err,
                         "tier %d breaks the row; tiers rise by up_to_kwh, and the last has none",
                         i + 1);
    }
}

static void read_flat_price(ks_reading *reading, const ks_json *node, ks_power_tariff *power)
{
    const ks_json *flat = ks_json_get(node, "price");
    if (flat && power->n_times > 0)
        ks_json_fail(flat, reading->fields.err, "found both \"price\" and \"prices\"; tell one");
    else if (power->n_tiers > 0 && (flat || power->n_times > 0))
        ks_json_fail(node, reading->fields.err,
                     "found \"tiers\" beside other prices of a kWh; tell one");
    if (!flat || power->n_times > 0)
        return;
    power->n_times = 1;
    power->times = KS_TAKE(reading->fields.arena, 1, ks_price_time);
    power->times[0] = (ks_price_time){
        .name = "", .per_kwh = ks_fine_read(reading, flat), .when = ks_window_always};
}

void ks_power_read(ks_reading *reading, const ks_json *node, ks_power_tariff *power)
{
    *power = (ks_power_tariff){.demand_share = 1, .co2_kg_kwh = KS_NOT_TOLD};
    if (!node)
        return;
    power->told = true;
    int before = reading->fields.err->count;
    KS_FIELDS_READ(node, power_fields, &reading->fields, power);
    power->times = ks_list_read(reading, ks_json_get(node, "prices"), MOST_PRICES,
                                sizeof(ks_price_time), read_price_time, &power->n_times);
    power->tiers = ks_list_read(reading, ks_json_get(node, "tiers"), MOST_PRICES,
                                sizeof(ks_price_tier), read_tier, &power->n_tiers);
    read_flat_price(reading, node, power);
    power->demand_per_kw = ks_fine_read(reading, ks_json_get(node, "demand_per_kw"));
    power->per_firing = ks_fine_read(reading, ks_json_get(node, "per_firing"));
    if (reading->fields.err->count == before)
        prices_complete(reading, node, power);
}

void ks_power_write(ks_json_out *out, const ks_power_tariff *power, int digits)
{
    if (!power->told)
        return;
    ks_out_object(out, "electricity");
    KS_FIELDS_WRITE(out, power_fields, digits, power);
    ks_fine_write(out, "demand_per_kw", power->demand_per_kw, digits);
    ks_fine_write(out, "per_firing", power->per_firing, digits);
    ks_out_array(out, "prices");
    for (int i = 0; i < power->n_times; i++)
        write_price_time(out, &power->times[i], digits);
    ks_out_end(out);
    ks_out_array(out, "tiers");
    for (int i = 0; i < power->n_tiers; i++) {
        ks_out_object_flat(out, NULL);
        if (isfinite(power->tiers[i].up_to_kwh))
            ks_out_number(out, "up_to_kwh", power->tiers[i].up_to_kwh);
        ks_fine_write(out, "price", power->tiers[i].per_kwh, digits);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_out_end(out);
}

void ks_fuel_read(ks_reading *reading, const ks_json *node, ks_fuel_tariff *fuel)
{
    if (!node)
        return;
    fuel->told = true;
    KS_FIELDS_READ(node, fuel_fields, &reading->fields, fuel);
    fuel->price = price_needed(reading, node, "what a unit of gas costs");
    fuel->per_firing = ks_fine_read(reading, ks_json_get(node, "per_firing"));
}

void ks_fuel_write(ks_json_out *out, const ks_fuel_tariff *fuel, int digits)
{
    if (!fuel->told)
        return;
    ks_out_object_flat(out, "gas");
    KS_FIELDS_WRITE(out, fuel_fields, digits, fuel);
    ks_fine_write(out, "price", fuel->price, digits);
    ks_fine_write(out, "per_firing", fuel->per_firing, digits);
    ks_out_end(out);
}
