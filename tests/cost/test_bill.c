#include "money_case.h"

#include "base/days/civil.h"
#include "cost/bill.h"
#include "cost/wear.h"

static void opened_with_a_mug(money_case *on)
{
    case_opened(on);
    int level = case_level(on, 0, 300, 400);
    case_put(on, 0, level, case_piece(on, "", 40, 100));
}

/* Of one kiln of 76 mm brick: 1500 firings to cone 04, 350 to cone 6, 80 to cone 10 (an element
 * maker's figures; from memory). */
static ks_life lives[] = {{"04", 1500}, {"6", 350}, {"10", 80}};

static void elements_wear_by_the_cone(void **state)
{
    (void)state;
    ks_wearing elements = {"elements", KS_WEARS_IN_ELECTRIC, 46000, 0, 3, lives};
    check_near(ks_wearing_life(&elements, ks_cone_rank("06")), 1500, 0);
    check_near(ks_wearing_life(&elements, ks_cone_rank("04")), 1500, 0);
    check_near(ks_wearing_life(&elements, ks_cone_rank("6")), 350, 1e-9);
    check_near(ks_wearing_life(&elements, ks_cone_rank("12")), 80, 0);
    /* halfway from 6 to 10 in the row: the geometric mean */
    double halfway = (ks_cone_rank("6") + ks_cone_rank("10")) / 2.0;
    check_near(ks_wearing_life(&elements, halfway), sqrt(350 * 80), 1e-9);
    double before = 1501;
    for (int rank = ks_cone_rank("04"); rank <= ks_cone_rank("10"); rank++) {
        double life = ks_wearing_life(&elements, rank);
        assert_true(life < before);
        before = life;
    }
}

/* 460.00 and three hours at 18.00 are 514.00; over 350 firings 1.4686, over 1500 0.3427. */
static void a_firing_is_charged_its_part_of_a_new_set(void **state)
{
    (void)state;
    money_case on;
    opened_with_a_mug(&on);
    ks_wearing elements = {"elements", KS_WEARS_IN_ELECTRIC, 46000, 3 * 3600, 3, lives};
    on.terms.wearing = &elements;
    on.terms.n_wearing = 1;
    on.terms.labour_minor_h = 1800;
    case_costed(&on);
    assert_int_equal(case_line(&on.costing.loads[0].lines, "wear, elements"), ks_minor_fine(147));
    on.loads[0].firing.cone = "04";
    case_costed(&on);
    assert_int_equal(case_line(&on.costing.loads[0].lines, "wear, elements"), ks_minor_fine(34));
    case_closed(&on);
}

static void a_gas_kiln_wears_no_elements(void **state)
{
    (void)state;
    money_case on;
    opened_with_a_mug(&on);
    ks_wearing things[] = {{"elements", KS_WEARS_IN_ELECTRIC, 46000, 0, 3, lives},
                           {"thermocouple", KS_WEARS_IN_ANY, 4000, 0, 3, lives},
                           {"burner tips", KS_WEARS_IN_GAS, 9000, 0, 3, lives}};
    on.terms.wearing = things;
    on.terms.n_wearing = 3;
    case_costed(&on);
    assert_true(case_has_line(&on.costing.loads[0].lines, "wear, elements"));
    assert_false(case_has_line(&on.costing.loads[0].lines, "wear, burner tips"));
    on.kiln.heat = (ks_heat){.kind = KS_GAS, .fuel = "propane"};
    on.terms.fuel = (ks_fuel_tariff){true, 100 * KS_FINE, KS_PER_KWH, 0};
    case_costed(&on);
    assert_false(case_has_line(&on.costing.loads[0].lines, "wear, elements"));
    assert_true(case_has_line(&on.costing.loads[0].lines, "wear, thermocouple"));
    assert_true(case_has_line(&on.costing.loads[0].lines, "wear, burner tips"));
    case_closed(&on);
}

