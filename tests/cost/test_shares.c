#include "money_case.h"

#include "cost/sides.h"

/* One vase of 300 mm among twenty mugs of 100 mm, all of one footprint, on one level of 300 mm. */
static void vase_among_mugs(money_case *on)
{
    case_opened(on);
    case_member(on, "vase", false);
    case_member(on, "mugs", false);
    int level = case_level(on, 0, 300, 500);
    int vase = case_piece(on, "vase", 40, 300), mug = case_piece(on, "mugs", 40, 100);
    for (int i = 0; i < 10; i++)
        case_put(on, 0, level, mug);
    case_put(on, 0, level, vase);
    for (int i = 0; i < 10; i++)
        case_put(on, 0, level, mug);
}

static double part_of_vase(money_case *on, ks_share_rule rule)
{
    on->options.rule = (int)rule;
    case_costed(on);
    const ks_piece_cost *vase = &on->costing.pieces[10];
    assert_string_equal(vase->owner, "vase");
    return vase->firing_part;
}

/* By hand: of 21 equal footprints one is 1/21; of boxes 300 in 300 + 20 x 100 is 3/23; of slices
 * the lowest third is shared by 21, the two above it are the vase's alone. */
static void a_tall_vase_among_mugs_pays_as_worked_by_hand(void **state)
{
    (void)state;
    money_case on;
    vase_among_mugs(&on);
    check_near(part_of_vase(&on, KS_SHARE_SHELF), 1.0 / 21, 1e-9);
    check_near(part_of_vase(&on, KS_SHARE_BOX), 3.0 / 23, 1e-9);
    check_near(part_of_vase(&on, KS_SHARE_SLICES), 1.0 / 3 / 21 + 2.0 / 3, 1e-9);
    check_near(part_of_vase(&on, KS_SHARE_COUNT), 1.0 / 21, 1e-9);
    check_near(part_of_vase(&on, KS_SHARE_MASS), 3.0 / 23, 1e-9);
    case_closed(&on);
}

static void the_bill_of_twenty_is_split_to_the_cent(void **state)
{
    (void)state;
    money_case on;
    vase_among_mugs(&on);
    on.options.rule = KS_SHARE_BOX;
    case_costed(&on);
    assert_int_equal(on.costing.total_minor, 2000);
    assert_int_equal(case_share(&on, "vase"), 261); /* 2000 x 3 / 23 = 260.87 */
    assert_int_equal(case_share(&on, "mugs"), 1739);
    on.options.rule = KS_SHARE_SHELF;
    case_costed(&on);
    assert_int_equal(case_share(&on, "vase"), 95); /* 95.24 */
    case_closed(&on);
}

static void slices_of_a_half_shelf_weigh_half(void **state)
{
    (void)state;
    money_case on;
    case_opened(&on);
    int whole = case_level(&on, 0, 100, 400), half = case_level(&on, 0, 100, 282.842712474619);
    int mug = case_piece(&on, "", 40, 100);
    case_put(&on, 0, whole, mug);
    case_put(&on, 0, half, mug);
    on.options.rule = KS_SHARE_SLICES;
    case_costed(&on);
    check_near(on.costing.pieces[0].firing_part, 2.0 / 3, 1e-6);
    case_closed(&on);
}

/* A bowl that stands on a plate fills only its own height. */
static void a_piece_on_another_counts_from_where_it_stands(void **state)
{
    (void)state;
    money_case on;
    case_opened(&on);
    int level = case_level(&on, 0, 300, 400);
    int plate = case_piece(&on, "", 50, 40), bowl = case_piece(&on, "", 50, 60);
    case_put(&on, 0, level, plate);
    case_put(&on, 0, level, bowl);
    ks_placed *above = &on.loads[0].levels[0].pieces[1];
    ks_part part = {KS_PART_BODY, 40, 100, on.pieces[bowl].parts[0].outline, {0}};
    above->parts = &part;
    above->top_mm = 100;
    for (int rule = KS_SHARE_BOX; rule <= KS_SHARE_SLICES; rule++) {
        on.options.rule = rule;
        case_costed(&on);
        check_near(on.costing.pieces[0].firing_part, 0.4, 1e-9);
        check_near(on.costing.pieces[1].firing_part, 0.6, 1e-9);
    }
    case_closed(&on);
}

/* A tile on its edge takes another area and height, and pays what one that lies flat does. */
static void a_piece_on_edge_pays_as_it_lies_flat(void **state)
{
    (void)state;
    money_case on;
    case_opened(&on);
    int level = case_level(&on, 0, 300, 400), tile = case_piece(&on, "", 50, 10);
    case_put(&on, 0, level, tile);
    case_put(&on, 0, level, tile);
    ks_placed *edge = &on.loads[0].levels[0].pieces[1];
    ks_part part = {KS_PART_BODY, 0, 100, ks_outline_rectangle(100, 10, 0, &on.arena), {0}};
    edge->parts = &part;
    edge->top_mm = 100;
    edge->pose = KS_ON_EDGE;
    edge->way = KS_EDGE;
    static const ks_share_rule rules[] = {KS_SHARE_BOX, KS_SHARE_SIDES};
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++) {
        on.options.rule = rules[i];
        case_costed(&on);
        check_near(on.costing.pieces[0].firing_part, 0.5, 1e-9);
        check_near(on.costing.pieces[1].firing_part, 0.5, 1e-9);
    }
    case_closed(&on);
}

