#include "money_case.h"

#include "cost/batch.h"
#include "cost/piece_cost.h"
#include "cost/price.h"

/* A white of feldspar 60 and kaolin 40 parts with 5 % of a stain: a kilogram of the base is 0.6 kg
 * at 2.00 and 0.4 kg at 1.00, 1.60; with 5 % of 100.00 a kilogram it is (1.60 + 5.00) / 1.05. */
static ks_material materials[] = {{"feldspar", "feldspar", 1000, 5, ""},
                                  {"kaolin", "kaolin", 500, 5, ""},
                                  {"stain", "stain", 5000, 0.5, ""},
                                  {"bentonite", "bentonite", 100, 1, ""}};
static struct ks_recipe_line white_lines[] = {{0, 60, false}, {1, 40, false}, {2, 5, true}};
static ks_glaze glazes[] = {{.id = "white",
                             .name = "white",
                             .n_lines = 3,
                             .lines = white_lines,
                             .coats = 2,
                             .laid_g_per_m2_coat = 500}};

static void opened_with_a_glazed_mug(money_case *on)
{
    static int carried[] = {0};
    case_opened(on);
    on->order.n_materials = 4;
    on->order.materials = materials;
    on->order.n_glazes = 1;
    on->order.glazes = glazes;
    int level = case_level(on, 0, 300, 400), mug = case_piece(on, "", 40, 100);
    on->pieces[mug].n_glazes = 1;
    on->pieces[mug].glazes = carried;
    on->pieces[mug].surface_mm2 = 60000;
    case_put(on, 0, level, mug);
    case_put(on, 0, level, mug);
}

static void a_glaze_costs_its_base_and_its_additions(void **state)
{
    (void)state;
    money_case on;
    opened_with_a_glazed_mug(&on);
    double per_kg = (double)ks_glaze_per_kg(&on.order, &glazes[0]) / KS_FINE;
    check_near(per_kg, (160 + 500) / 1.05, 1e-5);
    check_near(ks_recipe_part(&glazes[0], 2), 5 / 105.0, 1e-12); /* 5 on 100, not 5 in 100 */
    case_closed(&on);
}

/* 600 cm2, two coats of 500 g/m2: 60 g a mug. For two mugs 120 g: 120/1.05 = 114.29 g of base. */
static void a_batch_is_what_the_load_carries(void **state)
{
    (void)state;
    money_case on;
    ks_batch *batches;
    opened_with_a_glazed_mug(&on);
    check_near(ks_glaze_on_piece_g(&glazes[0], &on.pieces[0]), 60, 1e-9);
    assert_int_equal(ks_glaze_batches(&on.plan, &on.arena, &batches), 1);
    check_near(batches[0].wanted_g, 120, 1e-9);
    check_near(batches[0].grams[0], 120 / 1.05 * 0.6, 1e-9);
    check_near(batches[0].grams[1], 120 / 1.05 * 0.4, 1e-9);
    check_near(batches[0].grams[2], 120 / 1.05 * 0.05, 1e-9);
    assert_int_equal(ks_fine_minor(batches[0].price), 75); /* 0.12 x 6.2857 = 0.7543 */
    on.pieces[0].stage = KS_BISQUE;
    assert_int_equal(ks_glaze_batches(&on.plan, &on.arena, &batches), 0);
    case_closed(&on);
}

static void one_glaze_stands_beside_itself_at_two_levels(void **state)
{
    (void)state;
    money_case on;
    ks_addition_level levels[2];
    double percents[] = {5, 10};
    int line;
    opened_with_a_glazed_mug(&on);
    assert_int_equal(
        ks_addition_levels(&on.order, 0, -1, 2, percents, &on.arena, levels, &line, &on.err),
        KS_OK);
    assert_int_equal(line, 2);
    assert_int_equal(levels[0].per_kg, ks_glaze_per_kg(&on.order, &glazes[0]));
    check_near((double)levels[1].per_kg / KS_FINE, (160 + 1000) / 1.10, 1e-5);
    check_near(white_lines[2].parts, 5, 0); /* the order's own recipe is left alone */
    assert_int_equal(
        ks_addition_levels(&on.order, 0, 3, 2, percents, &on.arena, levels, &line, &on.err),
        KS_BAD_INPUT);
    case_closed(&on);
}

