/* Reads and writes what an order tells of costs. Prices per unit are held in fine units, amounts
 * that are paid in minor ones. */
#include "studio/terms/costs_file.h"
#include "studio/reading/load_times.h"

#include "base/days/civil.h"
#include "base/days/date.h"
#include "base/money_text.h"
#include "studio/terms/labour_file.h"

#include <string.h>

enum { MOST_WEARING = 50, MOST_LIVES = 40, MOST_EXTRAS = 1000 };

static const ks_field terms_fields[] = {
    KS_FIELD_KNOWN("electricity"),
    KS_FIELD_KNOWN("gas"),
    KS_FIELD_KNOWN("time_zone"),
    KS_FIELD_KNOWN("start"),
    KS_FIELD_KNOWN("wear"),
    KS_FIELD_KNOWN("wash_per_shelf"),
    KS_FIELD_KNOWN("shelf"),
    KS_FIELD_KNOWN("post"),
    KS_FIELD(MONEY, ks_money_terms, cone_pack_minor, "cone_pack", .most = 1e6),
    KS_FIELD_KNOWN("labour"),
    KS_FIELD(NUMBER, ks_money_terms, losses, "losses", .most = 0.95),
    KS_FIELD(NUMBER, ks_money_terms, overhead, "overhead", .most = 100),
    KS_FIELD_KNOWN("share"),
    KS_FIELD_KNOWN("earlier_firing_per_kg"),
    KS_FIELD_KNOWN("extras"),
    KS_FIELD_KNOWN("prices"),
};

static const ks_field wearing_fields[] = {
    KS_FIELD(NAME, ks_wearing, name, "name", .required = true, .least = 1, .most = 100),
    KS_FIELD(WORD, ks_wearing, heat, "heat", .words = "any|electric|gas"),
    KS_FIELD(MONEY, ks_wearing, price_minor, "price", .required = true, .most = 1e7),
    KS_FIELD(TIME, ks_wearing, fitting_s, "fitting", .most = 1e6),
    KS_FIELD_KNOWN("life"),
};

static const ks_field life_fields[] = {
    KS_FIELD_KNOWN("cone"),
    KS_FIELD(NUMBER, ks_life, firings, "firings", .required = true, .least = 1, .most = 1e6),
};

static const ks_field furniture_fields[] = {
    KS_FIELD(MONEY, ks_furniture_wear, price_minor, "price", .required = true, .most = 1e6),
    KS_FIELD(NUMBER, ks_furniture_wear, firings, "firings", .most = 1e6),
    KS_FIELD(NUMBER, ks_furniture_wear, breakage, "breakage", .most = 1),
};

static const ks_field labour_fields[] = {
    KS_FIELD(MONEY, ks_money_terms, labour_minor_h, "per_hour", .required = true, .most = 1e6),
    KS_FIELD(TIME, ks_money_terms, load_s, "load", .most = 1e6),
    KS_FIELD_KNOWN("steps"),
};

static const ks_field share_fields[] = {
    KS_FIELD(WORD, ks_money_terms, rule, "by", .words = "box|slices|shelf|mass|count|sides|rate"),
    KS_FIELD(WORD, ks_money_terms, empty_space, "empty_space", .words = "spread|studio"),
    KS_FIELD(WORD, ks_money_terms, cones, "cones", .words = "spread|studio"),
    KS_FIELD(WORD, ks_money_terms, pool, "loads", .words = "each|together"),
    KS_FIELD_KNOWN("per_litre"),
    KS_FIELD_KNOWN("rates"),
    KS_FIELD_KNOWN("subscriptions"),
    KS_FIELD(MONEY, ks_money_terms, rate_least_minor, "piece_least", .most = 1e6),
    KS_FIELD(MONEY, ks_money_terms, member_least_minor, "member_least", .most = 1e6),
    KS_FIELD(NUMBER, ks_money_terms, guest_factor, "guest_factor", .most = 100),
};

static const ks_field extra_fields[] = {
    KS_FIELD_KNOWN("member"),
    KS_FIELD(NAME, ks_extra, what, "what", .required = true, .least = 1, .most = 400),
    KS_FIELD(MONEY, ks_extra, minor, "amount", .required = true, .least = -1e7, .most = 1e7),
};

static const ks_field price_fields[] = {
    KS_FIELD(NUMBER, ks_money_terms, wholesale_factor, "wholesale", .most = 100),
    KS_FIELD(NUMBER, ks_money_terms, retail_factor, "retail", .most = 100),
    KS_FIELD(NUMBER, ks_money_terms, commission, "commission", .most = 0.95),
    KS_FIELD(NUMBER, ks_money_terms, tax, "tax", .most = 1),
    KS_FIELD(BOOL, ks_money_terms, tax_inside, "tax_inside"),
    KS_FIELD(MONEY, ks_money_terms, round_to_minor, "round_to", .most = 1000),
};

