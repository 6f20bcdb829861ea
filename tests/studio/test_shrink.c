#include "orders.h"

/* 100 / 94 / 93.5 / 88: a stoneware body as potters measure it on a bar. */
static struct ks_mark marks[] = {{"wet", 100}, {"dry", 94}, {"bisque", 93.5}, {"cone 6", 88}};
static const ks_clay body = {.id = "body", .bar = marks, .n_bar = 4};

/* ASTM C326: drying shrinkage in per cent of the plastic length, firing shrinkage in per cent of
 * the dry length, total in per cent of the plastic length (the definitions; from memory). */
static void shrinkage_is_measured_as_the_standard_defines_it(void **state)
{
    (void)state;
    static struct ks_mark bar[] = {{"wet", 100}, {"dry", 94}, {"fired", 94 * 0.93}};
    const ks_clay clay = {.bar = bar, .n_bar = 3};
    check_near(ks_clay_shrinkage(&clay, KS_LEATHER, KS_DRY, NULL), 0.06, 1e-12);
    check_near(ks_clay_shrinkage(&clay, KS_DRY, KS_FIRED, NULL), 0.07, 1e-12);
    check_near(ks_clay_shrinkage(&clay, KS_LEATHER, KS_FIRED, NULL), 0.1258, 1e-12);
}

static void a_stage_without_a_mark_counts_as_the_one_before(void **state)
{
    (void)state;
    check_near(ks_clay_shrinkage(&body, KS_LEATHER, KS_DRY, NULL), 0.06, 1e-12);
    check_near(ks_clay_shrinkage(&body, KS_BISQUE, KS_GLAZED, NULL), 0, 1e-12);
    check_near(ks_clay_shrinkage(&body, KS_BISQUE, KS_FIRED, "10"), 1 - 88 / 93.5, 1e-12);
    check_near(ks_clay_shrinkage(&body, KS_DRY, KS_FIRED, "06"), 1 - 93.5 / 94, 1e-12);
}

static void between_bisque_and_the_glaze_cone_shrinkage_grows(void **state)
{
    (void)state;
    double last = 0;
    for (int rank = ks_cone_rank("04"); rank <= ks_cone_rank("6"); rank++) {
        double now = ks_clay_shrinkage(&body, KS_BISQUE, KS_FIRED, ks_cone_name(rank));
        assert_true(now >= last && now <= 1 - 88 / 93.5 + 1e-12);
        last = now;
    }
    check_near(last, 1 - 88 / 93.5, 1e-12);
}

/* Half at drying, half a per cent at bisque, the rest at the glaze cone. */
static void a_total_alone_is_shared_among_the_stages(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    assert_int_equal(
        order_from("\"clays\": [{\"id\": \"a\", \"shrinkage\": 0.12}]", &arena, &order, &err),
        KS_OK);
    const ks_clay *clay = &order->clays[0];
    check_near(ks_clay_shrinkage(clay, KS_LEATHER, KS_DRY, NULL), 0.06, 1e-12);
    check_near(ks_clay_shrinkage(clay, KS_DRY, KS_BISQUE, NULL), 0.5 / 94, 1e-12);
    check_near(ks_clay_shrinkage(clay, KS_LEATHER, KS_FIRED, "6"), 0.12, 1e-12);
    ks_arena_finish(&arena);
}

/* A bisque form of 250 mm radius, its slab in another state: what the bar says by hand. */
static void travel_between_form_and_slab_depends_on_the_slabs_state(void **state)
{
    (void)state;
    static const struct {
        const char *stage;
        double on_slab_mm;
    } cases[] = {
        {"bisque", 0}, {"dry", 250 * (88 / 93.5 - 88.0 / 94)}, {"fired", 250 * (1 - 88 / 93.5)}};
    for (size_t i = 0; i < 3; i++) {
        ks_arena arena = {0};
        ks_order *order;
        char piece[300];
        (void)snprintf(piece, sizeof piece,
                       "{\"id\": \"form\", \"stage\": \"bisque\", \"diameter\": 500, \"height\": "
                       "300, \"setter\": {\"stage\": \"%s\"}}",
                       cases[i].stage);
        const ks_piece *form = piece_from(piece, &arena, &order);
        ks_travel travel = ks_piece_travel(form, order->clays, "6");
        check_near(travel.form_on_slab_mm, cases[i].on_slab_mm, 0.001);
        check_near(travel.expected_mm, cases[i].on_slab_mm, 0.001);
        check_near(travel.worst_mm, 2 * cases[i].on_slab_mm, 0.002);
        ks_arena_finish(&arena);
    }
    check_near(cases[1].on_slab_mm, 1.25, 0.005);
    check_near(cases[2].on_slab_mm, 14.7, 0.01);
}

