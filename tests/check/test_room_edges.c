#include "check.h"
#include "edges.h"

/* Between a piece and the kiln: walls, lid, shelves of other levels, posts, keep-outs, the door. */

static ks_piece *block(bare_plan *s, shape_kind kind, double height)
{
    return bare_block(s, "pot", bare_shape(s, kind), height);
}

/* On a foot in its middle, broad from a height on. */
static ks_piece *mushroom(bare_plan *s, shape_kind kind, double from, double to)
{
    ks_piece *piece = bare_block(s, "pot", ks_outline_disc(0, 0, 18, s->arena), from);
    bare_part(s, piece, KS_PART_BODY, from, to, bare_shape(s, kind));
    return piece;
}

/* A chamber and a shelf in it of one kind. */
static void rooms(bare_plan *s, shape_kind kind)
{
    const ks_outline chambers[] = {ks_outline_disc(0, 0, 300, s->arena),
                                   ks_outline_rectangle(600, 600, 100, s->arena), bare_ell(s, 600)};
    const ks_outline shelves[] = {ks_outline_disc(0, 0, 275, s->arena),
                                  ks_outline_rectangle(520, 520, 0, s->arena), bare_ell(s, 500)};
    bare_clearance(s, &s->load->clearance.overhang, 100);
    bare_chamber(s, chambers[kind]);
    bare_shelf(s, 0, shelves[kind], 0, 0);
}

/* Where a corner rounded by `round` is `slack` from the chamber's edge: at a circle, in a rounded
 * corner, and before a corner that comes to meet it. */
static ks_point at_wall(shape_kind chamber, double round, double slack)
{
    if (chamber == CIRCLE)
        return bare_along((ks_point){0, 0}, 300 - round - slack);
    if (chamber == ROUNDED)
        return bare_along((ks_point){200, 200}, 100 - round - slack);
    return bare_along((ks_point){0, 0}, -round - slack);
}

static void wall(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    rooms(s, b);
    bare_put_corner(s, 0, mushroom(s, a, 20, 50), a, 1, at_wall(b, bare_round(a), 20 + spare));
}

static void wall_when_grown(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    rooms(s, b);
    ks_piece *pot = mushroom(s, a, 20, 50);
    pot->outward_mm = 0.5;
    bare_put_corner(s, 0, pot, a, 1, at_wall(b, bare_round(a), 20.5 + spare));
}

/* A chamber that is narrow below 150 or above it. */
static void two_parts(bare_plan *s, bool narrow_above)
{
    ks_outline wide = bare_square(s, 0, 0, 600, 600), narrow = ks_outline_disc(0, 0, 200, s->arena);
    bare_shelf(s, 0, ks_outline_disc(0, 0, 195, s->arena), 0, 0);
    bare_clearance(s, &s->load->clearance.overhang, 100);
    for (int i = 0; i < 2; i++) {
        ks_chamber_part *parts = i ? s->kiln->parts : s->load->parts;
        parts[0] = (ks_chamber_part){0, 150, narrow_above ? wide : narrow};
        parts[1] = (ks_chamber_part){150, 400, narrow_above ? narrow : wide};
    }
    s->kiln->n_parts = s->load->n_parts = 2;
}

/* 110 over the shelf is 150 over the floor: the broad part is in one part of the chamber alone. */
static void wall_above(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    two_parts(s, true);
    ks_piece *pot = bare_block(s, "pot", ks_outline_disc(0, 0, 50, s->arena), 110);
    bare_part(s, pot, KS_PART_BODY, 110, 130, bare_shape(s, a));
    bare_put_corner(s, 0, pot, a, 1, at_wall(CIRCLE, bare_round(a), 120 + spare));
}

static void wall_below(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    two_parts(s, false);
    ks_piece *pot = mushroom(s, a, 20, 110);
    bare_part(s, pot, KS_PART_BODY, 110, 130, ks_outline_disc(0, 0, 50, s->arena));
    bare_put_corner(s, 0, pot, a, 1, at_wall(CIRCLE, bare_round(a), 120 + spare));
}

static void lid(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_put(s, 0, bare_block(s, "low", bare_shape(s, a), 40), 150, 0);
    bare_put(s, 0, block(s, a, 347 - spare), 0, 0);
}

/* Shelves over the first with a corner towards the upper right. */
static ks_outline shelf_over(const bare_plan *s, shape_kind kind)
{
    const ks_outline all[] = {ks_outline_disc(0, 0, 150, s->arena),
                              ks_outline_rectangle(300, 300, 50, s->arena), bare_ell(s, 400)};
    return all[kind];
}

/* A tall piece, its edge `away` from that of the shelf over it. */
static void beside_shelf(bare_plan *s, const ks_piece *pot, shape_kind a, shape_kind b, double away)
{
    bare_upper_level(s, shelf_over(s, b), 0, 0);
    if (b == CONCAVE)
        bare_put(s, 0, pot, 40 + away, 100);
    else
        bare_put_corner(s, 0, pot, a, -1,
                        b == CIRCLE ? bare_along((ks_point){0, 0}, 150 + bare_round(a) + away)
                                    : bare_along((ks_point){100, 100}, 50 + bare_round(a) + away));
}