/* A firing that ends by temperature wears as hot as its hottest level got. */
static void a_firing_by_temperature_wears_by_its_heat_work(void **state)
{
    (void)state;
    ks_load load = {.firing = {.cone = "", .top_temp_c = 1222}};
    ks_level_fired levels[] = {{.cone_edge = 20.5}, {.cone_edge = 27.25}};
    ks_firing_result fired = {.n_levels = 2, .levels = levels};
    check_near(ks_firing_severity(&load, &fired), 27.25, 0);
    load.firing.cone = "6";
    check_near(ks_firing_severity(&load, &fired), ks_cone_rank("6"), 0);
}

/* Two shelves of 60.00 that last 200 firings and break once in 500: 2 x 60 x (0.005 + 0.002) =
 * 0.84. A stack of two posts counts as two: 2 x 4.00 / 400 = 0.02. Wash 2 x 0.125 = 0.25. */
static void shelves_posts_wash_and_cones_are_counted(void **state)
{
    (void)state;
    money_case on;
    opened_with_a_mug(&on);
    case_level(&on, 0, 100, 400);
    case_cones(&on, 0, 1);
    ks_post stack = {.n_heights = 2, .heights_mm = {50, 60}};
    on.loads[0].posts = &stack;
    on.loads[0].n_posts = 1;
    on.terms.shelf = (ks_furniture_wear){6000, 200, 0.002};
    on.terms.post = (ks_furniture_wear){400, 400, 0};
    on.terms.wash_per_shelf = 125 * KS_FINE / 10;
    on.terms.cone_pack_minor = 135;
    case_costed(&on);
    const ks_cost_lines *lines = &on.costing.loads[0].lines;
    assert_int_equal(case_line(lines, "wear, shelves"), ks_minor_fine(84));
    assert_int_equal(case_line(lines, "wear, posts"), ks_minor_fine(2));
    assert_int_equal(case_line(lines, "kiln wash"), ks_minor_fine(25));
    assert_int_equal(case_line(lines, "cones"), ks_minor_fine(135));
    assert_int_equal(on.costing.loads[0].total_minor, 2000 + 84 + 2 + 25 + 135);
    case_closed(&on);
}

/* A therm is 100 000 Btu of 1055.06 J, 29.3071 kWh, by definition; carbon dioxide of natural gas
 * 53.06 kg for a million Btu (US EPA emission factors; from memory). */
static void gas_is_priced_by_its_unit(void **state)
{
    (void)state;
    static const struct {
        ks_fuel_unit unit;
        int64_t minor;
    } units[] = {{KS_PER_KWH, 29307}, {KS_PER_THERM, 1000}, {KS_PER_M3, 2800}, {KS_PER_KG, 2100}};
    for (int i = 0; i < 4; i++) {
        money_case on;
        opened_with_a_mug(&on);
        on.kiln.heat = (ks_heat){.kind = KS_GAS, .fuel = "natural gas"};
        on.fired[0].energy.total = 293.071;
        on.fired[0].fuel_m3 = 28;
        on.fired[0].fuel_kg = 21;
        on.terms.fuel = (ks_fuel_tariff){true, 100 * KS_FINE, units[i].unit, 0};
        case_costed(&on);
        assert_int_equal(on.costing.loads[0].total_minor, units[i].minor);
        check_near(on.costing.loads[0].co2_kg, 53.06, 0.01);
        case_closed(&on);
    }
}

static void a_kiln_without_a_tariff_for_its_fuel_is_told(void **state)
{
    (void)state;
    money_case on;
    opened_with_a_mug(&on);
    on.kiln.heat = (ks_heat){.kind = KS_GAS, .fuel = "propane"};
    assert_int_equal(case_status(&on), KS_BAD_INPUT);
    assert_non_null(strstr(on.err.text, "costs.gas"));
    on.err = (ks_error){0};
    on.order.money = NULL;
    assert_int_equal(case_status(&on), KS_BAD_INPUT);
    assert_non_null(strstr(on.err.text, "costs: found nothing"));
    case_closed(&on);
}

