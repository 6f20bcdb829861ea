#include "orders.h"

static const double pi = 3.14159265358979323846;

static void a_mug_is_a_disc_on_a_foot_and_a_handle(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    const ks_piece *mug =
        piece_from("{\"id\": \"mug\", \"diameter\": 84, \"height\": 96, \"foot\": 72, \"handle\": "
                   "{\"reach\": 34, \"width\": 18, \"from\": 20, \"to\": 80}}",
                   &arena, &order);
    assert_int_equal(mug->n_parts, 3);
    assert_int_equal(mug->parts[0].kind, KS_PART_FOOT);
    check_near(mug->parts[0].outline.round, 36, 0);
    check_near(mug->parts[1].outline.round, 42, 0);
    check_near(mug->height_mm, 96, 0);
    check_near(mug->area_mm2, pi * 42 * 42 + 34 * 18, 40);
    check_near(mug->volume_mm3, mug->area_mm2 * 96, 1e-6);
    check_near(mug->turn_step_deg, 0, 0);
    assert_true(mug->glazed);
    ks_arena_finish(&arena);
}

static void a_plain_round_piece_is_not_turned(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    const ks_piece *bowl =
        piece_from("{\"id\": \"bowl\", \"profile\": [[0, 30], [60, 80]]}", &arena, &order);
    check_near(bowl->turn_step_deg, 360, 0);
    ks_arena_finish(&arena);
}

static void the_same_piece_in_inches_and_millimetres_is_the_same(void **state)
{
    (void)state;
    for (int i = 1; i <= 200; i += 3) {
        ks_arena arena = {0}, other = {0};
        ks_order *order;
        double diameter = i / 16.0 + 1, height = i / 32.0 + 2;
        char inches[300], mm[300];
        (void)snprintf(inches, sizeof inches,
                       "{\"id\": \"a\", \"diameter\": \"%.9g in\", \"height\": \"%.9g in\", "
                       "\"wet_ball\": \"%d oz\"}",
                       diameter, height, i);
        (void)snprintf(mm, sizeof mm,
                       "{\"id\": \"a\", \"diameter\": %.9g, \"height\": %.9g, \"wet_ball\": %.12g}",
                       diameter * 25.4, height * 25.4, i * 0.028349523125);
        const ks_piece *first = piece_from(inches, &arena, &order);
        const ks_piece *second = piece_from(mm, &other, &order);
        check_near(first->height_mm, second->height_mm, 0);
        check_near(first->area_mm2, second->area_mm2, 0);
        check_near(first->mass_kg, second->mass_kg, 1e-6);
        check_near(first->outward_mm, second->outward_mm, 0);
        ks_arena_finish(&arena);
        ks_arena_finish(&other);
    }
}

static void a_setter_lifts_the_form_by_slab_and_thickest_beds(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    const ks_piece *form =
        piece_from("{\"id\": \"form\", \"stage\": \"bisque\", \"diameter\": 200, \"height\": 300, "
                   "\"mass\": 6, \"setter\": {\"thickness\": 12, \"margin\": 20}}",
                   &arena, &order);
    assert_int_equal(form->n_parts, 4);
    const ks_part_kind kinds[] = {KS_PART_GROG, KS_PART_SLAB, KS_PART_GROG, KS_PART_BODY};
    const double tops[] = {5, 17, 22, 322}, radii[] = {120, 120, 100, 100};
    for (int i = 0; i < 4; i++) {
        assert_int_equal(form->parts[i].kind, kinds[i]);
        check_near(form->parts[i].to_mm, tops[i], 0);
        check_near(form->parts[i].outline.round, radii[i], 0);
    }
    check_near(form->setter_mm, 22, 0);
    check_near(form->bare_mass_kg, 6, 0);
    /* 2.2 kg/l fired, four fifths of that porous; beds of 1.2 kg/l, 3 mm each. */
    double slab = pi * 14400 * 12 * 2.2 * 0.8 / 1e6;
    double beds = pi * (14400 + 10000) * 3 * 1.2 / 1e6;
    check_near(form->mass_kg, 6 + slab + beds, 1e-5);
    assert_int_equal(form->setter.stage, KS_BISQUE);
    assert_false(form->glazed);
    ks_arena_finish(&arena);
}

static void separate_feet_share_one_slab(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    const ks_piece *gate = piece_from(
        "{\"id\": \"gate\", \"stage\": \"dry\", \"parts\": ["
        "{\"kind\": \"foot\", \"from\": 0, \"to\": 50, \"outline\": {\"circle\": [-80, 0, 20]}},"
        "{\"kind\": \"foot\", \"from\": 0, \"to\": 50, \"outline\": {\"circle\": [80, 0, 20]}},"
        "{\"from\": 50, \"to\": 90, \"outline\": {\"rectangle\": [240, 60]}}], "
        "\"setter\": {\"margin\": 15}}",
        &arena, &order);
    const ks_part *slab = &gate->parts[1];
    assert_int_equal(slab->kind, KS_PART_SLAB);
    ks_box box = ks_outline_box(&slab->outline);
    check_near(box.x1, 80 + 20 + 15, 0.06);
    check_near(box.y1, 20 + 15, 0.06);
    ks_arena_finish(&arena);
}

