#include "money_case.h"

/* The shipped example's kiln, with ware set by hand and fired in earnest. */
typedef struct {
    ks_order *order;
    money_case on;
} real_case;

/* `n` copies of the order's first piece that can be fired to its cone, on each of two levels. */
static void real_opened(real_case *real, int n)
{
    money_case *on = &real->on;
    case_opened(on);
    ks_status status =
        ks_order_read("examples/mugs/order.json", "kilns", &on->arena, &real->order, &on->err);
    if (status)
        print_error("%s\n", on->err.text);
    assert_int_equal(status, KS_OK);
    ks_load *load = &on->loads[0];
    const ks_kiln *kiln = &real->order->kilns[0];
    load->kiln_id = kiln->id;
    load->firing = real->order->firings[0];
    load->day = 20000;
    load->height_mm = kiln->height_mm;
    load->n_parts = kiln->n_parts;
    load->parts = kiln->parts;
    on->plan.order = real->order;
    const ks_piece *piece = &real->order->pieces[0];
    for (int v = 0; v < 2; v++) {
        int level = case_level(on, 0, piece->height_mm + 10, 400);
        ks_level *of = &load->levels[level];
        of->z_mm = 40 + 150 * v;
        of->shelves[0].id = kiln->shelves[0].id;
        of->shelves[0].thickness_mm = kiln->shelves[0].thickness_mm;
        for (int i = 0; i < n; i++)
            of->pieces[of->n_pieces++] = (ks_placed){.piece = 0,
                                                     .id = piece->id,
                                                     .owner = "",
                                                     .copy = n * v + i + 1,
                                                     .top_mm = piece->height_mm,
                                                     .n_parts = piece->n_parts,
                                                     .parts = piece->parts};
    }
}

static void real_costed(real_case *real)
{
    ks_fire_options options = ks_fire_default();
    options.cooling = false;
    assert_int_equal(
        ks_fire(&real->on.plan, &options, &real->on.arena, &real->on.fired[0], &real->on.err),
        KS_OK);
    case_costed(&real->on);
}

static void energy_lines_come_from_the_simulated_curve(void **state)
{
    (void)state;
    real_case real;
    real_opened(&real, 8);
    real_costed(&real);
    const ks_firing_result *fired = &real.on.fired[0];
    double kwh = 0;
    for (int i = 1; i < fired->n_points; i++)
        kwh += fired->points[i].power_kw * (fired->points[i].time_h - fired->points[i - 1].time_h);
    check_near(kwh, fired->energy.total, 1e-6 * fired->energy.total);
    check_near(real.on.costing.loads[0].kwh, kwh, 1e-6 * kwh);
    case_closed(&real.on);
}

static void more_ware_never_lowers_the_bill(void **state)
{
    (void)state;
    int64_t before = 0;
    for (int n = 1; n <= 16; n += 5) {
        real_case real;
        real_opened(&real, n);
        real_costed(&real);
        assert_true(real.on.costing.total_minor >= before);
        before = real.on.costing.total_minor;
        case_closed(&real.on);
    }
}

static const ks_what_if *changed(const ks_what_if *lines, int n, const char *start)
{
    for (int i = 0; i < n; i++)
        if (strncmp(lines[i].change, start, strlen(start)) == 0)
            return &lines[i];
    fail_msg("no line %s", start);
    return NULL;
}

static void changes_move_the_price_the_way_they_must(void **state)
{
    (void)state;
    real_case real;
    ks_what_if *lines;
    int n;
    real_opened(&real, 10);
    real_costed(&real);
    const ks_piece_cost *mug = &real.on.costing.pieces[0];
    assert_int_equal(ks_cost_what_if(&real.on.plan, real.on.fired, &real.on.options, mug,
                                     &real.on.arena, &n, &lines, &real.on.err),
                     KS_OK);
    const ks_what_if *plan = changed(lines, n, "as planned");
    assert_int_equal(plan->cost_minor, mug->cost_minor);
    assert_int_equal(plan->bill_minor, real.on.costing.loads[0].total_minor);
    const ks_what_if *shelf = changed(lines, n, "one more shelf");
    assert_true(shelf->kwh > plan->kwh && shelf->cost_minor < plan->cost_minor);
    const ks_what_if *fuller = changed(lines, n, "a tenth more");
    assert_true(fuller->kwh > plan->kwh && fuller->cost_minor < plan->cost_minor);
    const ks_what_if *half = changed(lines, n, "half");
    assert_true(half->kwh < plan->kwh && half->cost_minor > plan->cost_minor);
    const ks_what_if *cooler = changed(lines, n, "one cone lower, 5");
    assert_true(cooler->worked && cooler->kwh < plan->kwh);
    const ks_what_if *slow = changed(lines, n, "a quarter slower");
    assert_true(slow->kwh > plan->kwh && slow->cost_minor >= plan->cost_minor);
    assert_int_equal(real.on.loads[0].n_levels, 2); /* the plan itself is left alone */
    assert_int_equal(real.on.loads[0].levels[0].n_pieces, 10);
    assert_string_equal(real.on.loads[0].firing.cone, "6");
    case_closed(&real.on);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(energy_lines_come_from_the_simulated_curve),
        cmocka_unit_test(more_ware_never_lowers_the_bill),
        cmocka_unit_test(changes_move_the_price_the_way_they_must),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