static void read_life(ks_reading *reading, const ks_json *node, void *into)
{
    ks_life *life = into;
    KS_FIELDS_READ(node, life_fields, &reading->fields, life);
    const ks_json *cone = ks_json_get(node, "cone");
    if (!cone && node->kind == KS_JSON_OBJECT)
        ks_json_lacks(node, "cone", reading->fields.err, "the top cone of these firings");
    life->cone = cone ? ks_cone_read(cone, reading->fields.err) : NULL;
    if (!life->cone)
        life->cone = "6";
}

static void sort_lives(ks_wearing *thing)
{
    for (int i = 1; i < thing->n_lives; i++)
        for (int j = i;
             j > 0 && ks_cone_rank(thing->lives[j].cone) < ks_cone_rank(thing->lives[j - 1].cone);
             j--) {
            ks_life colder = thing->lives[j];
            thing->lives[j] = thing->lives[j - 1];
            thing->lives[j - 1] = colder;
        }
}

static void read_wearing(ks_reading *reading, const ks_json *node, void *into)
{
    ks_wearing *thing = into;
    KS_FIELDS_READ(node, wearing_fields, &reading->fields, thing);
    const ks_json *life = ks_json_get(node, "life");
    thing->lives =
        ks_list_read(reading, life, MOST_LIVES, sizeof(ks_life), read_life, &thing->n_lives);
    if (thing->n_lives == 0 && node->kind == KS_JSON_OBJECT)
        ks_json_lacks(node, "life", reading->fields.err,
                      "how long it lasts: [{\"cone\": \"6\", \"firings\": 200}]");
    sort_lives(thing);
}

static void read_extra(ks_reading *reading, const ks_json *node, void *into)
{
    ks_extra *extra = into;
    const ks_json *member = ks_json_get(node, "member");
    ks_id_list members = KS_ID_LIST("member", reading->order->members, reading->order->n_members);
    KS_FIELDS_READ(node, extra_fields, &reading->fields, extra);
    bool studio = !member || (member->kind == KS_JSON_TEXT && !*member->text);
    extra->member = studio ? -1 : ks_id_refer(member, &members, reading->fields.err);
}

static void read_start(ks_reading *reading, const ks_json *node, ks_money_terms *terms)
{
    if (node)
        terms->start_told = ks_clock_time_read(reading, node, &terms->start_local_min);
}

/* Groups within costs whose fields are the terms' own. */
static const struct {
    const char *key;
    const ks_field *fields;
    int n;
} groups[] = {
    {"labour", labour_fields, sizeof labour_fields / sizeof *labour_fields},
    {"share", share_fields, sizeof share_fields / sizeof *share_fields},
    {"prices", price_fields, sizeof price_fields / sizeof *price_fields},
};
enum { GROUPS = sizeof groups / sizeof *groups };

static void read_lists(ks_reading *reading, const ks_json *node, ks_money_terms *terms)
{
    terms->wearing = ks_list_read(reading, ks_json_get(node, "wear"), MOST_WEARING,
                                  sizeof(ks_wearing), read_wearing, &terms->n_wearing);
    const ks_json *labour = ks_json_get(node, "labour");
    terms->labour_told = labour != NULL;
    terms->work = ks_labour_read(reading, ks_json_get(labour, "steps"), &terms->n_work);
    terms->extras = ks_list_read(reading, ks_json_get(node, "extras"), MOST_EXTRAS,
                                 sizeof(ks_extra), read_extra, &terms->n_extras);
}

static void read_amounts(ks_reading *reading, const ks_json *node, ks_money_terms *terms)
{
    const ks_json *earlier = ks_json_get(node, "earlier_firing_per_kg");
    terms->wash_per_shelf = ks_fine_read(reading, ks_json_get(node, "wash_per_shelf"));
    terms->earlier_per_kg = ks_fine_read(reading, earlier);
    terms->earlier_told = earlier != NULL;
    const ks_json *shelf = ks_json_get(node, "shelf"), *post = ks_json_get(node, "post");
    if (shelf)
        KS_FIELDS_READ(shelf, furniture_fields, &reading->fields, &terms->shelf);
    if (post)
        KS_FIELDS_READ(post, furniture_fields, &reading->fields, &terms->post);
}