static void an_upturned_piece_has_its_heights_upside_down(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    const ks_piece *bowl = piece_from(
        "{\"id\": \"bowl\", \"stage\": \"bisque\", \"pose\": "
        "\"inverted\", \"closed\": true, \"diameter\": 120, \"height\": 60, \"foot\": 50}",
        &arena, &order);
    const ks_part *body = &bowl->parts[1];
    check_near(body->from_mm, 0, 0);
    check_near(body->to_mm, 57, 0);
    check_near(bowl->parts[0].from_mm, 57, 0);
    check_near(bowl->height_mm, 60, 0);
    ks_arena_finish(&arena);
}

static void a_tile_on_edge_stands_in_its_own_thickness(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    const ks_piece *tile = piece_from("{\"id\": \"tile\", \"stage\": \"bisque\", \"pose\": \"on "
                                      "edge\", \"width\": 150, \"depth\": 100, \"height\": 9}",
                                      &arena, &order);
    ks_box box = ks_outline_box(&tile->parts[0].outline);
    check_near(box.x1 - box.x0, 150, 0);
    check_near(box.y1 - box.y0, 9, 0);
    check_near(tile->height_mm, 100, 0);
    check_near(tile->wall_mm, 9, 0);
    ks_arena_finish(&arena);
}

/* A cylinder's centre of mass is half way up; tilted by 5 degrees it moves by h/2 tan 5. */
static void standing_is_judged_from_the_centre_of_mass(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    const ks_piece *tall =
        piece_from("{\"id\": \"tall\", \"diameter\": 80, \"height\": 400}", &arena, &order);
    check_near(ks_piece_stands_by(tall, 0), 40, 1e-9);
    check_near(ks_piece_stands_by(tall, 5), 40 - 200 * tan(5 * pi / 180), 1e-6);
    ks_arena_finish(&arena);
}

static void a_form_whose_weight_lies_beside_its_foot_falls(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    const ks_piece *leaning =
        piece_from("{\"id\": \"leaning\", \"parts\": ["
                   "{\"from\": 0, \"to\": 20, \"outline\": {\"circle\": [0, 0, 30]}},"
                   "{\"from\": 20, \"to\": 220, \"outline\": {\"circle\": [60, 0, 50]}}]}",
                   &arena, &order);
    assert_true(ks_piece_stands_by(leaning, 0) < 0);
    ks_arena_finish(&arena);
}

static void mass_comes_from_the_wet_ball_where_it_is_not_weighed(void **state)
{
    (void)state;
    static const struct {
        const char *stage;
        double share;
    } cases[] = {{"leather-hard", 0.9}, {"dry", 0.8}, {"bisque", 0.73}, {"glazed", 0.73}};
    for (size_t i = 0; i < 4; i++) {
        ks_arena arena = {0};
        ks_order *order;
        const ks_piece *bowl = piece_from(
            ks_arena_print(&arena,
                           "{\"id\": \"b\", \"diameter\": 120, \"height\": 60, \"wet_ball\": 0.5, "
                           "\"stage\": \"%s\"}",
                           cases[i].stage),
            &arena, &order);
        check_near(bowl->mass_kg, 0.5 * cases[i].share, 1e-6);
        assert_non_null(strstr(bowl->defaults, "mass from the wet ball"));
        ks_arena_finish(&arena);
    }
}

static void what_is_assumed_is_named(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    const ks_piece *bowl =
        piece_from("{\"id\": \"b\", \"diameter\": 120, \"height\": 60}", &arena, &order);
    assert_string_equal(bowl->defaults, "clay, profile, earlier firings, wall, mass");
    assert_string_equal(bowl->as_entered, "diameter 120 mm, height 60 mm");
    ks_arena_finish(&arena);
}

static void a_missing_price_takes_the_median_of_a_litre(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    ks_error err = {0};
    assert_int_equal(
        order_from(
            "\"rules\": {\"objective\": \"price\"}, \"ware\": ["
            "{\"id\": \"a\", \"width\": 100, \"depth\": 100, \"height\": 100, \"price\": 10},"
            "{\"id\": \"b\", \"width\": 100, \"depth\": 100, \"height\": 100, \"price\": 30},"
            "{\"id\": \"c\", \"width\": 100, \"depth\": 100, \"height\": 200}]",
            &arena, &order, &err),
        KS_OK);
    check_near(order->pieces[0].worth, 1000, 0);
    check_near(order->pieces[2].worth, 2 * 2000, 1e-9);
    assert_non_null(strstr(order->pieces[2].defaults, "worth"));
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_mug_is_a_disc_on_a_foot_and_a_handle),
        cmocka_unit_test(a_plain_round_piece_is_not_turned),
        cmocka_unit_test(the_same_piece_in_inches_and_millimetres_is_the_same),
        cmocka_unit_test(a_setter_lifts_the_form_by_slab_and_thickest_beds),
        cmocka_unit_test(separate_feet_share_one_slab),
        cmocka_unit_test(an_upturned_piece_has_its_heights_upside_down),
        cmocka_unit_test(a_tile_on_edge_stands_in_its_own_thickness),
        cmocka_unit_test(standing_is_judged_from_the_centre_of_mass),
        cmocka_unit_test(a_form_whose_weight_lies_beside_its_foot_falls),
        cmocka_unit_test(mass_comes_from_the_wet_ball_where_it_is_not_weighed),
        cmocka_unit_test(what_is_assumed_is_named),
        cmocka_unit_test(a_missing_price_takes_the_median_of_a_litre),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
