#include "check.h"
#include "edges.h"

#define KS_TEST_PI 3.14159265358979323846

/* What carries a piece, and whether it stays standing. */

static ks_piece *block(bare_plan *s, const char *id, shape_kind kind, double height)
{
    return bare_block(s, id, bare_shape(s, kind), height);
}

/* A shelf whose edge a corner can come to on the way (0.6, 0.8). */
static void lay_shelf(const bare_plan *s, shape_kind kind)
{
    const ks_outline shelves[] = {ks_outline_disc(0, 0, 250, s->arena),
                                  ks_outline_rectangle(500, 500, 100, s->arena), bare_ell(s, 500)};
    bare_shelf(s, 0, shelves[kind], 0, 0);
}

static ks_point at_edge(shape_kind shelf, double round, double slack)
{
    if (shelf == CIRCLE)
        return bare_along((ks_point){0, 0}, 250 - round - slack);
    if (shelf == ROUNDED)
        return bare_along((ks_point){150, 150}, 100 - round - slack);
    return bare_along((ks_point){0, 0}, -round - slack); /* a corner that comes to meet it */
}

static void support(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    lay_shelf(s, b);
    bare_put_corner(s, 0, block(s, "pot", a, 50), a, 1, at_edge(b, bare_round(a), 2 + spare));
}

static void support_when_grown(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    lay_shelf(s, b);
    ks_piece *pot = block(s, "pot", a, 50);
    pot->outward_mm = 0.5;
    bare_put_corner(s, 0, pot, a, 1, at_edge(b, bare_round(a), 2.5 + spare));
}

/* Two halves with a seam of 2 mm; what stands over it comes near their outer edge. */
static void two_halves(bare_plan *s)
{
    bare_shelf(s, 0, ks_outline_rectangle(249, 500, 0, s->arena), -125.5, 0);
    bare_lay_shelf(s, 0, ks_outline_rectangle(249, 500, 0, s->arena), 125.5, 0);
    s->load->n_posts = s->kiln->n_posts = 0;
    for (int side = -1; side <= 1; side += 2)
        for (int k = -1; k <= 1; k++)
            bare_post(s, ks_outline_disc(side * (125 + 60 * k), k * k * 100, 15, s->arena), 0, 25);
}

/* The seam's end is a notch between the round ends of two shelves grown by the 10 mm that close
 * it, and by `more`: so far in is the point where two circles meet whose middles are 2 apart. */
static double notch(double more)
{
    double r = 10 + more;
    return r - sqrt(r * r - 1);
}

static void support_over_a_seam(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    two_halves(s);
    double back = a == CIRCLE ? 40 : 30;
    bare_put(s, 0, block(s, "pot", a, 50), 0, 250 - notch(0) - 2 - back - spare);
}

/* Its foot is well on the shelf. */
static ks_piece *mushroom(bare_plan *s, shape_kind kind)
{
    ks_piece *pot = bare_block(s, "pot", ks_outline_disc(0, 0, 15, s->arena), 20);
    bare_part(s, pot, KS_PART_BODY, 20, 40, bare_shape(s, kind));
    return pot;
}

static void overhang(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    lay_shelf(s, b);
    /* Beyond a corner that comes to meet it, how far out is known by the axes alone. */
    if (b == CONCAVE)
        bare_put(s, 0, mushroom(s, a), -39 - spare, 100);
    else
        bare_put_corner(s, 0, mushroom(s, a), a, 1, at_edge(b, bare_round(a), -1 + spare));
}

static void overhang_over_a_seam(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    two_halves(s);
    double back = a == CIRCLE ? 40 : 30;
    bare_put(s, 0, mushroom(s, a), 0, 250 + 1 - notch(1) - back - spare);
}