/* One mug alone in the first load of 20.00, nineteen in the second: alone it pays 20.00, together
 * every mug pays 40.00 / 20. */
static void loads_together_make_pieces_alike_pay_alike(void **state)
{
    (void)state;
    money_case on;
    case_opened(&on);
    case_member(&on, "ann", false);
    on.plan.n_loads = 2;
    int mug = case_piece(&on, "ann", 40, 100);
    case_put(&on, 0, case_level(&on, 0, 300, 400), mug);
    int level = case_level(&on, 1, 300, 400);
    for (int i = 0; i < 19; i++)
        case_put(&on, 1, level, mug);
    for (int i = 0; i < 10; i++)
        on.loads[1].levels[0].pieces[i].owner = "";
    case_costed(&on);
    assert_int_equal(on.costing.pieces[0].firing, ks_minor_fine(2000));
    on.terms.pool = KS_LOADS_TOGETHER;
    case_costed(&on);
    for (int i = 0; i < 20; i++)
        assert_int_equal(on.costing.pieces[i].firing, ks_minor_fine(200));
    assert_int_equal(case_share(&on, "ann"), 2000);
    assert_int_equal(case_share(&on, ""), 2000);
    case_closed(&on);
}

static void a_guest_pays_by_the_guest_factor(void **state)
{
    (void)state;
    money_case on;
    case_opened(&on);
    case_member(&on, "member", false);
    case_member(&on, "guest", true);
    int level = case_level(&on, 0, 300, 400);
    case_put(&on, 0, level, case_piece(&on, "member", 40, 100));
    case_put(&on, 0, level, case_piece(&on, "guest", 40, 100));
    on.terms.guest_factor = 1.5;
    case_costed(&on);
    assert_int_equal(case_share(&on, "member"), 800);
    assert_int_equal(case_share(&on, "guest"), 1200);
    on.terms.guest_factor = 0; /* then the firing of a lone guest is the studio's */
    on.loads[0].levels[0].pieces[0].owner = "guest";
    case_costed(&on);
    assert_int_equal(case_share(&on, "guest"), 0);
    assert_int_equal(case_share(&on, ""), 2000);
    case_closed(&on);
}

static void empty_space_and_cones_are_the_studios_where_so_told(void **state)
{
    (void)state;
    money_case on;
    case_opened(&on);
    case_member(&on, "ann", false);
    int level = case_level(&on, 0, 200, 100); /* a shelf of 100 x 100 mm, 200 mm clear */
    ks_outline square = ks_outline_rectangle(50, 100, 0, &on.arena);
    int box = case_piece(&on, "ann", 40, 100);
    on.pieces[box].area_mm2 = ks_outline_area(&square);
    case_put(&on, 0, level, box);
    on.options.rule = KS_SHARE_SHELF;
    case_costed(&on);
    assert_int_equal(case_share(&on, "ann"), 2000);
    on.terms.empty_space = KS_PAID_STUDIO; /* half of the shelf is hers */
    case_costed(&on);
    assert_int_equal(case_share(&on, "ann"), 1000);
    assert_int_equal(case_share(&on, ""), 1000);
    case_cones(&on, 0, level); /* 60 x 25 of 10 000 mm2 */
    on.terms.empty_space = KS_PAID_SPREAD;
    on.terms.cones = KS_PAID_STUDIO;
    case_costed(&on);
    assert_int_equal(case_share(&on, ""), 462); /* 2000 x 1500 / 6500 */
    on.terms.cones = KS_PAID_SPREAD;
    case_costed(&on);
    assert_int_equal(case_share(&on, ""), 0);
    case_closed(&on);
}

/* A litre at 4.00, at least 1.00 a piece: a mug of 0.5027 litres 2.01, a thimble 1.00; the studio
 * bears the rest of the 20.00. */
static void at_a_fixed_rate_the_studio_takes_the_rest(void **state)
{
    (void)state;
    money_case on;
    case_opened(&on);
    case_member(&on, "ann", false);
    int level = case_level(&on, 0, 300, 400);
    case_put(&on, 0, level, case_piece(&on, "ann", 40, 100));
    case_put(&on, 0, level, case_piece(&on, "ann", 10, 10));
    on.options.rule = KS_SHARE_RATE;
    on.terms.rate_per_litre = 400 * KS_FINE;
    on.terms.rate_least_minor = 100;
    case_costed(&on);
    assert_int_equal(case_share(&on, "ann"), 301);
    assert_int_equal(case_share(&on, ""), 2000 - 301);
    on.terms.rate_per_litre = 10000 * KS_FINE; /* more than the bill: the studio's is a credit */
    case_costed(&on);
    assert_int_equal(case_share(&on, "ann"), 5027 + 100);
    assert_int_equal(case_share(&on, ""), 2000 - 5127);
    on.terms.rate_per_litre = on.terms.rate_least_minor = 0;
    assert_int_equal(case_status(&on), KS_BAD_INPUT);
    assert_non_null(strstr(on.err.text, "costs.share.per_litre"));
    case_closed(&on);
}