static void without_a_slab_the_form_moves_over_the_shelf(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    const ks_piece *form = piece_from("{\"id\": \"form\", \"stage\": \"dry\", \"diameter\": 500, "
                                      "\"height\": 300}",
                                      &arena, &order);
    ks_travel travel = ks_piece_travel(form, order->clays, "6");
    check_near(travel.expected_mm, 250 * (1 - 88.0 / 94), 0.001);
    check_near(travel.worst_mm, 500 * (1 - 88.0 / 94), 0.001);
    check_near(travel.outward_mm, 0.007 * 250, 0.0006);
    check_near(travel.slab_rim_mm, 0, 0);
    ks_arena_finish(&arena);
}

/* However the slab shrinks beside its form, within what bodies do, every foot ends upon it. */
static void a_slab_holds_all_feet_when_both_have_shrunk(void **state)
{
    (void)state;
    static const char *const stages[] = {"dry", "bisque", "glazed", "fired"};
    for (int i = 0; i < 64; i++) {
        ks_arena arena = {0};
        ks_order *order;
        char piece[600];
        (void)snprintf(piece, sizeof piece,
                       "{\"id\": \"form\", \"stage\": \"%s\", \"parts\": ["
                       "{\"from\": 0, \"to\": 40, \"outline\": {\"circle\": [%d, 0, 30]}},"
                       "{\"from\": 0, \"to\": 40, \"outline\": {\"circle\": [-100, %d, 20]}},"
                       "{\"from\": 40, \"to\": 200, \"outline\": {\"rectangle\": [300, 200]}}], "
                       "\"setter\": {\"stage\": \"%s\"}}",
                       stages[i % 4], 50 + i * 3, i * 5, i / 4 % 2 ? "dry" : "fired");
        const ks_piece *form = piece_from(piece, &arena, &order);
        double form_shrinks = ks_clay_shrinkage(&order->clays[0], form->stage, KS_FIRED, "6");
        double slab_shrinks =
            ks_clay_shrinkage(&order->clays[0], form->setter.stage, KS_FIRED, "6");
        const ks_outline *slab = NULL;
        for (int j = 0; j < form->n_parts; j++)
            if (form->parts[j].kind == KS_PART_SLAB)
                slab = &form->parts[j].outline;
        assert_non_null(slab);
        ks_point middle = ks_outline_centroid(slab);
        for (int j = 0; j < form->n_parts; j++) {
            ks_part foot = form->parts[j];
            if (foot.kind != KS_PART_BODY || foot.from_mm > form->setter_mm)
                continue;
            /* Both shrink towards the slab's middle; distances grow by 1 / (1 - shrinkage). */
            double scale = (1 - form_shrinks) / (1 - slab_shrinks);
            ks_point at = {middle.x + (foot.outline.at[0].x - middle.x) * scale,
                           middle.y + (foot.outline.at[0].y - middle.y) * scale};
            ks_outline moved = {1, &at, foot.outline.round * scale};
            assert_true(ks_outline_inside(&moved, slab) >= 0);
        }
        ks_arena_finish(&arena);
    }
}

static void a_slab_with_too_little_margin_is_told_of(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    (void)piece_from("{\"id\": \"form\", \"stage\": \"fired\", \"diameter\": 400, \"height\": 100, "
                     "\"setter\": {\"stage\": \"dry\", \"margin\": 5}}",
                     &arena, &order);
    bool told = false;
    for (int i = 0; i < order->n_warnings; i++)
        told |= strstr(order->warnings[i], "shrinks more than the form") != NULL;
    assert_true(told);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shrinkage_is_measured_as_the_standard_defines_it),
        cmocka_unit_test(a_stage_without_a_mark_counts_as_the_one_before),
        cmocka_unit_test(between_bisque_and_the_glaze_cone_shrinkage_grows),
        cmocka_unit_test(a_total_alone_is_shared_among_the_stages),
        cmocka_unit_test(travel_between_form_and_slab_depends_on_the_slabs_state),
        cmocka_unit_test(without_a_slab_the_form_moves_over_the_shelf),
        cmocka_unit_test(a_slab_holds_all_feet_when_both_have_shrunk),
        cmocka_unit_test(a_slab_with_too_little_margin_is_told_of),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
