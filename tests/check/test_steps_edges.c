#include "check.h"
#include "edges.h"
#include "kilnstow/check.h"

/* Loading: every thing once, each when it can go in, with room for a hand. */

static ks_piece *block(bare_plan *s, const char *id, shape_kind kind, double height)
{
    return bare_block(s, id, bare_shape(s, kind), height);
}

/* A large piece goes in last, between two that stand left and right of it. */
static void hand_room(bare_plan *s, shape_kind a, double left, double right)
{
    bare_front_loader(s);
    s->order->rules.large_mm = 80;
    s->order->rules.hand_room_mm = 25;
    ks_piece *small = bare_block(s, "small", ks_outline_disc(0, 0, 20, s->arena), 50);
    bare_put(s, 0, small, -60 - left, 0);
    bare_put(s, 0, small, 60 + right, 0);
    bare_put(s, 0, block(s, "pot", a, 50), 0, 0);
}

static void hand_on_the_left(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    hand_room(s, a, 25 + spare, 10);
}

static void hand_on_the_right(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    hand_room(s, a, 10, 25 + spare);
}

/* Nothing but the walls beside it. */
static void hand_at_the_wall(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_front_loader(s);
    s->order->rules.large_mm = 80;
    s->order->rules.hand_room_mm = 260 - spare;
    bare_put(s, 0, block(s, "pot", a, 50), 0, 0);
}

/* The chamber's middle is not the piece's: each wall is as far as it is, and the other side full.
 */
static void hand_at_one_wall(bare_plan *s, shape_kind a, int side, double spare)
{
    bare_front_loader(s);
    bare_chamber(s, bare_square(s, -20 * side, 0, 600, 600));
    s->order->rules.large_mm = 80;
    s->order->rules.hand_room_mm = 240 - spare;
    ks_piece *small = bare_block(s, "small", ks_outline_disc(0, 0, 20, s->arena), 50);
    bare_put(s, 0, small, -70 * side, 0);
    bare_put(s, 0, block(s, "pot", a, 50), 0, 0);
}

static void hand_at_the_left_wall(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    hand_at_one_wall(s, a, -1, spare);
}

static void hand_at_the_right_wall(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    hand_at_one_wall(s, a, 1, spare);
}

/* A low cup amid tall ones 6 mm from it, `n` of six places taken; the hand room is a finger's 25
 * mm. It goes in first or last. */
static void ringed(bare_plan *s, int n, double height, bool first)
{
    s->order->rules.hand_room_mm = 25;
    ks_piece *low = block(s, "low", CIRCLE, 40);
    ks_piece *tall = bare_block(s, "tall", ks_outline_disc(0, 0, 34, s->arena), height);
    if (first)
        bare_put(s, 0, low, 0, 0);
    for (int i = 0; i < n; i++) {
        double up = i == 0 || i == 3 ? 0 : i < 3 ? 1 : -1;
        double along = i == 0 ? 1 : i == 3 ? -1 : i == 1 || i == 5 ? 0.5 : -0.5;
        bare_put(s, 0, tall, 80 * along, 80 * up * 0.8660254);
    }
    if (!first)
        bare_put(s, 0, low, 0, 0);
    bare_plan_list_steps(s);
}

static void low_into_a_ring(bare_plan *s)
{
    ringed(s, 6, 41, false);
}

static void low_before_the_ring_closes(bare_plan *s)
{
    ringed(s, 6, 100, true);
}

static void low_beside_an_open_ring(bare_plan *s)
{
    ringed(s, 5, 100, false);
}

static void as_low_as_its_ring(bare_plan *s)
{
    ringed(s, 6, 40, false);
}

static const slip ring_slips[] = {
    {"load order", "into a closed ring", low_into_a_ring, .by = 1,
     .where = "load 1, level 1: low-1"},
};

static const keeper ring_keepers[] = {
    {"load order", "before the ring closes", low_before_the_ring_closes, 0},
    {"load order", "where the ring is open", low_beside_an_open_ring, 0},
    {"load order", "as low as its ring", as_low_as_its_ring, 0},
};

static void low_ware_goes_in_before_its_ring_closes(void **state)
{
    (void)state;
    slips_are_found(NULL, ring_slips, 1);
    keepers_are_kept(ring_keepers, sizeof ring_keepers / sizeof *ring_keepers);
}