/* On a bed of grog of its own shape. */
static ks_piece *bedded(bare_plan *s, const char *id, shape_kind kind)
{
    ks_piece *form = bare_piece(s, id);
    bare_part(s, form, KS_PART_GROG, 0, 3, bare_shape(s, kind));
    bare_part(s, form, KS_PART_BODY, 3, 40, bare_shape(s, kind));
    return form;
}

static void grog(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    lay_shelf(s, b);
    bare_put_corner(s, 0, bedded(s, "form", a), a, 1, at_edge(b, bare_round(a), 20 + spare));
}

static void grog_over_a_seam(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    two_halves(s);
    double back = a == CIRCLE ? 40 : 30;
    bare_put(s, 0, bedded(s, "form", a), 0, 250 - notch(0) - 20 - back - spare);
}

/* Halves above, ware below: the grog keeps away from the seam, 1 mm left of the middle. */
static void grog_over_ware(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_upper_level(s, ks_outline_rectangle(249, 500, 0, s->arena), -125.5, 0);
    bare_lay_shelf(s, 1, ks_outline_rectangle(249, 500, 0, s->arena), 125.5, 0);
    s->load->n_posts = 3;
    s->kiln->n_posts = 3;
    const ks_point more[] = {{-200, 200}, {-60, 200},   {60, 200},
                             {200, 200},  {-125, -200}, {125, -200}};
    for (int i = 0; i < 6; i++) {
        ks_outline post = ks_outline_disc(more[i].x, more[i].y, 15, s->arena);
        bare_post(s, post, 0, 25);
        bare_post(s, post, 40, 190);
    }
    bare_put(s, 0, block(s, "pot", CIRCLE, 100), 30, 0);
    bare_put(s, 1, bedded(s, "form", a), 1 + 20 + 40 + spare, 0);
}

/* A larger one below: its own corner, or the hull that closes its notch, carries. */
static ks_outline carrier_shape(const bare_plan *s, shape_kind kind)
{
    const ks_point at[] = {{-90, -80}, {90, -80}, {90, -20}, {0, 0}, {90, 20}, {90, 80}, {-90, 80}};
    if (kind == CIRCLE)
        return ks_outline_disc(0, 0, 90, s->arena);
    if (kind == ROUNDED)
        return ks_outline_rectangle(180, 160, 50, s->arena);
    ks_point *own = KS_TAKE(s->arena, 7, ks_point);
    for (int i = 0; i < 7; i++)
        own[i] = at[i];
    return (ks_outline){7, own, 0};
}

static void on(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *below = bare_block(s, "below", carrier_shape(s, b), 30);
    ks_piece *pot = block(s, "pot", a, 50);
    below->glazed = pot->glazed = false;
    const ks_placed *carrier = bare_put(s, 0, below, 0, 0);
    ks_point at = {90 - 40 - spare, 0}; /* against its right side */
    if (b != CONCAVE) {
        ks_point corner = bare_corner(a);
        at = b == CIRCLE ? bare_along((ks_point){0, 0}, 90 - bare_round(a) - spare)
                         : bare_along((ks_point){40, 30}, 50 - bare_round(a) - spare);
        at = (ks_point){at.x - corner.x, at.y - corner.y};
    }
    bare_put_on(s, pot, carrier, at.x, at.y);
}

/* So flat that tilting it moves nothing: a foot with, beside its middle, a disc over it. Their
 * common centre of mass is `from_edge` from the foot's right side. */
static void put_leaning(bare_plan *s, shape_kind kind, double from_edge)
{
    const double areas[] = {KS_TEST_PI * 1600, 80 * 60 - (4 - KS_TEST_PI) * 100, 3200};
    const double middles[] = {0, 0, -10};
    double foot = 0.004 * areas[kind], body = 0.006 * KS_TEST_PI * 3600;
    double lean = ((40 - from_edge) * (foot + body) - foot * middles[kind]) / body;
    ks_piece *pot = bare_block(s, "pot", bare_shape(s, kind), 0.004);
    bare_part(s, pot, KS_PART_BODY, 0.004, 0.01, ks_outline_disc(lean, 0, 60, s->arena));
    bare_put(s, 0, pot, 0, 0);
}