/* Its edge is just below the shelf's. */
static void above(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    beside_shelf(s, block(s, a, 145 - spare), a, b, -1);
}

/* Beside it, but nearer than ware may be beside a shelf. */
static void above_aslant(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    beside_shelf(s, block(s, a, 145 - spare), a, b, 1);
}

static void beside_as_ware(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    beside_shelf(s, block(s, a, 300), a, b, 3 + spare);
}

static void beside_as_posts(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_clearance(s, &s->load->clearance.post, 2);
    beside_shelf(s, block(s, a, 300), a, b, 2 + spare);
}

static void beside_unglazed(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *pot = block(s, a, 300);
    pot->glazed = false;
    pot->outward_mm = 0.5;
    beside_shelf(s, pot, a, b, 0.5 + spare);
}

/* A stout post beside the others, of each shape. */
static void near_posts(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_outline post = bare_moved(s, bare_shape(s, b), 0, 60);
    bare_post(s, post, 0, 25);
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    bare_post(s, post, 40, 190);
    ks_point corner = bare_corner(b);
    corner.y += 60;
    bare_put_corner(s, 0, block(s, a, 50), a, -1,
                    bare_along(corner, bare_round(a) + bare_round(b) + 4 + spare));
}

static void near_posts_when_grown(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    near_posts(s, a, b, 0.5 + spare);
    s->order->pieces[0].outward_mm = 0.5;
}

static void near_posts_when_runny(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    near_posts(s, a, b, 11 + spare);
    s->order->pieces[0].runny = true;
    s->order->pieces[0].around_mm = s->load->levels[0].pieces[0].around_mm = 15;
}

static void keep_out_beside(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_keep_out(s, bare_shape(s, b), 60, 70);
    bare_put_corner(s, 0, block(s, a, 50), a, -1,
                    bare_along(bare_corner(b), bare_round(a) + bare_round(b) + 10 + spare));
}

/* From the shelf at 40, 50 high, to a sensor over it. */
static void keep_out_over(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_keep_out(s, bare_shape(s, b), 100 + spare, 120);
    bare_put(s, 0, block(s, a, 50), 0, 0);
}

static void keep_out_under(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_keep_out(s, bare_moved(s, bare_shape(s, b), 75, 0), 60, 70 - spare);
    bare_put(s, 0, mushroom(s, a, 40, 80), 0, 0);
}

static void keep_out_beside_shelf(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    const ks_outline shelves[] = {ks_outline_disc(0, 0, 200, s->arena),
                                  ks_outline_rectangle(400, 400, 50, s->arena), bare_ell(s, 500)};
    bare_shelf(s, 0, shelves[a], 0, 0);
    bare_keep_out(s,
                  bare_square(s, (a == CONCAVE ? 20 : 220) + spare, a == CONCAVE ? 100 : 0, 20, 8),
                  30, 35);
}

static void keep_out_over_shelf(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_keep_out(s, bare_shape(s, a), 50 + spare, 60);
}

static void keep_out_under_shelf(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_keep_out(s, bare_shape(s, a), 5, 15 - spare);
}

/* Posts may come as near to one as they like. */
static void keep_out_beside_post(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_outline post = bare_moved(s, bare_shape(s, a), 0, 60);
    bare_post(s, post, 0, 25);
    double back = 60 + (a == CIRCLE ? 40 : 30);
    bare_keep_out(s, bare_square(s, 0, back + 10 + spare, 20, 20), 5, 12);
}

static void door_height(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_front_loader(s);
    s->kiln->opening_height_mm = 60 + spare;
    s->kiln->opening_sill_mm = 40; /* level with the shelf */
    bare_put(s, 0, block(s, a, 60), 0, 0);
}

/* The lintel is over the shelf on which it stands. */
static void door_lintel(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_front_loader(s);
    s->kiln->opening_height_mm = 300;
    s->kiln->opening_sill_mm = 40 + 60 + spare - 300;
    bare_put(s, 0, block(s, a, 60), 0, 0);
}

/* It is lifted over the sill and lowered behind it. */
static void door_over_sill(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_front_loader(s);
    s->kiln->opening_height_mm = 60 + spare;
    s->kiln->opening_sill_mm = 70;
    bare_put(s, 0, block(s, a, 60), 0, 0);
}

/* What stands across the door may be turned for it. */
static void door_width(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_front_loader(s);
    s->kiln->opening_width_mm = (a == CIRCLE ? 80 : 60) + spare;
    bare_put(s, 0, block(s, a, 60), 100, 50);
}