/* A post of 15 mm radius at 100, 100 on the shelf, and a cup as far from it as told. */
static int posts_remarked(double clear_mm, bool posts_first)
{
    ks_arena arena = {0};
    bare_plan s = bare_plan_made(&arena);
    ks_check_report report;
    s.order->rules.hand_room_mm = 25;
    bare_upper_level(&s, ks_outline_rectangle(500, 500, 0, s.arena), 0, 0);
    bare_put(&s, 0, block(&s, "cup", CIRCLE, 50), -100 + 15 + clear_mm + 40, 100);
    bare_plan_list_steps(&s); /* posts, shelf, cup, posts, shelf */
    if (posts_first) {
        ks_step step = s.load->steps[2];
        s.load->steps[2] = s.load->steps[3];
        s.load->steps[3] = step;
    }
    ks_check(s.plan, &arena, &report);
    assert_true(report.ok);
    for (int i = 0; i < report.n_remarks; i++) {
        assert_string_equal(report.remarks[i].rule, "posts first");
        assert_string_equal(report.remarks[i].where,
                            "load 1, level 1: cup-1 and a post that goes in after it");
    }
    int n = report.n_remarks;
    ks_arena_finish(&arena);
    return n;
}

static void posts_beside_ware_are_asked_for_first(void **state)
{
    (void)state;
    assert_int_equal(posts_remarked(25.01, false), 0);
    assert_int_equal(posts_remarked(24.99, false), 1);
    assert_int_equal(posts_remarked(10, true), 0);
}

static const edge rows[] = {
    {"hand room", "at the left wall", hand_at_the_left_wall, .kinds = 1},
    {"hand room", "at the right wall", hand_at_the_right_wall, .kinds = 1},
    {"hand room", "on the left", hand_on_the_left, .kinds = 1, .where = "load 1, level 1: pot-1"},
    {"hand room", "on the right", hand_on_the_right, .kinds = 1},
    {"hand room", "at the wall", hand_at_the_wall, .kinds = 1},
};

static void hand_room_is_known_to_a_hundredth(void **state)
{
    (void)state;
    edges_hold(rows, sizeof rows / sizeof *rows);
}

/* Two levels; on the lower one a low piece and one that overhangs it, and a stack of two. Steps: 0
 * posts, 1 shelf, 2 low, 3 wide, 4 stool, 5 lamp, 6 posts, 7 shelf, 8 upper. */
static void loaded(bare_plan *s)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    ks_piece *low = block(s, "low", CIRCLE, 40);
    ks_piece *wide = bare_block(s, "wide", ks_outline_disc(0, 0, 20, s->arena), 60);
    bare_part(s, wide, KS_PART_BODY, 60, 80, ks_outline_disc(0, 0, 60, s->arena));
    ks_piece *stool = block(s, "stool", CIRCLE, 40), *lamp = block(s, "lamp", CIRCLE, 40);
    stool->glazed = lamp->glazed = false;
    bare_put(s, 0, low, 0, 0);
    bare_put(s, 0, wide, 70, 0);
    bare_put_on(s, lamp, bare_put(s, 0, stool, -180, 100), -180, 100);
    bare_put(s, 1, block(s, "upper", CIRCLE, 40), 0, 0);
    bare_plan_list_steps(s);
}

static void swap(const bare_plan *s, int i, int k)
{
    ks_step step = s->load->steps[i];
    s->load->steps[i] = s->load->steps[k];
    s->load->steps[k] = step;
}

static void over_before_under(bare_plan *s)
{
    swap(s, 2, 3);
}

static void upper_of_a_stack_first(bare_plan *s)
{
    swap(s, 4, 5);
}

static void shelf_before_posts(bare_plan *s)
{
    swap(s, 6, 7);
}

static void floor_shelf_before_posts(bare_plan *s)
{
    swap(s, 0, 1);
}

static void posts_before_their_shelf(bare_plan *s)
{
    swap(s, 1, 6);
}

static void piece_before_its_shelf(bare_plan *s)
{
    swap(s, 7, 8);
}

static void shelf_over_what_is_not_in(bare_plan *s)
{
    ks_step low = s->load->steps[2];
    for (int i = 2; i < 8; i++)
        s->load->steps[i] = s->load->steps[i + 1];
    s->load->steps[8] = low;
}

static void forget(const bare_plan *s, int i)
{
    for (; i + 1 < s->load->n_steps; i++)
        s->load->steps[i] = s->load->steps[i + 1];
    s->load->n_steps--;
}

static void piece_forgotten(bare_plan *s)
{
    forget(s, 8);
}

static void shelf_forgotten(bare_plan *s)
{
    forget(s, 7);
}

static void posts_forgotten(bare_plan *s)
{
    forget(s, 6);
}

static void floor_posts_forgotten(bare_plan *s)
{
    forget(s, 0);
}

static void again(const bare_plan *s, int i)
{
    s->load->steps[s->load->n_steps++] = s->load->steps[i];
}

static void piece_twice(bare_plan *s)
{
    again(s, 8);
}

static void shelf_twice(bare_plan *s)
{
    again(s, 7);
}

static void change_last(const bare_plan *s, ks_step step)
{
    s->load->steps[s->load->n_steps++] = step;
}

