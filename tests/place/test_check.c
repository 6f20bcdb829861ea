#include "check.h"
#include "kilnstow/check.h"
#include "oracle_plan.h"

#include <string.h>

static const ks_rule_kept *kept(const ks_check_report *report, const char *rule)
{
    for (int i = 0; i < report->n_rules; i++)
        if (strcmp(report->rules[i].rule, rule) == 0)
            return &report->rules[i];
    return NULL;
}

static const ks_rule_broken *broken(const ks_check_report *report, const char *rule)
{
    for (int i = 0; i < report->n_broken; i++)
        if (strcmp(report->broken[i].rule, rule) == 0)
            return &report->broken[i];
    return NULL;
}

static void tell(const ks_check_report *report)
{
    for (int i = 0; i < report->n_broken; i++)
        print_error("%s: %s by %g %s\n", report->broken[i].rule, report->broken[i].where,
                    report->broken[i].by_mm, report->broken[i].unit);
}

static void a_good_plan_keeps_every_rule(void **state)
{
    (void)state;
    ks_arena arena = {0};
    small_plan small = small_plan_made(&arena);
    ks_check_report report;
    ks_check(small.plan, &arena, &report);
    if (!report.ok)
        tell(&report);
    assert_true(report.ok);
    for (int i = 0; i < report.n_rules; i++)
        assert_true(report.rules[i].tightest_mm >= -0.001);
    ks_arena_finish(&arena);
}

/* Worked out by hand from the places in oracle_plan.c. */
static void the_tightest_places_are_those_found_by_hand(void **state)
{
    (void)state;
    ks_arena arena = {0};
    small_plan small = small_plan_made(&arena);
    ks_check_report report;
    ks_check(small.plan, &arena, &report);
    const struct {
        const char *rule;
        double spare;
    } known[] = {
        {"ware", 85 - 45 - 30 - 6}, /* plate and the bowl's foot */
        {"under", 20 - 8 - 12},     /* the bowl's rim over the plate */
        {"wall", 250 - 210 - 20},   /* tester */
        {"lid", 400 - 205 - 120 - 13},
        {"above", 150 - 120 - 6},
        {"keep-outs", 60 - 40 - 5}, /* peephole over the lower shelf */
        {"support", 220 - 210 - 2},
        {"grog", 220 - 190 - 20},
        {"on", 0},
        {"floor posts", 25 - 13},
        {"shelf stock", 0},
        {"post stock", 0},
        {"kiln mass", 60 - 12 - 1.2 - 12 * 0.4},
        {"quotas", 14 - 12},
    };
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        const ks_rule_kept *rule = kept(&report, known[i].rule);
        assert_non_null(rule);
        if (fabs(rule->tightest_mm - known[i].spare) > 1e-6)
            print_error("%s at %s\n", rule->rule, rule->where);
        check_near(rule->tightest_mm, known[i].spare, 1e-6);
    }
    assert_string_equal(kept(&report, "under")->where, "load 1, level 2: plate-1 and bowl-1");
    ks_arena_finish(&arena);
}

static ks_clearance *clear_of(const small_plan *s, int which)
{
    return which ? &s->load->clearance : &s->kiln->clearance;
}

static void move_by(const small_plan *s, const char *id, int copy, double x, double y)
{
    ks_placed *placed = small_plan_find(s, id, copy);
    small_plan_move(s, placed, placed->stand.x + x, placed->stand.y + y, placed->stand.turn_deg);
}

static void flatten_a_part(const small_plan *s)
{
    s->load->levels[0].pieces[0].parts[0].to_mm = 0;
}

static void lower_a_clearance(const small_plan *s)
{
    s->load->clearance.ware = 1;
}

static void draw_a_wider_chamber(const small_plan *s)
{
    s->load->parts[0].outline = ks_outline_rectangle(520, 520, 0, s->arena);
}

static void drop_a_keep_out(const small_plan *s)
{
    s->load->n_keep_outs = 1;
}

static void fire_it_otherwise(const small_plan *s)
{
    s->load->firing.cone = "10";
}

static void ask_for_no_load(const small_plan *s)
{
    s->order->n_slots = 0;
}

static void draw_a_smaller_mug(const small_plan *s)
{
    small_plan_find(s, "mug", 2)->parts[1].outline.round -= 0.01;
}

static void call_a_mug_unglazed(const small_plan *s)
{
    small_plan_find(s, "mug", 2)->glazed = false;
}

static void call_a_pack_unglazed(const small_plan *s)
{
    small_plan_find(s, "cones", 1)->glazed = false;
}

