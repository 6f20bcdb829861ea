#include "check.h"
#include "edges.h"

/* Between pieces: each shape against each, corner to corner on the way (0.6, 0.8), so that their
 * distance is known by the triangle 3-4-5. */

static ks_piece *block(bare_plan *s, const char *id, shape_kind kind, double height)
{
    return bare_block(s, id, bare_shape(s, kind), height);
}

static void corners(bare_plan *s, const ks_piece *a, shape_kind ka, const ks_piece *b,
                    shape_kind kb, double apart)
{
    const ks_point from = {-90, -90};
    bare_put_corner(s, 0, a, ka, 1, from);
    bare_put_corner(s, 0, b, kb, -1, bare_along(from, bare_round(ka) + bare_round(kb) + apart));
}

/* Another stands by, far from both: the tightest pair is neither the first nor the only one. */
static void ware(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = block(s, "other", b, 60);
    bare_put(s, 0, one, 150, -150);
    corners(s, one, a, other, b, 6 + spare);
}

static void one_is_unglazed(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = block(s, "other", b, 60);
    other->glazed = false;
    corners(s, one, a, other, b, 6 + spare);
}

static void the_other_is_unglazed(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = block(s, "other", b, 60);
    one->glazed = false;
    corners(s, one, a, other, b, 6 + spare);
}

static void both_are_unglazed(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = block(s, "other", b, 60);
    one->glazed = other->glazed = false;
    if (a != CONCAVE || b != CONCAVE) {
        corners(s, one, a, other, b, spare);
        return;
    }
    bare_put_corner(s, 0, one, a, 1, (ks_point){-90, -90}); /* two sharp corners pass each other */
    bare_put_corner(s, 0, other, b, -1, (ks_point){-90 + spare, -95});
}

static void the_second_asks_for_more(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = block(s, "other", b, 60);
    one->around_mm = 7;
    other->around_mm = 9;
    corners(s, one, a, other, b, 9 + spare);
}

static void the_first_asks_for_more(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = block(s, "other", b, 60);
    one->around_mm = 9;
    one->glazed = other->glazed = false;
    corners(s, one, a, other, b, 9 + spare);
}

static void both_grow(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = block(s, "other", b, 60);
    one->outward_mm = 0.5;
    other->outward_mm = 0.25;
    corners(s, one, a, other, b, 6.75 + spare);
}

/* A small pot in the opening of a larger one: their boxes overlap all the way. */
static void in_a_notch(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", CONCAVE, 50);
    ks_piece *other = bare_block(s, "other", ks_outline_disc(0, 0, 10, s->arena), 50);
    bare_put(s, 0, one, 0, 0);
    bare_put(s, 0, other, 30, -4 + spare);
}

static void setters(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = block(s, "other", b, 60);
    one->parts[0].kind = KS_PART_SLAB;
    other->parts[0].kind = KS_PART_COOKIE;
    bare_put(s, 0, one, 150, -150);
    corners(s, one, a, other, b, 8 + spare);
}

static void a_setter_and_a_body(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = block(s, "other", b, 60);
    one->parts[0].kind = KS_PART_SLAB;
    corners(s, one, a, other, b, 6 + spare);
}

/* What stands on a foot in its middle, and begins to be broad at a height. */
static ks_piece *mushroom(bare_plan *s, const char *id, shape_kind kind, double from)
{
    ks_piece *piece = bare_block(s, id, ks_outline_disc(0, 0, 18, s->arena), from);
    bare_part(s, piece, KS_PART_BODY, from, from + 20, bare_shape(s, kind));
    return piece;
}

/* The corner of the other's body comes 3 mm over the first one, which is 50 high. */
static void under(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = mushroom(s, "other", b, 62 + spare);
    bare_put(s, 0, one, 150, -150);
    corners(s, one, a, other, b, -3);
}

/* Not over it, but nearer in plan than ware may be side by side. */
static void under_aslant(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = mushroom(s, "other", b, 62 + spare);
    corners(s, one, a, other, b, 3);
}

/* As high above it as you please, runny ware keeps its distance in plan. */
static void runny_below(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = mushroom(s, "other", b, 90);
    one->runny = true;
    corners(s, one, a, other, b, 6 + spare);
}

static void runny_above(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *one = block(s, "one", a, 50), *other = mushroom(s, "other", b, 90);
    other->runny = true;
    corners(s, one, a, other, b, 6 + spare);
}

/* Two half levels side by side, the right one 30 higher; ware may reach over its shelf's edge. */
static void two_columns(bare_plan *s)
{
    bare_clearance(s, &s->load->clearance.overhang, 60);
    bare_clearance(s, &s->load->clearance.under, 50);
    s->load->n_posts = s->kiln->n_posts = 0;
    for (int side = -1; side <= 1; side += 2)
        for (int k = -1; k <= 1; k++)
            bare_post(s, ks_outline_disc(side * (125 + 60 * k), k * k * 100, 15, s->arena), 0,
                      side < 0 ? 25 : 55);
    bare_shelf(s, 0, ks_outline_rectangle(248, 500, 0, s->arena), -125, 0);
    bare_add_level(s, 70, 330);
    bare_lay_shelf(s, 1, ks_outline_rectangle(248, 500, 0, s->arena), 125, 0);
}