static void the_least_charge_lifts_only_who_has_ware(void **state)
{
    (void)state;
    money_case on;
    case_opened(&on);
    case_member(&on, "big", false);
    case_member(&on, "small", false);
    case_member(&on, "none", false);
    int level = case_level(&on, 0, 300, 400);
    case_put(&on, 0, level, case_piece(&on, "big", 100, 200));
    case_put(&on, 0, level, case_piece(&on, "small", 10, 10));
    on.terms.member_least_minor = 300;
    ks_extra credit = {1, "a broken mug", -120};
    on.terms.extras = &credit;
    on.terms.n_extras = 1;
    case_costed(&on);
    assert_int_equal(case_share(&on, "none"), 0);
    assert_int_equal(case_share(&on, "big"), 1999);
    assert_int_equal(case_share(&on, "small"), 300 - 120); /* credits come off the least charge */
    assert_int_equal(on.costing.total_minor, 2000 - 120);
    assert_int_equal(case_shares_sum(&on), on.costing.total_minor);
    case_closed(&on);
}

static void extras_fall_to_whom_they_name(void **state)
{
    (void)state;
    money_case on;
    case_opened(&on);
    case_member(&on, "ann", false);
    int level = case_level(&on, 0, 300, 400);
    case_put(&on, 0, level, case_piece(&on, "", 40, 100));
    ks_extra extras[] = {{0, "glaze run on a shelf", 650}, {-1, "open day", 900}};
    on.terms.extras = extras;
    on.terms.n_extras = 2;
    case_costed(&on);
    assert_int_equal(case_share(&on, "ann"), 650);
    assert_int_equal(case_share(&on, ""), 2000 + 900);
    case_closed(&on);
}

static void a_statement_tells_ware_sums_and_what_to_pay(void **state)
{
    (void)state;
    money_case on;
    vase_among_mugs(&on);
    on.order.studio = "Invented Studio";
    case_costed(&on);
    const char *text = ks_statement(&on.plan, &on.costing, 1, &on.arena);
    assert_non_null(strstr(text, "Invented Studio"));
    assert_non_null(strstr(text, "Statement for mugs"));
    assert_non_null(strstr(text, "     20  piece-1"));
    assert_non_null(strstr(text, "17.39 EUR  to pay"));
    assert_null(strstr(text, "piece-0"));
    case_closed(&on);
}

/* A mug of 80 mm with a handle that reaches 35 mm is 115 x 80; a tile of 150 x 100 is that however
 * it is turned (the sides of a 3-4-5 triangle); a disc is its diameter both ways. */
static void sides_are_what_a_ruler_tells(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_part mug[] = {{KS_PART_BODY, 0, 100, ks_outline_disc(5, -3, 40, &arena), {0}},
                     {KS_PART_BODY, 20, 80, {0}, {0}}};
    ks_outline handle = ks_outline_rectangle(50, 20, 0, &arena);
    mug[1].outline = ks_outline_place(&handle, (ks_stand){5 + 40 + 35 - 25, -3, 0}, &arena);
    ks_sides sides = ks_parts_sides(2, mug);
    check_near(sides.length_mm, 115, 1e-9);
    check_near(sides.width_mm, 80, 1e-9);
    check_near(sides.height_mm, 100, 1e-9);
    sides = ks_parts_sides(1, mug);
    check_near(sides.length_mm, 80, 1e-12);
    check_near(sides.width_mm, 80, 1e-12);
    static const ks_point turned[] = {{0, 0}, {120, 90}, {60, 170}, {-60, 80}};
    ks_part tile = {KS_PART_BODY, 0, 20, {4, turned, 0}, {0}};
    sides = ks_parts_sides(1, &tile);
    check_near(sides.length_mm, 150, 1e-9);
    check_near(sides.width_mm, 100, 1e-9);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tall_vase_among_mugs_pays_as_worked_by_hand),
        cmocka_unit_test(the_bill_of_twenty_is_split_to_the_cent),
        cmocka_unit_test(slices_of_a_half_shelf_weigh_half),
        cmocka_unit_test(a_piece_on_another_counts_from_where_it_stands),
        cmocka_unit_test(a_piece_on_edge_pays_as_it_lies_flat),
        cmocka_unit_test(loads_together_make_pieces_alike_pay_alike),
        cmocka_unit_test(a_guest_pays_by_the_guest_factor),
        cmocka_unit_test(empty_space_and_cones_are_the_studios_where_so_told),
        cmocka_unit_test(at_a_fixed_rate_the_studio_takes_the_rest),
        cmocka_unit_test(the_least_charge_lifts_only_who_has_ware),
        cmocka_unit_test(extras_fall_to_whom_they_name),
        cmocka_unit_test(a_statement_tells_ware_sums_and_what_to_pay),
        cmocka_unit_test(sides_are_what_a_ruler_tells),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
