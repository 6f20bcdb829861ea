#include "check.h"

#include "../studio/orders.h"
#include "base/file.h"
#include "kilnstow/money.h"

/* One of everything. */
static const char all_terms[] =
    "\"currency\": \"EUR\", \"members\": [{\"id\": \"ann\"}],\n"
    "\"costs\": {\"electricity\": {\"prices\": [{\"name\": \"day\", \"price\": 0.3127451, "
    "\"days\": \"mon-fri\", \"months\": \"oct-mar\", \"from\": \"07:00\", \"to\": \"21:30\"}, "
    "{\"name\": \"else\", \"price\": 0.229}], \"demand_per_kw\": 7.5, \"demand_share\": 0.25, "
    "\"per_firing\": 0.85, \"co2_kg_per_kwh\": 0.367},\n"
    "\"gas\": {\"price\": 1.23, \"per\": \"therm\", \"per_firing\": 2},\n"
    "\"time_zone\": \"CET-1CEST,M3.5.0,M10.5.0/3\", \"start\": \"2026-12-03 20:15\",\n"
    "\"wear\": [{\"name\": \"elements\", \"price\": 460, \"fitting\": \"3 h\", \"life\": "
    "[{\"cone\": \"10\", \"firings\": 80}, {\"cone\": \"04\", \"firings\": 1500}]}],\n"
    "\"shelf\": {\"price\": 62, \"firings\": 250, \"breakage\": 0.002}, \"post\": {\"price\": "
    "4.5},\n"
    "\"wash_per_shelf\": 0.175, \"cone_pack\": 1.35,\n"
    "\"labour\": {\"per_hour\": 18, \"load\": \"4 h\", \"steps\": [{\"step\": \"making\", "
    "\"time\": "
    "\"14 min\"}]},\n"
    "\"losses\": 0.06, \"overhead\": 0.15, \"earlier_firing_per_kg\": 0.955,\n"
    "\"share\": {\"by\": \"slices\", \"empty_space\": \"studio\", \"cones\": \"studio\", "
    "\"loads\": \"together\", \"per_litre\": 2.455, \"piece_least\": 0.5, \"member_least\": 2, "
    "\"guest_factor\": 1.25},\n"
    "\"extras\": [{\"member\": \"ann\", \"what\": \"credit\", \"amount\": -6.5}, {\"what\": \"open "
    "day\", \"amount\": 3}],\n"
    "\"prices\": {\"wholesale\": 1.5, \"retail\": 2, \"commission\": 0.4, \"tax\": 0.19, "
    "\"tax_inside\": true, \"round_to\": 0.5}},\n"
    "\"ware\": [{\"id\": \"mug\", \"diameter\": 80, \"height\": 100}]";

static const char tiers[] =
    "\"currency\": \"JPY\",\n\"costs\": {\"electricity\": {\"tiers\": [{\"up_to_kwh\": 120, "
    "\"price\": 29.8}, {\"price\": 36.4}], \"month_kwh\": 90}},\n"
    "\"ware\": [{\"id\": \"mug\", \"diameter\": 80, \"height\": 100}]";

static const char flat[] = "\"currency\": \"KWD\",\n\"costs\": {\"electricity\": {\"price\": "
                           "0.0255}},\n\"ware\": [{\"id\": \"mug\", \"diameter\": 80, \"height\": "
                           "100}]";

static ks_order *read_order(const char *rest, ks_arena *arena)
{
    ks_order *order;
    ks_error err = {0};
    ks_status status = order_from(rest, arena, &order, &err);
    if (status)
        print_error("%s\n", err.text);
    assert_int_equal(status, KS_OK);
    return order;
}

static void every_term_is_read_as_told(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const ks_money_terms *terms = read_order(all_terms, &arena)->money;
    assert_int_equal(terms->power.times[0].per_kwh, 31274510);
    assert_int_equal(terms->power.times[0].when.weekdays, 31);
    assert_int_equal(terms->power.times[0].when.months, 0xE07);
    assert_int_equal(terms->power.times[0].when.to_min, 21 * 60 + 30);
    check_near(terms->power.demand_share, 0.25, 0);
    assert_int_equal(terms->fuel.unit, KS_PER_THERM);
    assert_int_equal(terms->fuel.price, 123 * KS_FINE);
    assert_string_equal(terms->wearing[0].lives[0].cone, "04"); /* from the coldest */
    assert_int_equal(terms->wash_per_shelf, 17500000);
    assert_int_equal(terms->start_local_min % 1440, 20 * 60 + 15);
    assert_int_equal(terms->rule, KS_SHARE_SLICES);
    assert_int_equal(terms->empty_space, KS_PAID_STUDIO);
    assert_int_equal(terms->rate_per_litre, 245500000);
    assert_int_equal(terms->extras[0].minor, -650);
    assert_int_equal(terms->extras[1].member, -1);
    assert_true(terms->earlier_told && terms->tax_inside);
    ks_arena_finish(&arena);
}