static void shrink_a_pack(const small_plan *s)
{
    small_plan_find(s, "cones", 1)->parts[0].to_mm = 60;
}

static void draw_the_shape_elsewhere(const small_plan *s)
{
    small_plan_find(s, "mug", 2)->stand.x += 1;
}

static void turn_a_form_too_far(const small_plan *s)
{
    ks_placed *form = small_plan_find(s, "form", 1);
    small_plan_move(s, form, form->stand.x, form->stand.y, 45);
}

static void number_two_copies_alike(const small_plan *s)
{
    small_plan_find(s, "mug", 3)->copy = 2;
}

static void forget_the_vases(const small_plan *s)
{
    s->plan->n_left_out = 0;
}

static void bring_a_stranger(const small_plan *s)
{
    small_plan_find(s, "pot", 1)->piece = -1;
}

static void drop(const small_plan *s, const char *id, int copy, int piece)
{
    ks_level *level = &s->load->levels[1];
    ks_placed *gone = small_plan_find(s, id, copy);
    *gone = level->pieces[--level->n_pieces];
    s->plan->n_left_out = 2;
    ks_left_out *left = KS_TAKE(s->arena, 2, ks_left_out);
    left[0] = s->plan->left_out[0];
    left[1] = (ks_left_out){piece, id, 1, "no room left this time", "", "", {0}, {0}};
    s->plan->left_out = left;
}

static void leave_a_form_out(const small_plan *s)
{
    drop(s, "form", 2, FORM);
}

static void move_the_kept_piece(const small_plan *s)
{
    move_by(s, "tester", 1, -1, 0);
}

static void place_what_was_to_wait(const small_plan *s)
{
    s->order->pieces[POT].locked_out = true;
}

static void leave_the_lid_out(const small_plan *s)
{
    drop(s, "lid", 1, LID);
}

static void tag_the_bowl(const small_plan *s)
{
    s->order->pieces[BOWL].tags = 1;
}

static void give_the_mug_another_cone(const small_plan *s)
{
    s->order->pieces[MUG].cone_low = s->order->pieces[MUG].cone_high = "10";
}

static void cut_the_quota(const small_plan *s)
{
    s->order->members[0].quota_litres = 1;
}

static void take_the_top_cones_out(const small_plan *s)
{
    s->load->levels[1].n_pieces--;
}

static void push_the_pot_to_the_lid(const small_plan *s)
{
    move_by(s, "pot", 1, 55, 0);
}

static void ask_for_room_round_the_pot(const small_plan *s)
{
    s->order->pieces[POT].around_mm = small_plan_find(s, "pot", 1)->around_mm = 54;
}

static void ask_more_between_setters(const small_plan *s)
{
    for (int i = 0; i < 2; i++)
        clear_of(s, i)->setter = 60;
    s->order->pieces[POT].parts[0].kind = small_plan_find(s, "pot", 1)->parts[0].kind =
        KS_PART_SLAB;
    s->order->pieces[LID].parts[0].kind = small_plan_find(s, "lid", 1)->parts[0].kind =
        KS_PART_SLAB;
}

static void ask_more_under_the_rim(const small_plan *s)
{
    for (int i = 0; i < 2; i++)
        clear_of(s, i)->under = 13;
}

static void make_the_plate_runny(const small_plan *s)
{
    s->order->pieces[PLATE].runny = true;
}

static void ask_more_from_the_wall(const small_plan *s)
{
    for (int i = 0; i < 2; i++)
        clear_of(s, i)->wall = 45;
}

static void ask_more_under_the_lid(const small_plan *s)
{
    for (int i = 0; i < 2; i++)
        clear_of(s, i)->lid = 100;
}

static void ask_more_under_the_shelf(const small_plan *s)
{
    for (int i = 0; i < 2; i++)
        clear_of(s, i)->above = 35;
}

static void move_a_mug_to_a_post(const small_plan *s)
{
    move_by(s, "mug", 1, 0, 100);
}

static void widen_the_sensor(const small_plan *s)
{
    s->load->keep_outs[0].clearance_mm = s->kiln->keep_outs[0].clearance_mm = 61;
}

static void move_the_tester_to_the_edge(const small_plan *s)
{
    move_by(s, "tester", 1, 15, 0);
}

static void lift_the_pot(const small_plan *s)
{
    small_plan_find(s, "pot", 1)->parts[0].from_mm = 1;
}

static void move_the_bowl_over_the_edge(const small_plan *s)
{
    move_by(s, "bowl", 1, -60, 0);
}