/* A spout makes it broader towards the back: 60 or 80 wide, and 25 at one side. */
static void door_width_with_spout(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_front_loader(s);
    ks_piece *pot = block(s, a, 60);
    bare_part(s, pot, KS_PART_BODY, 20, 40, bare_square(s, 0, 40, 100, 50));
    bare_part(s, pot, KS_PART_BODY, 20, 40, bare_square(s, 0, -40, 100, 50));
    s->kiln->opening_width_mm = 100 + spare;
    bare_put(s, 0, pot, 100, 50);
}

static const edge rows[] = {
    {"wall", "side by side", wall, .kinds = 2, .where = "load 1, level 1: pot-1"},
    {"wall", "when it has grown", wall_when_grown, .kinds = 2},
    {"wall", "the chamber is narrow above", wall_above, .kinds = 1},
    {"wall", "the chamber is narrow below", wall_below, .kinds = 1},
    {"lid", "below it", lid, .kinds = 1, .where = "load 1, level 1: pot-1"},
    {"above", "under a shelf's edge", above, .kinds = 2, .where = "load 1, level 1: pot-1"},
    {"above", "beside a shelf's edge, low", above_aslant, .kinds = 2},
    {"above", "beside a shelf, half of ware", beside_as_ware, .kinds = 2},
    {"above", "beside a shelf, as from posts", beside_as_posts, .kinds = 2},
    {"above", "beside a shelf, unglazed", beside_unglazed, .kinds = 2},
    {"near posts", "beside one", near_posts, .kinds = 2,
     .where = "load 1, level 1: pot-1 and a post"},
    {"near posts", "when it has grown", near_posts_when_grown, .kinds = 2},
    {"near posts", "when it runs", near_posts_when_runny, .kinds = 2},
    {"keep-outs", "beside it", keep_out_beside, .kinds = 2,
     .where = "load 1, level 1: pot-1 and sensor"},
    {"keep-outs", "over the piece", keep_out_over, .kinds = 2},
    {"keep-outs", "under the piece", keep_out_under, .kinds = 2},
    {"keep-outs", "beside a shelf", keep_out_beside_shelf, .kinds = 1,
     .where = "load 1, level 1: first and sensor"},
    {"keep-outs", "over a shelf", keep_out_over_shelf, .kinds = 1},
    {"keep-outs", "under a shelf", keep_out_under_shelf, .kinds = 1},
    {"keep-outs", "beside a post", keep_out_beside_post, .kinds = 1},
    {"door", "too high", door_height, .kinds = 1, .where = "load 1, level 1: pot-1"},
    {"door", "over the lintel", door_lintel, .kinds = 1, .where = "load 1, level 1: pot-1"},
    {"door", "over the sill", door_over_sill, .kinds = 1, .where = "load 1, level 1: pot-1"},
    {"door", "too wide", door_width, .kinds = 1, .where = "load 1, level 1: pot-1"},
    {"door", "too wide with all its parts", door_width_with_spout, .kinds = 1},
};

static void the_room_is_known_to_a_hundredth(void **state)
{
    (void)state;
    edges_hold(rows, sizeof rows / sizeof *rows);
}

static void under_no_shelf(bare_plan *s)
{
    beside_shelf(s, block(s, CIRCLE, 300), CIRCLE, CONCAVE, 3.5);
}

/* Its own shelf, and one farther down, are not over it. */
static void over_other_shelves(bare_plan *s)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    bare_put(s, 1, block(s, CIRCLE, 100), 0, 0);
}

static void no_door(bare_plan *s)
{
    s->kiln->opening_height_mm = s->kiln->opening_width_mm = 1; /* not told for a top loader */
    bare_put(s, 0, block(s, CIRCLE, 100), 0, 0);
}

static void door_not_told(bare_plan *s)
{
    bare_front_loader(s);
    s->kiln->opening_height_mm = s->kiln->opening_width_mm = 0;
    bare_put(s, 0, block(s, CIRCLE, 100), 0, 0);
}

static void post_on_another_level(bare_plan *s)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    bare_put(s, 1, block(s, CIRCLE, 100), 100, -100); /* over a post */
}

/* Lower than a shelf, and beside it: no matter how close in height. */
static void low_beside_a_shelf(bare_plan *s)
{
    beside_shelf(s, block(s, CIRCLE, 147), CIRCLE, CIRCLE, 3.5);
}

static const keeper keepers[] = {
    {"above", "lower and beside", low_beside_a_shelf, INFINITY},
    {"above", "in the notch of a shelf", under_no_shelf, 0.5},
    {"above", "over other shelves", over_other_shelves, INFINITY},
    {"door", "a top loader has none", no_door, INFINITY},
    {"door", "one that is not told", door_not_told, INFINITY},
    {"near posts", "a post under its shelf", post_on_another_level, INFINITY},
};

static void what_is_kept_is_not_called_broken(void **state)
{
    (void)state;
    keepers_are_kept(keepers, sizeof keepers / sizeof *keepers);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_room_is_known_to_a_hundredth),
        cmocka_unit_test(what_is_kept_is_not_called_broken),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