static void grid_power_brings_its_carbon_dioxide(void **state)
{
    (void)state;
    money_case on;
    opened_with_a_mug(&on);
    case_costed(&on);
    assert_true(on.costing.loads[0].co2_kg < 0);
    on.terms.power.co2_kg_kwh = 0.367; /* the US grid in 2023 (EIA; from memory) */
    case_costed(&on);
    check_near(on.costing.loads[0].co2_kg, 36.7, 1e-9);
    case_closed(&on);
}

/* Half of the month's demand at 9.00 a kW, at 10 kW, and 5.00 for each firing. */
static void demand_and_fixed_fee_are_on_the_bill(void **state)
{
    (void)state;
    money_case on;
    opened_with_a_mug(&on);
    on.terms.power.demand_per_kw = 900 * KS_FINE;
    on.terms.power.demand_share = 0.5;
    on.terms.power.per_firing = 500 * KS_FINE;
    case_costed(&on);
    assert_int_equal(on.costing.loads[0].total_minor, 2000 + 4500 + 500);
    case_closed(&on);
}

/* Day price 0.30 from 7:00 to 21:00, night 0.10. */
static void priced_by_day_and_night(money_case *on, ks_price_time *times)
{
    times[0] = (ks_price_time){"day", 30 * KS_FINE, {127, 4095, 420, 1260}};
    times[1] = (ks_price_time){"night", 10 * KS_FINE, {127, 4095, 0, 0}};
    on->terms.power.times = times;
    on->terms.power.n_times = 2;
}

/* 120 kWh at 0.10, the rest at 0.30; 50 used before, and two firings of 100: the first has 70 of
 * the cheap ones, the second none, unless it falls into the next month. */
static void tiers_go_on_from_load_to_load_of_a_month(void **state)
{
    (void)state;
    money_case on;
    ks_price_tier tiers[] = {{120, 10 * KS_FINE}, {INFINITY, 30 * KS_FINE}};
    opened_with_a_mug(&on);
    on.plan.n_loads = 2;
    on.terms.power.tiers = tiers;
    on.terms.power.n_tiers = 2;
    on.terms.power.month_kwh = 50;
    case_costed(&on);
    assert_int_equal(on.costing.loads[0].total_minor, 700 + 900);
    assert_int_equal(on.costing.loads[1].total_minor, 3000);
    on.loads[0].day = (int)ks_day_of(2026, 11, 30);
    on.loads[1].day = (int)ks_day_of(2026, 12, 1);
    case_costed(&on);
    assert_int_equal(on.costing.loads[1].total_minor, 700 + 900);
    case_closed(&on);
}

static void a_time_price_needs_to_know_when(void **state)
{
    (void)state;
    money_case on;
    ks_price_time times[2];
    opened_with_a_mug(&on);
    priced_by_day_and_night(&on, times);
    assert_int_equal(case_status(&on), KS_BAD_INPUT);
    assert_non_null(strstr(on.err.text, "costs.start"));
    case_closed(&on);
}

static void a_dated_load_starts_on_its_day(void **state)
{
    (void)state;
    money_case on;
    ks_price_time times[2];
    opened_with_a_mug(&on);
    priced_by_day_and_night(&on, times);
    int64_t day = ks_day_of(2026, 12, 3);
    on.loads[0].day = (int)day;
    case_costed(&on); /* 8:00 assumed: ten hours of day */
    assert_int_equal(on.costing.loads[0].total_minor, 3000);
    assert_int_equal(on.costing.loads[0].start_local_min, day * 1440 + 480);
    assert_int_equal(on.costing.n_assumed, 1);
    on.terms.start_told = true;
    on.terms.start_local_min =
        ks_day_of(2020, 1, 1) * 1440 + 20 * 60; /* 20:00, on the load's day */
    case_costed(&on);
    assert_int_equal(on.costing.loads[0].total_minor, 300 + 900);
    assert_int_equal(on.costing.loads[0].start_local_min, day * 1440 + 1200);
    assert_int_equal(on.costing.n_assumed, 0);
    case_closed(&on);
}