static void stands(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_clearance(s, &s->load->clearance.overhang, 60);
    put_leaning(s, a, spare);
}

/* A column whose middle is as high as a tilt of 5 degrees moves to its foot's edge. */
static void raise_the_lid(const bare_plan *s)
{
    s->kiln->height_mm = s->load->height_mm = 1200;
    s->kiln->parts[0].to_mm = s->load->parts[0].to_mm = 1200;
    s->load->levels[0].gap_mm = 1160;
}

static void tilt(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    raise_the_lid(s);
    const double margins[] = {40, 30, 30}; /* to the nearest side of the hull */
    double margin = margins[a];
    bare_put(s, 0, block(s, "pot", a, 2 * (margin - spare) / tan(5 * KS_TEST_PI / 180)), 0, 0);
}

static const edge rows[] = {
    {"support", "at the shelf's edge", support, .kinds = 2, .where = "load 1, level 1: pot-1"},
    {"support", "when it has grown", support_when_grown, .kinds = 2},
    {"support", "over a seam", support_over_a_seam, .kinds = 1, .within = 2e-4},
    {"overhang", "beyond the shelf's edge", overhang, .kinds = 2,
     .where = "load 1, level 1: pot-1"},
    {"overhang", "over a seam", overhang_over_a_seam, .kinds = 1, .within = 2e-4},
    {"grog", "at the shelf's edge", grog, .kinds = 2, .where = "load 1, level 1: form-1"},
    {"grog", "over a seam", grog_over_a_seam, .kinds = 1, .within = 2e-4},
    {"grog", "over a seam with ware below", grog_over_ware, .kinds = 1},
    {"on", "at its carrier's edge", on, .kinds = 2, .where = "load 1, level 1: pot-1 and below-1"},
    {"stands", "leaning to one side", stands, .kinds = 1, .where = "load 1, level 1: pot-1",
     .also = "tilt"},
    {"tilt", "high above its foot", tilt, .kinds = 1, .where = "load 1, level 1: pot-1"},
};

static void what_carries_is_known_to_a_hundredth(void **state)
{
    (void)state;
    edges_hold(rows, sizeof rows / sizeof *rows);
}

static void stack_two(bare_plan *s, bool lower_glazed, bool upper_glazed)
{
    ks_piece *below = bare_block(s, "below", carrier_shape(s, CIRCLE), 30);
    ks_piece *pot = block(s, "pot", CIRCLE, 50);
    below->glazed = lower_glazed;
    pot->glazed = upper_glazed;
    bare_put_on(s, pot, bare_put(s, 0, below, 0, 0), 0, 0);
}

static void on_glazed_ware(bare_plan *s)
{
    stack_two(s, true, false);
}

static void glazed_ware_on_it(bare_plan *s)
{
    stack_two(s, false, true);
}

static void glazed_where_glaze_may_touch(bare_plan *s)
{
    bare_clearance(s, &s->load->clearance.ware, 0);
    stack_two(s, true, false);
}

static void on_no_such_piece(bare_plan *s)
{
    stack_two(s, false, false);
    s->load->levels[0].pieces[1].on_id = "nothing";
}

static void on_no_such_copy(bare_plan *s)
{
    stack_two(s, false, false);
    s->load->levels[0].pieces[1].on_copy = 2;
}

static void on_one_of_another_level(bare_plan *s)
{
    bare_upper_level(s, ks_outline_rectangle(400, 400, 0, s->arena), 0, 0);
    stack_two(s, false, false);
    s->load->levels[1].pieces[0] = s->load->levels[0].pieces[1];
    s->load->levels[0].n_pieces = 1;
    s->load->levels[1].n_pieces = 1;
}

static void on_each_other(bare_plan *s)
{
    stack_two(s, false, false);
    s->load->levels[0].pieces[0].on_id = "pot";
    s->load->levels[0].pieces[0].on_copy = 1;
}

