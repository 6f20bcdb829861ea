/* Reads and writes a studio's list of fees and its subscriptions. */
#include "base/language.h"
#include "base/words.h"
#include "studio/terms/costs_file.h"
#include "studio/names.h"

#include <math.h>
#include <string.h>

#define UNIT_WORDS "litre|cubic inch|kg|lb|piece|shelf|half shelf"
#define BOX_WORDS "sides|outline"

enum { MOST_RATES = 100, MOST_TIERS = 40, MOST_SUBSCRIPTIONS = 100 };

static const ks_field rate_fields[] = {
    KS_FIELD(TEXT, ks_rate, name, "name", .most = 100),
    KS_FIELD_KNOWN("firings"),
    KS_FIELD(WORD, ks_rate, per, "per", .required = true, .words = UNIT_WORDS),
    KS_FIELD(WORD, ks_rate, box, "box", .words = BOX_WORDS),
    KS_FIELD_KNOWN("price"),
    KS_FIELD(MONEY, ks_rate, half_minor, "half", .most = 1e6),
    KS_FIELD(LENGTH, ks_rate, round_up_mm, "round_up", .most = 1000),
    KS_FIELD_KNOWN("tiers"),
    KS_FIELD(MONEY, ks_rate, least_minor, "piece_least", .most = 1e6),
};

static const ks_field tier_fields[] = {
    KS_FIELD(NUMBER, ks_size_tier, up_to, "up_to", .least = 1e-6, .most = 1e6),
    KS_FIELD(LENGTH, ks_size_tier, longest_mm, "longest", .least = 1, .most = 5000),
    KS_FIELD(MONEY, ks_size_tier, price_minor, "price", .required = true, .most = 1e6),
};