static void glaze_on_the_shares_is_paid_by_who_wears_it(void **state)
{
    (void)state;
    money_case on;
    opened_with_a_glazed_mug(&on);
    case_member(&on, "ann", false);
    on.loads[0].levels[0].pieces[0].owner = "ann";
    case_costed(&on); /* each 0.060 kg x 628.57 = 37.71; together 75, the odd cent to the first */
    assert_int_equal(on.costing.total_minor, 2075);
    assert_int_equal(case_share(&on, "ann"), 1000 + 38);
    assert_int_equal(case_share(&on, ""), 1000 + 37);
    case_closed(&on);
}

/* Clay of 1.40 a kilogram wet. A bisque form of 0.40 kg was 0.40 / 0.93 dry and that / 0.8 wet. */
static void clay_is_paid_by_its_wet_mass(void **state)
{
    (void)state;
    money_case on;
    ks_clay clays[] = {{.id = "buff", .loss_on_ignition = 0.07, .price_minor_per_kg = 140}};
    opened_with_a_glazed_mug(&on);
    on.order.n_clays = 1;
    on.order.clays = clays;
    on.pieces[0].clay = 0;
    on.pieces[0].mass_kg = on.pieces[0].bare_mass_kg = 0.4;
    case_costed(&on);
    check_near((double)case_line(&on.costing.pieces[0].lines, "clay, buff, wet") / KS_FINE,
               0.4 / 0.93 / 0.8 * 140, 1e-5);
    on.pieces[0].has_setter = true;
    on.pieces[0].setter = (ks_setter){.kind = KS_PART_COOKIE, .clay = -1, .stage = KS_BISQUE};
    on.pieces[0].mass_kg = 0.5;
    case_costed(&on);
    check_near((double)case_line(&on.costing.pieces[0].lines, "setter and its bed, wet") / KS_FINE,
               0.1 / 0.93 / 0.8 * 140, 1e-5);
    on.pieces[0].setter.stage = KS_FIRED; /* used before: nothing is bought */
    on.pieces[0].setter.stage_told = true;
    case_costed(&on);
    assert_false(case_has_line(&on.costing.pieces[0].lines, "setter and its bed, wet"));
    case_closed(&on);
}

static void earlier_firings_are_told_or_marked_as_assumed(void **state)
{
    (void)state;
    money_case on;
    opened_with_a_glazed_mug(&on);
    on.pieces[0].earlier_firings = 1;
    case_costed(&on); /* half of 20.00, and three quarters of that */
    assert_int_equal(case_line(&on.costing.pieces[0].lines, "earlier firings"), ks_minor_fine(750));
    assert_int_equal(on.costing.n_assumed, 1);
    assert_non_null(strstr(on.costing.assumed[0], "earlier firing"));
    on.terms.earlier_told = true;
    on.terms.earlier_per_kg = 95 * KS_FINE;
    case_costed(&on); /* a kilogram */
    assert_int_equal(case_line(&on.costing.pieces[0].lines, "earlier firings"), ks_minor_fine(95));
    assert_int_equal(on.costing.n_assumed, 0);
    on.pieces[0].earlier_firings = 0; /* glazed raw and fired once */
    case_costed(&on);
    assert_false(case_has_line(&on.costing.pieces[0].lines, "earlier firings"));
    case_closed(&on);
}

/* A piece whose direct costs are given as labour alone. */
static ks_piece_cost priced(ks_money_terms terms, int64_t direct_minor)
{
    ks_arena arena = {0};
    ks_piece piece = {.id = "p", .clay = -1, .setter = {.clay = -1}};
    ks_piece_work work = {"all", 3600};
    ks_order order = {.currency = "USD", .pieces = &piece, .money = &terms};
    ks_plan plan = {.order = &order};
    ks_piece_cost cost = {.piece = 0};
    terms.labour_minor_h = direct_minor;
    terms.labour_told = true;
    terms.n_work = 1;
    terms.work = &work;
    cost.losses = terms.losses;
    ks_piece_costed(&plan, "", &cost, &arena);
    ks_arena_finish(&arena);
    cost.lines = (ks_cost_lines){0};
    return cost;
}

/* Published arithmetic of potters: a mug that cost 22.28 in all, wholesale at one and a half times,
 * 33.42, retail at twice the cost, 44.56 (a member's figures on a ceramics forum). (15 + 25) of
 * direct cost with half of it for overhead is 60 (an Australian ceramics association's page on
 * pricing). Twice the cost wholesale, and twice that retail (a clay teaching site). */