/* From the left, where it stands higher up, over what stands on the right. */
static void over_the_next_column(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    two_columns(s);
    ks_piece *one = block(s, "one", a, 50), *other = mushroom(s, "other", b, 130 + spare);
    bare_put(s, 1, one, 50, 0);
    bare_put(s, 0, other, -24, 0);
}

static void beside_the_next_column(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    two_columns(s);
    ks_piece *one = block(s, "one", a, 50), *other = mushroom(s, "other", ROUNDED, 40);
    bare_put(s, 1, one, 62, 0);
    bare_put(s, 0, other, 62 - 86 - spare, 0);
}

static const edge rows[] = {
    {"ware", "side by side", ware, .kinds = 2, .where = "load 1, level 1: one-2 and other-1"},
    {"ware", "one is unglazed", one_is_unglazed, .kinds = 2},
    {"ware", "the other is unglazed", the_other_is_unglazed, .kinds = 2},
    {"ware", "both are unglazed", both_are_unglazed, .kinds = 2},
    {"ware", "one asks for more", the_second_asks_for_more, .kinds = 2},
    {"ware", "the first asks for more", the_first_asks_for_more, .kinds = 2},
    {"ware", "both grow in the firing", both_grow, .kinds = 2},
    {"ware", "one in the other's notch", in_a_notch, .kinds = 0},
    {"ware", "a setter and a body", a_setter_and_a_body, .kinds = 2},
    {"ware", "across columns", beside_the_next_column, .kinds = 1,
     .where = "load 1, level 1: other-1 and one-1"},
    {"setters", "side by side", setters, .kinds = 2, .where = "load 1, level 1: one-2 and other-1"},
    {"under", "overhanging", under, .kinds = 2, .where = "load 1, level 1: one-2 and other-1"},
    {"under", "close by", under_aslant, .kinds = 2},
    {"under", "runny below", runny_below, .kinds = 2, .told = "ware"},
    {"under", "runny above", runny_above, .kinds = 2, .told = "ware"},
    {"under", "across columns", over_the_next_column, .kinds = 2},
};

static void each_pair_is_known_to_a_hundredth(void **state)
{
    (void)state;
    edges_hold(rows, sizeof rows / sizeof *rows);
}

/* Right over it, with a shelf of its own between. */
static void ware_over_a_shelf(bare_plan *s)
{
    bare_upper_level(s, ks_outline_rectangle(400, 400, 0, s->arena), 0, 0);
    const ks_piece *one = block(s, "one", CIRCLE, 145);
    bare_put(s, 0, one, 0, 0);
    bare_put(s, 1, one, 0, 0);
}

static void runny_under_a_shelf(bare_plan *s)
{
    ware_over_a_shelf(s);
    s->order->pieces[0].runny = true;
}

/* High enough over each other, ware does not know the distance beside. */
static void high_over_it(bare_plan *s)
{
    ks_piece *one = block(s, "one", CIRCLE, 50), *other = mushroom(s, "other", CIRCLE, 70);
    corners(s, one, CIRCLE, other, CIRCLE, -10);
}

/* Parts of one stack touch. */
static void in_one_stack(bare_plan *s)
{
    ks_piece *one = block(s, "one", CIRCLE, 50);
    one->glazed = false;
    one->around_mm = 9;
    bare_put_on(s, one, bare_put(s, 0, one, 0, 0), 0, 0);
}

/* Less than `under` above it, a piece keeps away in plan: the nearer of the two counts. */
static void low_over_it(bare_plan *s, double apart)
{
    ks_piece *one = block(s, "one", CIRCLE, 50), *other = mushroom(s, "other", ROUNDED, 61);
    corners(s, one, CIRCLE, other, ROUNDED, apart);
}

static void low_but_aside(bare_plan *s)
{
    low_over_it(s, 6.01);
}

static void low_and_near(bare_plan *s)
{
    low_over_it(s, 5.99);
}

static void low_and_nearer(bare_plan *s)
{
    low_over_it(s, 3);
}

static const slip slips[] = {
    {"under", "a hundredth too near, 1 mm too low", low_and_near, .by = 0.01},
    {"under", "3 mm too near, 1 mm too low", low_and_nearer, .by = 1},
};

static void the_nearer_of_plan_and_height_counts(void **state)
{
    (void)state;
    slips_are_found(NULL, slips, sizeof slips / sizeof *slips);
}

static const keeper keepers[] = {
    {"ware", "low over it, but aside", low_but_aside, 0.01},
    {"ware", "a shelf between", ware_over_a_shelf, INFINITY},
    {"under", "a shelf between", ware_over_a_shelf, INFINITY},
    {"under", "runny, a shelf between", runny_under_a_shelf, INFINITY},
    {"under", "high over it", high_over_it, 8},
    {"ware", "in one stack", in_one_stack, INFINITY},
    {"under", "in one stack", in_one_stack, 0},
};

static void what_is_kept_is_not_called_broken(void **state)
{
    (void)state;
    keepers_are_kept(keepers, sizeof keepers / sizeof *keepers);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_pair_is_known_to_a_hundredth),
        cmocka_unit_test(the_nearer_of_plan_and_height_counts),
        cmocka_unit_test(what_is_kept_is_not_called_broken),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