static void step_of_no_level(bare_plan *s)
{
    change_last(s, (ks_step){KS_PUT_PIECE, 2, 0});
}

static void step_below_all_levels(bare_plan *s)
{
    change_last(s, (ks_step){KS_PUT_PIECE, -1, 0});
}

static void step_of_no_piece(bare_plan *s)
{
    change_last(s, (ks_step){KS_PUT_PIECE, 1, 1});
}

static void step_of_less_than_a_piece(bare_plan *s)
{
    change_last(s, (ks_step){KS_PUT_PIECE, 1, -1});
}

static void step_of_no_shelf(bare_plan *s)
{
    change_last(s, (ks_step){KS_PUT_SHELF, 1, 1});
}

static void posts_of_no_level(bare_plan *s)
{
    change_last(s, (ks_step){KS_PUT_POSTS, 2, -1});
}

static void posts_below_the_floor(bare_plan *s)
{
    change_last(s, (ks_step){KS_PUT_POSTS, -2, -1});
}

static const slip slips[] = {
    {"load order", "what is over before what is under", over_before_under, .by = 1,
     .where = "load 1, level 1: wide-1 and low-1"},
    {"load order", "the upper of a stack first", upper_of_a_stack_first, .by = 1,
     .where = "load 1, level 1: stool-1 and lamp-1"},
    {"load order", "a shelf before its posts", shelf_before_posts, .by = 1,
     .where = "load 1: posts"},
    {"load order", "the first shelf before its posts", floor_shelf_before_posts, .by = 1},
    {"load order", "posts before their shelf", posts_before_their_shelf, .by = 0},
    {"load order", "a piece before its shelf", piece_before_its_shelf, .by = 1,
     .where = "load 1, level 2: upper-1"},
    {"load order", "a shelf over what is not in", shelf_over_what_is_not_in, .by = 2,
     .where = "load 1, level 1: low-1 and the shelf over it"},
    {"steps", "a piece forgotten", piece_forgotten, .by = 1, .where = "load 1, level 2: upper-1"},
    {"steps", "a shelf forgotten", shelf_forgotten, .by = 1, .where = "load 1, level 2: second"},
    {"steps", "posts forgotten", posts_forgotten, .by = 1, .where = "load 1: posts"},
    {"steps", "floor posts forgotten", floor_posts_forgotten, .by = 1},
    {"steps", "a piece twice", piece_twice, .by = 1, .where = "load 1: step 10",
     .also = "load order"},
    {"steps", "a shelf twice", shelf_twice, .by = 1, .also = "load order"},
    {"steps", "of no level", step_of_no_level, .by = 1, .where = "load 1: step 10"},
    {"steps", "below all levels", step_below_all_levels, .by = 1},
    {"steps", "of no piece", step_of_no_piece, .by = 1},
    {"steps", "of less than a piece", step_of_less_than_a_piece, .by = 1},
    {"steps", "of no shelf", step_of_no_shelf, .by = 1},
    {"steps", "posts of no level", posts_of_no_level, .by = 1},
    {"steps", "posts below the floor", posts_below_the_floor, .by = 1},
};

static void what_cannot_be_loaded_so_is_found(void **state)
{
    (void)state;
    slips_are_found(loaded, slips, sizeof slips / sizeof *slips);
}

/* From the front: what stands before another, in its straight way, goes in after it. */
static void behind(bare_plan *s, shape_kind a, shape_kind b, double aside)
{
    bare_front_loader(s);
    bare_put(s, 0, block(s, "near", a, 50), 0, -100);
    bare_put(s, 0, block(s, "far", b, 50), aside, 100);
    bare_plan_list_steps(s);
}

static void behind_a_circle(bare_plan *s)
{
    behind(s, CIRCLE, CIRCLE, 80 - 0.01);
}

static void behind_a_rounded_one(bare_plan *s)
{
    behind(s, ROUNDED, ROUNDED, -80 + 0.01);
}

static void behind_a_concave_one(bare_plan *s)
{
    behind(s, CONCAVE, CONCAVE, -80 + 0.01);
}

/* Only its handle is in the way. */
static void behind_with_a_handle(bare_plan *s)
{
    bare_front_loader(s);
    ks_piece *near = block(s, "near", CIRCLE, 50), *far = block(s, "far", CIRCLE, 50);
    bare_part(s, near, KS_PART_BODY, 20, 30, bare_square(s, 50, 0, 30, 10));
    bare_part(s, far, KS_PART_BODY, 20, 30, bare_square(s, -50, 0, 30, 10));
    bare_put(s, 0, near, 0, -100);
    bare_put(s, 0, far, 100, 100);
    bare_plan_list_steps(s);
}

static void no_room_for_a_hand(bare_plan *s)
{
    hand_room(s, CIRCLE, 10, 10);
}