static void move_the_grog_to_the_seam(const small_plan *s)
{
    move_by(s, "form", 2, -55, 0);
}

static void move_the_upper_tile(const small_plan *s)
{
    move_by(s, "tile", 2, 5, 0);
}

static void glaze_the_tiles(const small_plan *s)
{
    s->order->pieces[TILE].glazed = true;
    small_plan_find(s, "tile", 1)->glazed = small_plan_find(s, "tile", 2)->glazed = true;
}

static void set_the_tile_on_nothing(const small_plan *s)
{
    small_plan_find(s, "tile", 2)->on_copy = 7;
}

/* The upper tile lower by so much, or with another say in how it stands. */
static void sink_the_upper_tile(const small_plan *s)
{
    ks_placed *upper = small_plan_find(s, "tile", 2);
    upper->parts[0].from_mm -= 3;
    upper->parts[0].to_mm -= 3;
    upper->top_mm -= 3;
}

static void pile_tiles_that_may_not_be(const small_plan *s)
{
    small_plan_find(s, "tile", 2)->way = KS_PILE;
}

static void pile_on_a_set_down_form(const small_plan *s)
{
    small_plan_find(s, "tile", 1)->parts[0].kind = KS_PART_SLAB;
}

static void let_nothing_stand_on_rims(const small_plan *s)
{
    s->order->rules.stacking.rims = 1;
}

static void let_tiles_carry_half_their_mass(const small_plan *s)
{
    s->order->rules.stacking.carried = 0.5;
}

static void make_the_tester_a_lid(const small_plan *s)
{
    s->order->pieces[TESTER].lid_of = "tile";
    s->order->pieces[TESTER].glazed = small_plan_find(s, "tester", 1)->glazed = false;
    s->order->pieces[TILE].glazed = false;
}

static void put_the_foot_aside(const small_plan *s)
{
    s->order->pieces[MUG].parts[0].outline = ks_outline_disc(35, 0, 3, s->arena);
}

static void put_the_pot_on_a_peg(const small_plan *s)
{
    ks_part *parts = s->order->pieces[POT].parts;
    s->order->pieces[POT].n_parts = 2;
    parts[1] = (ks_part){KS_PART_BODY, 1, 100, parts[0].outline, {0}};
    parts[0] = (ks_part){KS_PART_FOOT, 0, 1, ks_outline_disc(0, 0, 3, s->arena), {0}};
}

static void make_the_door_low(const small_plan *s)
{
    s->kiln->loading = KS_FRONT_LOADER;
    s->kiln->opening_width_mm = 500;
    s->kiln->opening_height_mm = 100;
}

static void draw_a_larger_shelf(const small_plan *s)
{
    s->load->levels[0].shelves[0].outline = ks_outline_rectangle(450, 440, 0, s->arena);
}

static void draw_a_thinner_shelf(const small_plan *s)
{
    s->load->levels[0].shelves[0].thickness_mm = 10;
}

static void lap_the_half_shelves(const small_plan *s)
{
    ks_shelf *half = &s->load->levels[1].shelves[1];
    half->outline = ks_outline_place(&half->outline, (ks_stand){-3, 0, 0}, s->arena);
}

static void move_a_post_off_its_own(const small_plan *s)
{
    ks_post *post = &s->load->posts[6];
    post->outline = ks_outline_place(&post->outline, (ks_stand){30, 0, 0}, s->arena);
}

static void stand_a_post_on_the_top_level(const small_plan *s)
{
    ks_post *posts = KS_TAKE(s->arena, 9, ks_post);
    memcpy(posts, s->load->posts, 8 * sizeof *posts);
    posts[8] = posts[4];
    posts[8].from_mm = 205;
    posts[8].to_mm = 355;
    s->load->posts = posts;
    s->load->n_posts = 9;
}

static void take_a_post_away(const small_plan *s)
{
    s->load->n_posts = 7;
}

static void ask_for_taller_floor_posts(const small_plan *s)
{
    s->kiln->floor_post_least_mm = 30;
}

static void ask_for_more_over_the_floor(const small_plan *s)
{
    s->kiln->first_gap_mm = s->load->levels[0].gap_mm + 7;
}

static void ask_for_more_under_the_lid(const small_plan *s)
{
    s->kiln->top_gap_mm = s->load->levels[s->load->n_levels - 1].gap_mm + 4;
}

static void claim_a_taller_gap(const small_plan *s)
{
    s->load->levels[0].gap_mm = 155;
}

static void own_one_half_shelf(const small_plan *s)
{
    s->kiln->shelves[1].count = 1;
}