static void prices_come_out_as_potters_publish_them(void **state)
{
    (void)state;
    ks_piece_cost mug =
        priced((ks_money_terms){.wholesale_factor = 1.5, .retail_factor = 4 / 3.0}, 2228);
    assert_int_equal(mug.wholesale_minor, 3342);
    assert_int_equal(mug.retail_minor, 4456);
    ks_piece_cost bowl =
        priced((ks_money_terms){.overhead = 0.5, .wholesale_factor = 1, .retail_factor = 1}, 4000);
    assert_int_equal(bowl.cost_minor, 6000);
    ks_piece_cost plain = priced((ks_money_terms){.wholesale_factor = 2, .retail_factor = 2}, 1000);
    assert_int_equal(plain.wholesale_minor, 2000);
    assert_int_equal(plain.retail_minor, 4000);
}

/* Cost 10.00, 5 % lost, 40 % commission: 10 / (0.95 x 0.60) = 17.54. */
static void losses_and_commission_divide(void **state)
{
    (void)state;
    ks_piece_cost piece = priced(
        (ks_money_terms){
            .losses = 0.05, .commission = 0.4, .wholesale_factor = 1, .retail_factor = 1},
        1000);
    assert_int_equal(piece.cost_minor, 1053);
    assert_in_range(piece.consignment_minor, 1754, 1755); /* wholesale is whole cents on the way */
}

/* Tax of 19 %, of prices that leave 10.00 and 11.90: on top of 10.00 it is 1.90; 11.90 and 2.26 of
 * tax are 14.16, at the studio's own door as on a shop's ticket. */
static void tax_is_inside_or_on_top(void **state)
{
    (void)state;
    ks_money_terms terms = {.wholesale_factor = 1, .retail_factor = 1, .tax = 0.19};
    ks_piece_cost outside = priced(terms, 1000);
    assert_int_equal(outside.retail_minor, 1000);
    assert_int_equal(outside.tax_minor, 190);
    assert_int_equal(outside.shop_minor, 1190);
    assert_int_equal(outside.consignment_minor, 1000);
    terms.tax_inside = true;
    ks_piece_cost inside = priced(terms, 1190);
    assert_int_equal(inside.retail_minor, 1416);
    assert_int_equal(inside.tax_minor, 226);
    assert_int_equal(inside.shop_minor, 1416);
    assert_int_equal(inside.consignment_minor, 1416); /* 11.90 net, and 19 % */
}

static void prices_are_rounded_up_to_the_step(void **state)
{
    (void)state;
    ks_money_terms terms = {.wholesale_factor = 1, .retail_factor = 2, .round_to_minor = 50};
    assert_int_equal(priced(terms, 1001).wholesale_minor, 1050);
    assert_int_equal(priced(terms, 1000).wholesale_minor, 1000);
    assert_int_equal(priced(terms, 1001).retail_minor, 2050);
}

/* The firing is 20.00, a mug causes 5.00 of labour; sold at 9.00 each leaves 4.00: five pay for it.
 */
static void break_even_is_counted_in_pieces(void **state)
{
    (void)state;
    money_case on;
    ks_piece_work work = {"making", 3600};
    opened_with_a_glazed_mug(&on);
    on.pieces[0].n_glazes = 0;
    on.terms.n_work = 1;
    on.terms.work = &work;
    on.terms.labour_minor_h = 500;
    case_costed(&on);
    const ks_piece_cost *mug = &on.costing.pieces[0];
    assert_int_equal(mug->own, ks_minor_fine(500));
    assert_int_equal(ks_break_even(&on.plan, &on.costing, mug, 900), 5);
    assert_int_equal(ks_break_even(&on.plan, &on.costing, mug, 901), 5);
    assert_int_equal(ks_break_even(&on.plan, &on.costing, mug, 899), 6);
    assert_int_equal(ks_break_even(&on.plan, &on.costing, mug, 500), -1);
    on.terms.overhead = 1; /* both double */
    case_costed(&on);
    assert_int_equal(ks_break_even(&on.plan, &on.costing, &on.costing.pieces[0], 1800), 5);
    case_closed(&on);
}

/* A co-op's published charges by the bounding box: 3.75 x 3.75 x 4 in at 0.04 a cubic inch is 2.25,
 * 6 x 6 x 3.5 in 5.04, 6 x 4 x 4 in 3.84 (a communal studio's fee page). The rate here is by the
 * litre: 0.04 / 0.016387064. */