static const slip front_slips[] = {
    {"load order", "behind a circle", behind_a_circle, .by = 1,
     .where = "load 1, level 1: near-1 and far-1"},
    {"load order", "behind a rounded one", behind_a_rounded_one, .by = 1},
    {"load order", "behind a concave one", behind_a_concave_one, .by = 1},
    {"load order", "behind a handle", behind_with_a_handle, .by = 1},
    {"hand room", "between two", no_room_for_a_hand, .by = 15},
};

static void what_is_shut_out_is_found(void **state)
{
    (void)state;
    slips_are_found(NULL, front_slips, sizeof front_slips / sizeof *front_slips);
}

static void just_beside_a_circle(bare_plan *s)
{
    behind(s, CIRCLE, CIRCLE, 80);
}

static void just_beside_a_rounded_one(bare_plan *s)
{
    behind(s, ROUNDED, ROUNDED, -80);
}

static void just_beside_a_concave_one(bare_plan *s)
{
    behind(s, CONCAVE, CONCAVE, -80);
}

/* The same order, from above. */
static void lowered_in(bare_plan *s)
{
    behind(s, CIRCLE, CIRCLE, 0);
    s->kiln->loading = KS_TOP_LOADER;
}

static void the_near_one_last(bare_plan *s)
{
    behind(s, CIRCLE, CIRCLE, 0);
    swap(s, 2, 3);
}

/* One passes over the other: their heights do not meet. */
static void passes_over(bare_plan *s)
{
    bare_front_loader(s);
    ks_piece *near = block(s, "near", CIRCLE, 40), *far = block(s, "far", CIRCLE, 100);
    far->parts[0].outline = ks_outline_disc(0, 0, 20, s->arena);
    far->parts[0].to_mm = 60;
    bare_part(s, far, KS_PART_BODY, 60, 100, bare_shape(s, CIRCLE));
    bare_put(s, 0, near, -70, -100);
    bare_put(s, 0, far, 0, 100);
}

/* What a shelf does not cover goes in before it or after it. */
static void beside_a_shelf_that_is_in(bare_plan *s)
{
    bare_upper_level(s, ks_outline_rectangle(300, 300, 0, s->arena), 0, 0);
    bare_put(s, 0, block(s, "pot", CIRCLE, 50), 200, 0);
    bare_plan_list_steps(s);
    swap(s, 2, 3);
    swap(s, 3, 4); /* posts, shelf, posts, shelf, pot */
}

static void too_small_to_need_a_hand(bare_plan *s)
{
    hand_room(s, CIRCLE, 10, 10);
    s->order->rules.large_mm = 80.01;
}

static void no_hand_from_above(bare_plan *s)
{
    hand_room(s, CIRCLE, 10, 10);
    s->kiln->loading = KS_TOP_LOADER;
}

/* What goes in later, stands farther back or on another level takes no room. */
static void hand_before_the_others(bare_plan *s)
{
    hand_room(s, CIRCLE, 10, 10);
    bare_plan_list_steps(s);
    swap(s, 2, 4);
}

static void others_behind(bare_plan *s)
{
    bare_front_loader(s);
    s->order->rules.large_mm = 80;
    s->order->rules.hand_room_mm = 25;
    ks_piece *small = bare_block(s, "small", ks_outline_disc(0, 0, 20, s->arena), 50);
    bare_put(s, 0, small, -61, 61);
    bare_put(s, 0, small, 61, 61);
    bare_put(s, 0, block(s, "pot", CIRCLE, 50), 0, 0);
}

static const keeper keepers[] = {
    {"load order", "just beside a circle", just_beside_a_circle, 0},
    {"load order", "just beside a rounded one", just_beside_a_rounded_one, 0},
    {"load order", "just beside a concave one", just_beside_a_concave_one, 0},
    {"load order", "from above", lowered_in, 0},
    {"load order", "the near one last", the_near_one_last, 0},
    {"load order", "passing over it", passes_over, 0},
    {"load order", "beside a shelf that is in", beside_a_shelf_that_is_in, 0},
    {"hand room", "too small to need one", too_small_to_need_a_hand, INFINITY},
    {"hand room", "none from above", no_hand_from_above, INFINITY},
    {"hand room", "before the others", hand_before_the_others, 235},
    {"hand room", "others stand behind", others_behind, 235},
};

static void what_is_kept_is_not_called_broken(void **state)
{
    (void)state;
    keepers_are_kept(keepers, sizeof keepers / sizeof *keepers);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hand_room_is_known_to_a_hundredth),
        cmocka_unit_test(what_cannot_be_loaded_so_is_found),
        cmocka_unit_test(low_ware_goes_in_before_its_ring_closes),
        cmocka_unit_test(posts_beside_ware_are_asked_for_first),
        cmocka_unit_test(what_is_shut_out_is_found),
        cmocka_unit_test(what_is_kept_is_not_called_broken),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