void ks_costs_read(ks_reading *reading, const ks_json *node, ks_order *order)
{
    const ks_json *costs = ks_json_get(node, "costs");
    if (!costs)
        return;
    ks_money_terms *terms = KS_TAKE(reading->fields.arena, 1, ks_money_terms);
    *terms = (ks_money_terms){.guest_factor = 1, .wholesale_factor = 2, .retail_factor = 2};
    order->money = terms;
    if (KS_FIELDS_READ(costs, terms_fields, &reading->fields, terms) != KS_OK &&
        costs->kind != KS_JSON_OBJECT)
        return;
    for (int i = 0; i < GROUPS; i++) {
        const ks_json *group = ks_json_get(costs, groups[i].key);
        if (group)
            ks_fields_read(group, groups[i].fields, groups[i].n, &reading->fields, terms);
    }
    ks_power_read(reading, ks_json_get(costs, "electricity"), &terms->power);
    ks_fuel_read(reading, ks_json_get(costs, "gas"), &terms->fuel);
    read_start(reading, ks_json_get(costs, "start"), terms);
    read_lists(reading, costs, terms);
    read_amounts(reading, costs, terms);
    ks_rates_read(reading, ks_json_get(costs, "share"), order);
}

static void write_wearing(ks_json_out *out, const ks_wearing *thing, int digits)
{
    ks_out_object_flat(out, NULL);
    KS_FIELDS_WRITE(out, wearing_fields, digits, thing);
    ks_out_array(out, "life");
    for (int i = 0; i < thing->n_lives; i++) {
        ks_out_object(out, NULL);
        ks_out_text(out, "cone", thing->lives[i].cone);
        KS_FIELDS_WRITE(out, life_fields, digits, &thing->lives[i]);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_out_end(out);
}

static void write_furniture(ks_json_out *out, const char *key, const ks_furniture_wear *kind,
                            int digits)
{
    ks_out_object_flat(out, key);
    KS_FIELDS_WRITE(out, furniture_fields, digits, kind);
    ks_out_end(out);
}

static void write_extra(ks_json_out *out, const ks_order *order, const ks_extra *extra, int digits)
{
    ks_out_object_flat(out, NULL);
    ks_out_text(out, "member", extra->member < 0 ? "" : order->members[extra->member].id);
    ks_out_text(out, "what", extra->what);
    ks_out_money(out, "amount", extra->minor, digits);
    ks_out_end(out);
}

static void write_start(ks_json_out *out, const ks_money_terms *terms)
{
    if (terms->start_told)
        ks_out_text(out, "start", ks_civil_print(terms->start_local_min * 60, out->text.arena));
}

static void write_lists(ks_json_out *out, const ks_order *order, int digits)
{
    const ks_money_terms *terms = order->money;
    ks_out_array(out, "wear");
    for (int i = 0; i < terms->n_wearing; i++)
        write_wearing(out, &terms->wearing[i], digits);
    ks_out_end(out);
    ks_out_array(out, "extras");
    for (int i = 0; i < terms->n_extras; i++)
        write_extra(out, order, &terms->extras[i], digits);
    ks_out_end(out);
}

static void write_groups(ks_json_out *out, const ks_order *order, int digits)
{
    const ks_money_terms *terms = order->money;
    for (int i = 0; i < GROUPS; i++) {
        if (groups[i].fields == labour_fields && !terms->labour_told)
            continue;
        ks_out_object(out, groups[i].key);
        ks_fields_write(out, groups[i].fields, groups[i].n, digits, terms);
        if (groups[i].fields == share_fields)
            ks_rates_write(out, order, digits);
        if (groups[i].fields == labour_fields)
            ks_labour_write(out, "steps", terms->n_work, terms->work);
        ks_out_end(out);
    }
}

void ks_costs_write(ks_json_out *out, const ks_order *order)
{
    const ks_money_terms *terms = order->money;
    int digits = ks_currency_digits(order->currency);
    if (!terms)
        return;
    ks_out_object(out, "costs");
    KS_FIELDS_WRITE(out, terms_fields, digits, terms);
    ks_power_write(out, &terms->power, digits);
    ks_fuel_write(out, &terms->fuel, digits);
    write_start(out, terms);
    write_lists(out, order, digits);
    ks_fine_write(out, "wash_per_shelf", terms->wash_per_shelf, digits);
    if (terms->earlier_told)
        ks_fine_write(out, "earlier_firing_per_kg", terms->earlier_per_kg, digits);
    write_furniture(out, "shelf", &terms->shelf, digits);
    write_furniture(out, "post", &terms->post, digits);
    write_groups(out, order, digits);
    ks_out_end(out);
}