static void a_published_rate_by_volume_is_met(void **state)
{
    (void)state;
    static const struct {
        double width, depth, height;
        int64_t minor;
    } boxes[] = {{3.75, 3.75, 4, 225}, {6, 6, 3.5, 504}, {6, 4, 4, 384}, {3, 3, 3.75, 135}};
    for (int i = 0; i < 4; i++) {
        money_case on;
        case_opened(&on);
        case_member(&on, "ann", false);
        int level = case_level(&on, 0, 300, 400);
        int box = case_piece(&on, "ann", 40, boxes[i].height * 25.4);
        on.pieces[box].area_mm2 = boxes[i].width * boxes[i].depth * 25.4 * 25.4;
        case_put(&on, 0, level, box);
        on.options.rule = KS_SHARE_RATE;
        on.terms.rate_per_litre = (ks_fine)llround(4 / 0.016387064 * (double)KS_FINE);
        case_costed(&on);
        assert_int_equal(case_share(&on, "ann"), boxes[i].minor);
        case_closed(&on);
    }
}

/* An espresso cup of 3 minutes beside teapots of 10 + 4 at 30.00 an hour: 1.50 and 7.00. */
static void each_kind_is_charged_its_own_minutes(void **state)
{
    (void)state;
    money_case on;
    ks_piece_work lump = {"", 180}, steps[] = {{"throwing", 600}, {"handles", 240}},
                  all = {"making", 900};
    case_opened(&on);
    on.terms.labour_minor_h = 3000;
    on.terms.work = &all;
    int level = case_level(&on, 0, 300, 400);
    int cup = case_piece(&on, "", 30, 60), teapot = case_piece(&on, "", 80, 140),
        mug = case_piece(&on, "", 40, 100);
    on.pieces[cup].n_work = 1;
    on.pieces[cup].work = &lump;
    on.pieces[teapot].n_work = 2;
    on.pieces[teapot].work = steps;
    case_put(&on, 0, level, cup);
    case_put(&on, 0, level, teapot);
    case_put(&on, 0, level, mug);
    case_costed(&on);
    assert_int_equal(case_line(&on.costing.pieces[0].lines, "labour"), ks_minor_fine(150));
    assert_int_equal(case_line(&on.costing.pieces[1].lines, "labour, throwing"),
                     ks_minor_fine(500));
    assert_int_equal(case_line(&on.costing.pieces[1].lines, "labour, handles"), ks_minor_fine(200));
    assert_int_equal(case_line(&on.costing.pieces[2].lines, "labour, making"), ks_minor_fine(750));
    case_closed(&on);
}

static void without_minutes_no_price_is_proposed(void **state)
{
    (void)state;
    money_case on;
    case_opened(&on);
    on.terms.n_work = 0;
    int level = case_level(&on, 0, 300, 400), mug = case_piece(&on, "", 40, 100),
        cup = case_piece(&on, "", 30, 60);
    on.pieces[cup].n_work = 1;
    on.pieces[cup].work = &on.no_work;
    case_put(&on, 0, level, mug);
    case_put(&on, 0, level, cup);
    case_costed(&on);
    assert_false(on.costing.pieces[0].worked);
    assert_int_equal(on.costing.pieces[0].retail_minor, KS_NO_PRICE);
    assert_int_equal(on.costing.pieces[0].consignment_minor, KS_NO_PRICE);
    assert_true(on.costing.pieces[0].cost_minor > 0);
    assert_true(on.costing.pieces[1].retail_minor > 0); /* told as none */
    assert_non_null(strstr(on.costing.assumed[0], "no price is proposed for piece-0:"));
    on.terms.labour_told = false; /* minutes, but not what they are worth */
    case_costed(&on);
    assert_int_equal(on.costing.pieces[1].retail_minor, KS_NO_PRICE);
    assert_non_null(strstr(on.costing.assumed[0], "costs.labour.per_hour"));
    case_closed(&on);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_glaze_costs_its_base_and_its_additions),
        cmocka_unit_test(a_batch_is_what_the_load_carries),
        cmocka_unit_test(one_glaze_stands_beside_itself_at_two_levels),
        cmocka_unit_test(glaze_on_the_shares_is_paid_by_who_wears_it),
        cmocka_unit_test(clay_is_paid_by_its_wet_mass),
        cmocka_unit_test(earlier_firings_are_told_or_marked_as_assumed),
        cmocka_unit_test(prices_come_out_as_potters_publish_them),
        cmocka_unit_test(losses_and_commission_divide),
        cmocka_unit_test(tax_is_inside_or_on_top),
        cmocka_unit_test(prices_are_rounded_up_to_the_step),
        cmocka_unit_test(break_even_is_counted_in_pieces),
        cmocka_unit_test(a_published_rate_by_volume_is_met),
        cmocka_unit_test(each_kind_is_charged_its_own_minutes),
        cmocka_unit_test(without_minutes_no_price_is_proposed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
