/* Control loops: what a zone gives, and what zones cost against one loop for all. */
#include "check.h"

#include "fire/kilns.h"
#include "fire/physics/network.h"

/* 580 mm across, 690 mm deep, 11.5 kW in three zones, with one or three thermocouples. */
static void zoned_make(const plain_firing *f, ks_keep_out sensors[3], int n_sensors, plain_case *c)
{
    plain_case_make(f, c);
    for (int i = 0; i < 3; i++)
        sensors[i] =
            (ks_keep_out){.kind = "sensor", .from_mm = 115 + 225 * i, .to_mm = 125 + 225 * i};
    if (n_sensors == 1)
        sensors[0] = sensors[1];
    c->kiln.n_keep_outs = n_sensors;
    c->kiln.keep_outs = sensors;
}

static plain_firing glaze_580(void)
{
    plain_firing f = plain_198();
    f.across_mm = 580;
    f.stage = KS_GLAZED;
    f.ware_kg = 30;
    f.furniture_kg = 30;
    f.leak_m3_h = 0.8;
    f.vent_m3_h = 2.5;
    f.rate_c_h = 150;
    f.top_c = 1270;
    f.cone = "6";
    return f;
}

static void zones_cost_no_more_than_one_loop_where_the_load_is_even(void **state)
{
    const double rows[][2] = {{240, 0}, {240, 0.1}, {208, 0}, {208, 0.1}};
    for (int i = 0; i < 4; i++) {
        ks_firing_result r[2];
        plain_case c[2];
        ks_keep_out sensors[2][3];
        for (int k = 0; k < 2; k++) {
            plain_firing f = glaze_580();
            zoned_make(&f, sensors[k], k ? 3 : 1, &c[k]);
            c[k].options.volts = rows[i][0];
            c[k].options.elements_worn = rows[i][1];
            r[k] = plain_fire(&c[k]);
            assert_true(r[k].ledger_residual < 1e-6);
        }
        assert_int_equal(r[0].reached, r[1].reached);
        if (r[0].reached)
            check_near(r[1].energy.total / r[0].energy.total, 1, 0.03);
        for (int k = 0; k < 2; k++)
            ks_arena_finish(&c[k].arena);
    }
}

static double spread_cones(const ks_firing_result *r)
{
    double low = INFINITY, high = -INFINITY;
    for (int l = 0; l < r->n_levels; l++) {
        low = fmin(low, r->levels[l].cone_edge);
        high = fmax(high, r->levels[l].cone_edge);
    }
    return high - low;
}

/* Elements of half the strength below: one loop leaves the bottom cold, zones bring it up. */
static void zones_even_out_what_one_loop_leaves_cold(void **state)
{
    double spread[2];
    for (int k = 0; k < 2; k++) {
        plain_firing f = glaze_580();
        ks_keep_out sensors[3];
        plain_case c;
        zoned_make(&f, sensors, k ? 3 : 1, &c);
        c.zones[0].share = 0.16;
        c.zones[1].share = 0.42;
        c.zones[2].share = 0.42;
        ks_firing_result r = plain_fire(&c);
        assert_int_equal(r.reached, k); /* one loop leaves pieces under their cone */
        spread[k] = spread_cones(&r);
        ks_arena_finish(&c.arena);
    }
    assert_true(spread[0] > 1.2);
    assert_true(spread[1] < 0.5 * spread[0]);
}

static double flat_heat(double temp_c, const void *value)
{
    return *(const double *)value;
}

/* Two like bodies that lose k (T - 20 C) to a third held at 20 C by its size, with a heater and a
 * thermocouple each. A first-order lag under full power: T = 20 + P/k (1 - exp(-k t / C)), any
 * control textbook (Ogata, Modern Control Engineering, ch. 5, from memory); here stepped by
 * backward Euler, whose own answer is the bracket to the power n. */
static void a_loop_answers_a_step_as_a_first_order_lag_and_does_not_overshoot(void **state)
{
    ks_arena arena = {0};
    const double c_j_k = 20000, k_w_k = 5, huge = 1e12, full_w = 3000;
    ks_temp_curve *small = KS_TAKE(&arena, 2, ks_temp_curve), *large = small + 1;
    ks_temp_curve_of_function(flat_heat, &c_j_k, small);
    ks_temp_curve_of_function(flat_heat, &huge, large);
    ks_node nodes[3] = {{.store = small}, {.store = small}, {.store = large}};
    double share[2][3] = {{1, 0, 0}, {0, 1, 0}};
    ks_loop loops[2] = {{share[0], share[0], 0.7, 0}, {share[1], share[1], 0.3, 0}};
    ks_link links[2] = {{0, 2, 0, k_w_k}, {1, 2, 0, k_w_k}};
    ks_network net = {.n_nodes = 3,
                      .n_links = 2,
                      .nodes = nodes,
                      .links = links,
                      .room_c = 20,
                      .air_heat = small,
                      .n_loops = 2,
                      .loops = loops};
    for (int i = 0; i < 3; i++)
        nodes[i].temp_c = nodes[i].old_c = nodes[i].highest_c = 20;
    ks_network_ready(&net, &arena);
    ks_drive drive = {60, 160, full_w};
    double power_w, decay = 1 / (1 + k_w_k * 60 / c_j_k);
    for (int n = 1; n <= 400; n++) {
        assert_true(ks_network_step(&net, &drive, 1, &power_w));
        double full = 20 + 0.3 * full_w / k_w_k * (1 - pow(decay, n));
        if (full < 159)
            check_near(nodes[1].temp_c, full, 1e-3);
        assert_true(nodes[0].temp_c < 160 && nodes[1].temp_c < 160);
    }
    /* Held: each gives what it loses, though one was full on for an hour and the other not. */
    check_near(loops[0].power_w, k_w_k * (nodes[0].temp_c - 20), 1);
    check_near(loops[1].power_w, k_w_k * (nodes[1].temp_c - 20), 1);
    check_near(nodes[0].temp_c, 160, 0.2);
    check_near(nodes[1].temp_c, 160, 0.2);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(zones_even_out_what_one_loop_leaves_cold),
        cmocka_unit_test(a_loop_answers_a_step_as_a_first_order_lag_and_does_not_overshoot),
        cmocka_unit_test(zones_cost_no_more_than_one_loop_where_the_load_is_even),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