static void on_itself(bare_plan *s)
{
    stack_two(s, false, false);
    s->load->levels[0].pieces[0].on_id = "below";
    s->load->levels[0].pieces[0].on_copy = 1;
}

static void not_down_to_the_shelf(bare_plan *s)
{
    ks_piece *pot = block(s, "pot", CIRCLE, 50);
    pot->parts[0].from_mm = 0.01;
    bare_put(s, 0, pot, 0, 0);
}

static void into_the_shelf(bare_plan *s)
{
    ks_piece *pot = block(s, "pot", CIRCLE, 50);
    pot->parts[0].from_mm = -0.01;
    bare_put(s, 0, pot, 0, 0);
}

static void above_its_carrier(bare_plan *s)
{
    stack_two(s, false, false);
    ks_placed *pot = &s->load->levels[0].pieces[1];
    pot->parts[0].from_mm += 0.01;
    pot->parts[0].to_mm += 0.01;
    pot->top_mm += 0.01;
}

static const slip slips[] = {
    {"on", "a hundredth above its carrier", above_its_carrier, .by = 0.01,
     .where = "load 1, level 1: pot-1 and below-1"},
    {"support", "a foot that ends above the shelf", not_down_to_the_shelf, .by = 0.01,
     .where = "load 1, level 1: pot-1"},
    {"support", "a foot that ends in the shelf", into_the_shelf, .by = 0.01},
    {"on", "the lower is glazed", on_glazed_ware, .by = 6,
     .where = "load 1, level 1: pot-1 and below-1"},
    {"on", "the upper is glazed", glazed_ware_on_it, .by = 6},
    {"on", "one is glazed, and glaze needs no room", glazed_where_glaze_may_touch, .by = 1},
    {"on", "there is no such piece", on_no_such_piece, .by = 1e6, .where = "load 1, level 1: pot-1",
     .also = "under"},
    {"on", "there is no such copy", on_no_such_copy, .by = 1e6, .also = "under"},
    {"on", "it is on another level", on_one_of_another_level, .by = 1e6},
    {"on", "they stand on each other", on_each_other, .by = 1e6, .also = "load order"},
    {"on", "it stands on itself", on_itself, .by = 1e6, .also = "load order"},
};

static void what_no_piece_can_stand_on_is_found(void **state)
{
    (void)state;
    slips_are_found(NULL, slips, sizeof slips / sizeof *slips);
}

/* Grog over a seam, with ware on the level but none under it. */
static void grog_with_ware_elsewhere(bare_plan *s)
{
    grog_over_ware(s, CIRCLE, CIRCLE, 0);
    bare_put(s, 0, &s->order->pieces[0], -150, 0);
    s->load->levels[0].pieces[0] = s->load->levels[0].pieces[1];
    s->load->levels[0].pieces[0].copy = 1;
    s->load->levels[0].n_pieces = 1;
    s->order->pieces[0].count = 1;
    bare_put(s, 1, &s->order->pieces[1], 0, -150);
}

static void three_high(bare_plan *s)
{
    ks_piece *below = bare_block(s, "below", carrier_shape(s, CIRCLE), 30);
    below->glazed = false;
    ks_placed *first = bare_put(s, 0, below, 0, 0), *second = bare_put_on(s, below, first, 0, 0);
    bare_put_on(s, below, second, 0, 0);
}

static const keeper keepers[] = {
    {"grog", "no ware right below the seam", grog_with_ware_elsewhere, NAN},
    {"on", "three high", three_high, 0},
};

static void what_is_kept_is_not_called_broken(void **state)
{
    (void)state;
    keepers_are_kept(keepers, sizeof keepers / sizeof *keepers);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_carries_is_known_to_a_hundredth),
        cmocka_unit_test(what_no_piece_can_stand_on_is_found),
        cmocka_unit_test(what_is_kept_is_not_called_broken),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