static const ks_field subscription_fields[] = {
    KS_FIELD(NAME, ks_subscription, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD(TEXT, ks_subscription, name, "name", .most = 400),
    KS_FIELD(MONEY, ks_subscription, fee_minor, "fee", .most = 1e6),
    KS_FIELD(NUMBER, ks_subscription, included, "included", .least = 1e-6, .most = 1e6),
};

static void read_tier(ks_reading *reading, const ks_json *node, void *into)
{
    ks_size_tier *tier = into;
    *tier = (ks_size_tier){KS_NOT_TOLD, KS_NOT_TOLD, 0};
    KS_FIELDS_READ(node, tier_fields, &reading->fields, tier);
}

/* Each size holds more than the one before, and the last holds all: no piece falls between. */
static void check_tiers(ks_reading *reading, const ks_json *node, const ks_rate *rate)
{
    const ks_size_tier *last = &rate->tiers[rate->n_tiers - 1];
    if (!isnan(last->up_to) || !isnan(last->longest_mm))
        ks_json_fail(&node->items[node->n - 1], reading->fields.err,
                     "found a limit in the last size; write one without \"up_to\" and \"longest\" "
                     "behind it, for all that is larger");
    for (int i = 0; i + 1 < rate->n_tiers; i++)
        if (isnan(rate->tiers[i].up_to) && isnan(rate->tiers[i].longest_mm))
            ks_json_fail(&node->items[i], reading->fields.err,
                         "found no limit; all but the last size tell \"up_to\" (in the unit of "
                         "\"per\") or \"longest\"");
}

static void read_firings(ks_reading *reading, const ks_json *node, ks_rate *rate)
{
    const ks_order *order = reading->order;
    ks_id_list list = KS_ID_LIST("firing", order->firings, order->n_firings);
    if (!node || ks_array_check(node, 1, MOST_RATES, reading->fields.err) != KS_OK)
        return;
    rate->firings = KS_TAKE(reading->fields.arena, node->n, int);
    for (int i = 0; i < node->n; i++) {
        int firing = ks_id_refer(&node->items[i], &list, reading->fields.err);
        if (firing >= 0)
            rate->firings[rate->n_firings++] = firing;
    }
}

static bool is_of_shelves(const ks_rate *rate)
{
    return rate->per == KS_RATE_SHELF || rate->per == KS_RATE_HALF_SHELF;
}

static bool is_of_box(const ks_rate *rate)
{
    return rate->per == KS_RATE_LITRE || rate->per == KS_RATE_CUBIC_INCH;
}

/* A key that says nothing about what is measured would be passed over in silence. */
static void check_keys(ks_reading *reading, const ks_json *node, const ks_rate *rate)
{
    const struct {
        const char *key, *only;
        bool fits;
    } keys[] = {{"half", "per shelf", rate->per == KS_RATE_SHELF},
                {"box", "per litre or cubic inch", is_of_box(rate)},
                {"round_up", "of sides", is_of_box(rate) && rate->box == KS_RATE_BY_SIDES},
                {"piece_least", "of a piece, not of shelves", !is_of_shelves(rate)},
                {"tiers", "of a piece, not of shelves", !is_of_shelves(rate)}};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        if (ks_json_get(node, keys[i].key) && !keys[i].fits)
            ks_json_fail(ks_json_get(node, keys[i].key), reading->fields.err,
                         "found \"%s\", which tells of a price %s; take it off", keys[i].key,
                         ks_tr(keys[i].only));
}

static void read_rate(ks_reading *reading, const ks_json *node, void *into)
{
    ks_rate *rate = into;
    const ks_json *price = ks_json_get(node, "price"), *tiers = ks_json_get(node, "tiers");
    *rate = (ks_rate){.name = "", .half_minor = KS_NO_MONEY};
    KS_FIELDS_READ(node, rate_fields, &reading->fields, rate);
    if (node->kind != KS_JSON_OBJECT)
        return;
    if (!price == !tiers)
        ks_json_fail(node, reading->fields.err,
                     price ? "found both \"price\" and \"tiers\"; one of them is enough"
                           : "found no price; \"price\" is of one unit, \"tiers\" of a piece by "
                             "its size");
    rate->price = ks_fine_read(reading, price);
    if (tiers && ks_array_check(tiers, 1, MOST_TIERS, reading->fields.err) != KS_OK)
        return;
    rate->tiers =
        ks_list_read(reading, tiers, MOST_TIERS, sizeof(ks_size_tier), read_tier, &rate->n_tiers);
    if (rate->n_tiers > 0)
        check_tiers(reading, tiers, rate);
    read_firings(reading, ks_json_get(node, "firings"), rate);
    check_keys(reading, node, rate);
}

static void read_subscription(ks_reading *reading, const ks_json *node, void *into)
{
    ks_subscription *subscription = into;
    *subscription = (ks_subscription){.name = "", .included = KS_NOT_TOLD};
    KS_FIELDS_READ(node, subscription_fields, &reading->fields, subscription);
    if (!*subscription->name && subscription->id)
        subscription->name = subscription->id;
}

/* So many litres are included only where all is charged by litres. */
static void check_included(ks_reading *reading, const ks_json *node, const ks_money_terms *terms)
{
    for (int s = 0; s < terms->n_subscriptions; s++)
        for (int r = 1; r < terms->n_rates && !isnan(terms->subscriptions[s].included); r++)
            if (terms->rates[r].per != terms->rates[0].per) {
                ks_json_fail(&node->items[s], reading->fields.err,
                             "found \"included\" beside rates of several units; let all be \"per\" "
                             "one unit, or include all");
                return;
            }
}

void ks_rates_read(ks_reading *reading, const ks_json *share, ks_order *order)
{
    ks_money_terms *terms = order->money;
    const ks_json *subscriptions = ks_json_get(share, "subscriptions");
    const ks_json *rates = ks_json_get(share, "rates");
    terms->rate_per_litre = ks_fine_read(reading, ks_json_get(share, "per_litre"));
    terms->rates =
        ks_list_read(reading, rates, MOST_RATES, sizeof(ks_rate), read_rate, &terms->n_rates);
    if (terms->n_rates > 0 && (terms->rate_per_litre > 0 || terms->rate_least_minor > 0))
        ks_json_fail(rates, reading->fields.err,
                     "found \"rates\" beside \"%s\"; let one of the rates tell that",
                     terms->rate_per_litre > 0 ? "per_litre" : "piece_least");
    terms->subscriptions =
        ks_named_list_read(reading, subscriptions, "subscription", MOST_SUBSCRIPTIONS,
                           sizeof(ks_subscription), read_subscription, &terms->n_subscriptions);
    check_included(reading, subscriptions, terms);
}

void ks_subscribers_check(ks_reading *reading, const ks_json *node, const ks_order *order)
{
    const ks_money_terms *terms = order->money;
    const ks_json *members = ks_json_get(node, "members");
    ks_id_list list = {"subscription", NULL, sizeof(ks_subscription), 0};
    if (terms)
        list = KS_ID_LIST("subscription", terms->subscriptions, terms->n_subscriptions);
    for (int m = 0; members && m < members->n && m < order->n_members; m++) {
        const ks_json *told = ks_json_get(&members->items[m], "subscription");
        if (told && told->kind == KS_JSON_TEXT && *told->text)
            (void)ks_id_refer(told, &list, reading->fields.err);
    }
}

static void write_rate(ks_json_out *out, const ks_order *order, const ks_rate *rate, int digits)
{
    ks_out_object(out, NULL);
    ks_out_text(out, "name", rate->name);
    if (rate->n_firings > 0) {
        ks_out_array_flat(out, "firings");
        for (int i = 0; i < rate->n_firings; i++)
            ks_out_text(out, NULL, order->firings[rate->firings[i]].id);
        ks_out_end(out);
    }
    ks_out_text(out, "per", ks_word_at(UNIT_WORDS, (int)rate->per).text);
    if (is_of_box(rate))
        ks_out_text(out, "box", ks_word_at(BOX_WORDS, (int)rate->box).text);
    if (is_of_box(rate) && rate->box == KS_RATE_BY_SIDES)
        ks_length_write(out, "round_up", rate->round_up_mm);
    if (rate->half_minor != KS_NO_MONEY)
        ks_out_money(out, "half", rate->half_minor, digits);
    if (!is_of_shelves(rate))
        ks_out_money(out, "piece_least", rate->least_minor, digits);
    if (rate->n_tiers == 0)
        ks_fine_write(out, "price", rate->price, digits);
    else
        ks_out_array(out, "tiers");
    for (int i = 0; i < rate->n_tiers; i++) {
        ks_out_object_flat(out, NULL);
        KS_FIELDS_WRITE(out, tier_fields, digits, &rate->tiers[i]);
        ks_out_end(out);
    }
    if (rate->n_tiers > 0)
        ks_out_end(out);
    ks_out_end(out);
}

void ks_rates_write(ks_json_out *out, const ks_order *order, int digits)
{
    const ks_money_terms *terms = order->money;
    if (terms->n_rates == 0)
        ks_fine_write(out, "per_litre", terms->rate_per_litre, digits);
    else
        ks_out_array(out, "rates");
    for (int i = 0; i < terms->n_rates; i++)
        write_rate(out, order, &terms->rates[i], digits);
    if (terms->n_rates > 0)
        ks_out_end(out);
    if (terms->n_subscriptions == 0)
        return;
    ks_out_array(out, "subscriptions");
    for (int i = 0; i < terms->n_subscriptions; i++) {
        ks_out_object_flat(out, NULL);
        KS_FIELDS_WRITE(out, subscription_fields, digits, &terms->subscriptions[i]);
        ks_out_end(out);
    }
    ks_out_end(out);
}