static void defaults_are_those_of_the_table(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const ks_money_terms *terms = read_order(flat, &arena)->money;
    assert_int_equal(terms->power.times[0].per_kwh, 25500000);
    check_near(terms->power.demand_share, 1, 0);
    check_near(terms->guest_factor, 1, 0);
    check_near(terms->wholesale_factor, 2, 0);
    check_near(terms->retail_factor, 2, 0);
    assert_int_equal(terms->rule, KS_SHARE_BOX);
    assert_int_equal(terms->empty_space, KS_PAID_SPREAD);
    assert_false(terms->start_told || terms->earlier_told || terms->fuel.told);
    assert_null(
        read_order("\"ware\": [{\"id\": \"mug\", \"diameter\": 80, \"height\": 100}]", &arena)
            ->money);
    ks_arena_finish(&arena);
}

/* Written into a plan, read, and written again: the same bytes. */
static void costs_come_back_byte_for_byte(void **state)
{
    (void)state;
    static const char *const cases[] = {all_terms, tiers, flat};
    for (int i = 0; i < 3; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_plan *again, plan = {.version = "1", .stopped_by = "rounds", .bound_kind = ""};
        plan.order = read_order(cases[i], &arena);
        const char *first = ks_plan_json(&plan, &arena);
        assert_non_null(strstr(first, "\"costs\""));
        workplace place = workplace_made();
        assert_int_equal(ks_plan_read(file_put(&place, "plan.json", first), &arena, &again, &err),
                         KS_OK);
        workplace_left(&place);
        assert_string_equal(ks_plan_json(again, &arena), first);
        ks_arena_finish(&arena);
    }
}

/* Beyond what stands in tests/bad: place and remedy of more slips. */
static const struct {
    const char *costs, *place, *remedy;
} slips[] = {
    {"{\"electricity\": {\"price\": \"cheap\"}}", "costs.electricity.price", "number"},
    {"{\"electricity\": {\"price\": 20000000000}}", "costs.electricity.price",
     "from 0 to 10000000"},
    {"{\"electricity\": {\"prices\": [{\"price\": 1, \"from\": \"25:00\"}]}}",
     "costs.electricity.prices[1].from", "from 0"},
    {"{\"electricity\": {\"prices\": [{\"price\": 1, \"months\": \"winter\"}]}}",
     "costs.electricity.prices[1].months", "jan-may"},
    {"{\"electricity\": {\"tiers\": [{\"up_to_kwh\": 5, \"price\": 1}]}}",
     "costs.electricity.tiers", "the last has none"},
    {"{\"electricity\": {\"price\": 1, \"tiers\": [{\"price\": 1}]}}", "costs.electricity",
     "tell one"},
    {"{\"electricity\": {\"tiers\": [{\"up_to_kwh\": 5}, {\"price\": 1}]}}",
     "costs.electricity.tiers[1].price", "kWh"},
    {"{\"gas\": {\"per\": \"m3\"}}", "costs.gas.price", "what"},
    {"{\"start\": \"2026-02-30 20:00\"}", "costs.start", "2026-11-28 18:00"},
    {"{\"wear\": [{\"name\": \"elements\", \"price\": 1, \"life\": [{\"firings\": 3}]}]}",
     "costs.wear[1].life[1].cone", "top cone"},
    {"{\"wear\": [{\"name\": \"elements\", \"price\": 1, \"life\": [{\"cone\": \"99\", "
     "\"firings\": 3}]}]}",
     "costs.wear[1].life[1].cone", "cone"},
    {"{\"shelf\": {\"firings\": 3}}", "costs.shelf.price", ""},
    {"{\"labour\": {\"load\": \"4 h\"}}", "costs.labour.per_hour", ""},
    {"{\"prices\": {\"commission\": 1}}", "costs.prices.commission", "0.95"},
    {"{\"prices\": {\"tax_inside\": \"yes\"}}", "costs.prices.tax_inside", "true"},
    {"{\"extras\": [{\"what\": \"x\"}]}", "costs.extras[1].amount", ""},
    {"{\"earlier_firing_per_kg\": -1}", "costs.earlier_firing_per_kg", "from 0 to"},
};

static void slips_are_told_with_place_and_remedy(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof slips / sizeof *slips; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_order *order;
        const char *rest = ks_arena_print(&arena,
                                          "\"costs\": %s,\n\"ware\": [{\"id\": \"mug\", "
                                          "\"diameter\": 80, \"height\": 100}]",
                                          slips[i].costs);
        ks_status status = order_from(rest, &arena, &order, &err);
        if (status != KS_BAD_INPUT || !strstr(err.text, slips[i].place) ||
            !strstr(err.text, slips[i].remedy))
            print_error("%s\ngave: %s\n", slips[i].costs, err.text);
        assert_int_equal(status, KS_BAD_INPUT);
        assert_non_null(strstr(err.text, slips[i].place));
        assert_non_null(strstr(err.text, slips[i].remedy));
        ks_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_term_is_read_as_told),
        cmocka_unit_test(defaults_are_those_of_the_table),
        cmocka_unit_test(costs_come_back_byte_for_byte),
        cmocka_unit_test(slips_are_told_with_place_and_remedy),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