/* By the hour of starting alone, and without touching the bill: 10 h of 10 kW from 21:00 to 7:00
 * are all night's, 100 x 0.10. */
static void another_start_is_priced_beside_the_bill(void **state)
{
    (void)state;
    money_case on;
    ks_price_time times[2];
    opened_with_a_mug(&on);
    priced_by_day_and_night(&on, times);
    on.loads[0].day = (int)ks_day_of(2026, 12, 3);
    case_costed(&on);
    assert_int_equal(on.costing.loads[0].total_minor, 3000);
    int64_t at_nine_s = ks_day_of(2026, 12, 3) * 86400 + 21 * 3600;
    assert_int_equal(ks_load_power_at(&on.plan, 0, on.fired, at_nine_s), ks_minor_fine(1000));
    case_closed(&on);
}

/* ISO 4217: the yen has no minor unit, the Kuwaiti dinar a thousand. A kWh at 30.5 yen and at
 * 0.0255 dinar, 100 of them: 3050 yen, 2.550 dinar. */
static void bills_are_in_the_currencys_own_minor_unit(void **state)
{
    (void)state;
    money_case on;
    opened_with_a_mug(&on);
    on.order.currency = "JPY";
    on.price.per_kwh = 305 * KS_FINE / 10;
    case_costed(&on);
    assert_int_equal(on.costing.digits, 0);
    assert_int_equal(on.costing.total_minor, 3050);
    assert_string_equal(ks_fine_print(ks_minor_fine(3050), on.costing.digits, 0, &on.arena),
                        "3050");
    on.order.currency = "KWD";
    on.price.per_kwh = 255 * KS_FINE / 10;
    case_costed(&on);
    assert_int_equal(on.costing.total_minor, 2550);
    assert_string_equal(ks_fine_print(ks_minor_fine(2550), on.costing.digits, 0, &on.arena),
                        "2.550");
    case_closed(&on);
}

static void absurd_prices_are_refused_and_never_run_over(void **state)
{
    (void)state;
    money_case on;
    opened_with_a_mug(&on);
    on.price.per_kwh = 1000000000 * KS_FINE;
    on.points[0][1].power_kw = 1e6;
    assert_int_equal(case_status(&on), KS_BAD_INPUT);
    assert_non_null(strstr(on.err.text, "more than can be counted"));
    assert_int_equal(ks_fine_times(KS_FINE_MOST, 1e300), KS_FINE_MOST);
    assert_int_equal(ks_fine_times(-KS_FINE_MOST, 1e300), -KS_FINE_MOST);
    assert_int_equal(ks_fine_plus(KS_FINE_MOST, KS_FINE_MOST), KS_FINE_MOST);
    case_closed(&on);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(elements_wear_by_the_cone),
        cmocka_unit_test(a_firing_is_charged_its_part_of_a_new_set),
        cmocka_unit_test(a_gas_kiln_wears_no_elements),
        cmocka_unit_test(a_firing_by_temperature_wears_by_its_heat_work),
        cmocka_unit_test(shelves_posts_wash_and_cones_are_counted),
        cmocka_unit_test(gas_is_priced_by_its_unit),
        cmocka_unit_test(a_kiln_without_a_tariff_for_its_fuel_is_told),
        cmocka_unit_test(grid_power_brings_its_carbon_dioxide),
        cmocka_unit_test(demand_and_fixed_fee_are_on_the_bill),
        cmocka_unit_test(tiers_go_on_from_load_to_load_of_a_month),
        cmocka_unit_test(a_time_price_needs_to_know_when),
        cmocka_unit_test(a_dated_load_starts_on_its_day),
        cmocka_unit_test(another_start_is_priced_beside_the_bill),
        cmocka_unit_test(bills_are_in_the_currencys_own_minor_unit),
        cmocka_unit_test(absurd_prices_are_refused_and_never_run_over),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