static void own_three_tall_posts(const small_plan *s)
{
    s->kiln->posts[2].count = 3;
}

static void invent_a_post(const small_plan *s)
{
    s->load->posts[4].heights_mm[0] = 90;
    s->load->posts[4].heights_mm[1] = 60;
}

static void make_the_forms_heavy(const small_plan *s)
{
    s->order->pieces[FORM].mass_kg = 15;
}

/* Nobody lifts 15 kg from a table down to the floor at arm's length. */
static void leave_one_to_lift(const small_plan *s)
{
    s->order->pieces[FORM].mass_kg = 15;
    s->order->rules.lifters = 1;
}

static void limit_the_kiln(const small_plan *s)
{
    s->kiln->mass_limit_kg = 15;
}

static void forget_the_last_step(const small_plan *s)
{
    s->load->n_steps--;
}

static void put_a_thing_twice(const small_plan *s)
{
    s->load->steps[s->load->n_steps++] = s->load->steps[2];
}

static void swap_steps(const small_plan *s, int i, int k)
{
    ks_step step = s->load->steps[i];
    s->load->steps[i] = s->load->steps[k];
    s->load->steps[k] = step;
}

static void put_the_bowl_before_the_plate(const small_plan *s)
{
    swap_steps(s, 10, 11);
}

static void put_the_shelf_before_its_posts(const small_plan *s)
{
    swap_steps(s, 0, 1);
}

static void put_the_upper_tile_first(const small_plan *s)
{
    swap_steps(s, 13, 14);
}

static void put_the_shelf_over_a_mug_first(const small_plan *s)
{
    swap_steps(s, 2, 8);
}

static void load_from_the_front(const small_plan *s)
{
    s->kiln->loading = KS_FRONT_LOADER;
    s->kiln->opening_width_mm = 500;
    s->kiln->opening_height_mm = 400;
}

static void leave_no_hand_room(const small_plan *s)
{
    load_from_the_front(s);
    s->order->rules.hand_room_mm = 200;
}

static const struct {
    const char *rule;
    void (*change)(const small_plan *small);
    double by; /* 0 = not told here */
} changes[] = {
    {"sound", flatten_a_part, 0},
    {"agrees", lower_a_clearance, 5},
    {"agrees", draw_a_wider_chamber, 0},
    {"agrees", drop_a_keep_out, 0},
    {"agrees", fire_it_otherwise, 0},
    {"agrees", ask_for_no_load, 0},
    {"shape", draw_a_smaller_mug, 0.01},
    {"shape", call_a_mug_unglazed, 0},
    {"shape", call_a_pack_unglazed, 0},
    {"shape", shrink_a_pack, 5},
    {"shape", draw_the_shape_elsewhere, 1},
    {"turn", turn_a_form_too_far, 45},
    {"counts", number_two_copies_alike, 1},
    {"counts", forget_the_vases, 2},
    {"counts", bring_a_stranger, 1},
    {"must go", leave_a_form_out, 1},
    {"kept", move_the_kept_piece, 1},
    {"kept", place_what_was_to_wait, 1},
    {"sets", leave_the_lid_out, 1},
    {"apart", tag_the_bowl, 1},
    {"suits", give_the_mug_another_cone, 1},
    {"quotas", cut_the_quota, 12 * 0.4 - 1},
    {"cones", take_the_top_cones_out, 1},
    {"ware", push_the_pot_to_the_lid, 0},
    {"ware", ask_for_room_round_the_pot, 0},
    {"setters", ask_more_between_setters, 0},
    {"under", ask_more_under_the_rim, 1},
    {"under", make_the_plate_runny, 0},
    {"wall", ask_more_from_the_wall, 5},
    {"lid", ask_more_under_the_lid, 25},
    {"above", ask_more_under_the_shelf, 5},
    {"near posts", move_a_mug_to_a_post, 0},
    {"keep-outs", widen_the_sensor, 1},
    {"support", move_the_tester_to_the_edge, 7},
    {"support", lift_the_pot, 1},
    {"overhang", move_the_bowl_over_the_edge, 10},
    {"grog", move_the_grog_to_the_seam, 6},
    {"on", move_the_upper_tile, 5},
    {"on", glaze_the_tiles, 6},
    {"on", set_the_tile_on_nothing, 0},
    {"insides", sink_the_upper_tile, 0},
    {"ways", pile_tiles_that_may_not_be, 0},
    {"carries", pile_on_a_set_down_form, 0},
    {"stack height", let_nothing_stand_on_rims, 1},
    {"carried", let_tiles_carry_half_their_mass, 0},
    {"lids", make_the_tester_a_lid, 1},
    {"stands", put_the_foot_aside, 0},
    {"tilt", put_the_pot_on_a_peg, 0},
    {"door", make_the_door_low, 35},
    {"shelves", draw_a_larger_shelf, 0},
    {"shelves", draw_a_thinner_shelf, 5},
    {"shelves", lap_the_half_shelves, 1},
    {"posts", move_a_post_off_its_own, 11},
    {"posts", stand_a_post_on_the_top_level, 0},
    {"three posts", take_a_post_away, 1},
    {"floor posts", ask_for_taller_floor_posts, 5},
    {"gaps", claim_a_taller_gap, 5},
    {"first gap", ask_for_more_over_the_floor, 7},
    {"top gap", ask_for_more_under_the_lid, 4},
    {"shelf stock", own_one_half_shelf, 1},
    {"post stock", own_three_tall_posts, 1},
    {"post stock", invent_a_post, 1},
    {"shelf mass", make_the_forms_heavy, 0},
    {"lifting", leave_one_to_lift, 0},
    {"kiln mass", limit_the_kiln, 3},
    {"steps", forget_the_last_step, 1},
    {"steps", put_a_thing_twice, 1},
    {"load order", put_the_bowl_before_the_plate, 1},
    {"load order", put_the_shelf_before_its_posts, 1},
    {"load order", put_the_upper_tile_first, 1},
    {"load order", put_the_shelf_over_a_mug_first, 0},
    {"load order", load_from_the_front, 1},
    {"hand room", leave_no_hand_room, 0},
};

static void each_rule_finds_the_plan_that_breaks_it(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof changes / sizeof *changes; i++) {
        ks_arena arena = {0};
        small_plan small = small_plan_made(&arena);
        ks_check_report report;
        changes[i].change(&small);
        ks_check(small.plan, &arena, &report);
        const ks_rule_broken *found = broken(&report, changes[i].rule);
        if (!found || (changes[i].by > 0 && fabs(found->by_mm - changes[i].by) > 1e-3)) {
            print_error("change %zu should break '%s' by %g; broken:\n", i + 1, changes[i].rule,
                        changes[i].by);
            tell(&report);
        }
        assert_non_null(found);
        assert_false(report.ok);
        if (changes[i].by > 0)
            check_near(found->by_mm, changes[i].by, 1e-3);
        ks_arena_finish(&arena);
    }
}

/* No rule stands in the report that no plan above breaks. */
static void every_rule_of_the_report_is_tried(void **state)
{
    (void)state;
    ks_arena arena = {0};
    small_plan small = small_plan_made(&arena);
    ks_check_report report;
    ks_check(small.plan, &arena, &report);
    for (int r = 0; r < report.n_rules; r++) {
        bool tried = false;
        for (size_t i = 0; i < sizeof changes / sizeof *changes; i++)
            tried |= strcmp(changes[i].rule, report.rules[r].rule) == 0;
        if (!tried)
            print_error("rule '%s' is not tried\n", report.rules[r].rule);
        assert_true(tried);
    }
    ks_arena_finish(&arena);
}

/* One thousandth is the plan's grid: as much is forgiven, more is not. */
static void a_thousandth_is_forgiven_and_no_more(void **state)
{
    (void)state;
    const double over[] = {0.0009, 0.0011};
    for (int i = 0; i < 2; i++) {
        ks_arena arena = {0};
        small_plan small = small_plan_made(&arena);
        for (int k = 0; k < 2; k++)
            clear_of(&small, k)->wall = 40 + over[i];
        ks_check_report report;
        ks_check(small.plan, &arena, &report);
        assert_true(report.ok == (i == 0));
        ks_arena_finish(&arena);
    }
}

static void an_empty_plan_keeps_its_rules(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order order = {0};
    ks_plan plan = {.order = &order};
    ks_check_report report;
    ks_check(&plan, &arena, &report);
    assert_true(report.ok);
    assert_true(isinf(kept(&report, "ware")->tightest_mm));
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_good_plan_keeps_every_rule),
        cmocka_unit_test(the_tightest_places_are_those_found_by_hand),
        cmocka_unit_test(each_rule_finds_the_plan_that_breaks_it),
        cmocka_unit_test(every_rule_of_the_report_is_tried),
        cmocka_unit_test(a_thousandth_is_forgiven_and_no_more),
        cmocka_unit_test(an_empty_plan_keeps_its_rules),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
