#include "check.h"
#include "edges.h"

/* Shelves and posts: in the chamber, out of each other's way, carried, in stock, not overloaded. */

static ks_outline scaled(const bare_plan *s, ks_outline shape, double by)
{
    ks_point *at = KS_TAKE(s->arena, shape.n, ks_point);
    for (int i = 0; i < shape.n; i++)
        at[i] = (ks_point){by * shape.at[i].x, by * shape.at[i].y};
    return (ks_outline){shape.n, at, by * shape.round};
}

/* 30 broad. */
static ks_outline post_shape(const bare_plan *s, shape_kind kind)
{
    return scaled(s, bare_shape(s, kind), 0.375);
}

static void no_posts(bare_plan *s)
{
    s->load->n_posts = s->kiln->n_posts = 0;
}

/* Posts that carry a small shelf of any kind whose middle is there. */
static void posts_under(bare_plan *s, double x, double y, double to)
{
    const ks_point at[] = {{-30, -25}, {30, -25}, {-30, 25}};
    for (int i = 0; i < 3; i++)
        bare_post(s, ks_outline_disc(x + at[i].x, y + at[i].y, 6, s->arena), 0, to);
}

static void one_small_shelf(bare_plan *s, shape_kind kind, double x, double y)
{
    no_posts(s);
    posts_under(s, x, y, 25);
    bare_shelf(s, 0, bare_shape(s, kind), x, y);
}

static ks_point minus_corner(ks_point at, shape_kind kind)
{
    ks_point corner = bare_corner(kind);
    return (ks_point){at.x - corner.x, at.y - corner.y};
}

static ks_point plus_corner(ks_point at, shape_kind kind)
{
    ks_point corner = bare_corner(kind);
    return (ks_point){at.x + corner.x, at.y + corner.y};
}

static void shelf_in_chamber(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    const ks_outline chambers[] = {ks_outline_disc(0, 0, 300, s->arena),
                                   ks_outline_rectangle(600, 600, 100, s->arena), bare_ell(s, 600)};
    double round = bare_round(a) + spare;
    ks_point at = bare_along((ks_point){0, 0}, b == CIRCLE ? 300 - round : -round);
    if (b == ROUNDED)
        at = bare_along((ks_point){200, 200}, 100 - round);
    at = minus_corner(at, a);
    if (a == CONCAVE && b == CONCAVE) /* against a side: a corner would pass the other one */
        at = (ks_point){-260 + spare, -200};
    bare_chamber(s, chambers[b]);
    one_small_shelf(s, a, at.x, at.y);
}

/* The lid lies on the only shelf. */
static void shelf_under_lid(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    one_small_shelf(s, a, 0, 0);
    s->kiln->height_mm = s->load->height_mm = 40 + spare;
    s->load->levels[0].gap_mm = spare;
}

static void shelf_beside_shelf(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    one_small_shelf(s, a, -100, -100);
    ks_point at = plus_corner((ks_point){-100, -100}, a);
    if (a == CONCAVE && b == CONCAVE) /* two sharp corners pass each other */
        at = plus_corner((ks_point){at.x + spare, at.y - 5}, b);
    else
        at = plus_corner(bare_along(at, bare_round(a) + bare_round(b) + spare), b);
    posts_under(s, at.x, at.y, 25);
    bare_lay_shelf(s, 0, bare_shape(s, b), at.x, at.y);
}

/* The next column's shelf is 10 higher, so both are there between 35 and 40. */
static void shelf_beside_next_column(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    one_small_shelf(s, a, -100, -100);
    double x = -100 + 40 + 40 + spare;
    posts_under(s, x, -100, 35);
    bare_add_level(s, 50, 350);
    bare_lay_shelf(s, 1, bare_shape(s, ROUNDED), x, -100);
}

static void shelf_thickness(bare_plan *s, shape_kind a, shape_kind b, double off)
{
    s->kiln->shelves[0].thickness_mm = 15 + off;
}

/* Longer by one end. */
static void shelf_shape(bare_plan *s, shape_kind a, shape_kind b, double off)
{
    one_small_shelf(s, a, 0, 0);
    ks_outline longer = scaled(s, bare_shape(s, a), 1);
    ks_point *at = KS_TAKE(s->arena, longer.n, ks_point);
    for (int i = 0; i < longer.n; i++)
        at[i] = (ks_point){longer.at[i].x + (longer.at[i].x > 0 ? off : 0), longer.at[i].y};
    if (a == CIRCLE)
        longer.round += off;
    longer.at = at;
    s->kiln->shelves[0].outline = longer;
}

static void post_over_post(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    bare_post(s, bare_moved(s, bare_shape(s, a), 0, 60), 0, 25);
    bare_post(s, bare_moved(s, ks_outline_disc(0, 0, 15, s->arena), -40 + spare, 60), 40, 190);
}

/* It stands out from under the shelf, as far as the wall. */
static void post_in_chamber(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_chamber(s, bare_square(s, 0, 0, 520 + 2 * spare, 520 + 2 * spare));
    bare_post(s, bare_moved(s, post_shape(s, a), 245, 50), 0, 25);
}

/* The right side of the hull of the posts is under the shelf's middle. */
static void shelf_over_posts(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    const ks_outline shelves[] = {ks_outline_disc(0, 0, 250, s->arena),
                                  ks_outline_rectangle(500, 500, 100, s->arena), bare_ell(s, 500)};
    double middle = a == CONCAVE ? -500 / 12.0 : 0;
    bare_shelf(s, 0, shelves[a], 0, 0);
    no_posts(s);
    for (int i = -1; i <= 1; i++) {
        double x = i ? middle - 15 + spare : middle - 100;
        bare_post(s, ks_outline_disc(x, 100 * i - 60, 15, s->arena), 0, 25);
    }
}

static void post_of_its_heights(bare_plan *s, shape_kind a, shape_kind b, double off)
{
    s->load->posts[1].n_heights = 2;
    s->load->posts[1].heights_mm[0] = 13 + off;
    s->load->posts[1].heights_mm[1] = 12;
    s->kiln->posts[1].height_mm = 13 + off;
    s->kiln->posts[s->kiln->n_posts] = s->kiln->posts[1];
    s->kiln->posts[s->kiln->n_posts++].height_mm = 12;
}

static void post_beside_post(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    const ks_point first = {100, 100};
    ks_point at = plus_corner(first, a);
    if (a == CONCAVE && b == CONCAVE)
        at = plus_corner((ks_point){at.x + spare, at.y - 5}, b);
    else
        at = plus_corner(bare_along(at, bare_round(a) + bare_round(b) + spare), b);
    bare_post(s, bare_moved(s, bare_shape(s, a), first.x, first.y), 0, 25);
    bare_post(s, bare_moved(s, bare_shape(s, b), at.x, at.y), 0, 25);
}

/* From the floor to a shelf over the small one. */
static void post_beside_shelf(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    one_small_shelf(s, b, 0, 0);
    s->load->levels[0].gap_mm = 150;
    bare_add_level(s, 205, 195);
    bare_lay_shelf(s, 1, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    ks_point at = plus_corner(bare_corner(b), a);
    if (a == CONCAVE && b == CONCAVE)
        at = plus_corner((ks_point){bare_corner(b).x + spare, bare_corner(b).y - 5}, a);
    else
        at = plus_corner(bare_along(bare_corner(b), bare_round(a) + bare_round(b) + spare), a);
    bare_post(s, bare_moved(s, bare_shape(s, a), at.x, at.y), 0, 190);
    bare_post(s, ks_outline_disc(-150, -100, 15, s->arena), 0, 190);
    bare_post(s, ks_outline_disc(150, -150, 15, s->arena), 0, 190);
}

static void posts_too_few(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_post(s, ks_outline_disc(200, 200, 15, s->arena), 0, 25);
    if (spare <= 0)
        s->load->n_posts = 3 + (int)spare;
}

static void posts_on_the_floor(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    s->kiln->floor_post_least_mm = 25 - spare;
}

static void gap_below(bare_plan *s, shape_kind a, shape_kind b, double off)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    s->load->levels[0].gap_mm += off;
}

static void gap_above(bare_plan *s, shape_kind a, shape_kind b, double off)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    s->load->levels[1].gap_mm += off;
}

static void first_gap(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    s->kiln->first_gap_mm = 150 - spare;
}

static void top_gap(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    s->kiln->top_gap_mm = 195 - spare;
}

static void shelf_stock(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    for (int k = 0; k < 2; k++)
        s->load->levels[1].shelves[0] = s->load->levels[0].shelves[0];
    s->kiln->shelves[0].count = 2 + (int)spare;
    s->kiln->n_shelves = 1;
}

static void post_stock(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    s->kiln->n_posts = 1;
    s->kiln->posts[0].count = 3 + (int)spare;
}

static void shelf_mass(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *pot = bare_block(s, "pot", bare_shape(s, a), 50);
    pot->mass_kg = 2;
    bare_put(s, 0, pot, -100, 0);
    bare_put(s, 0, pot, 100, 0);
    s->kiln->shelves[0].safe_load_kg = 4 + spare;
}

/* Over a seam on both halves, with what stands on it; the left has another of its own. */
static void shelf_mass_over_a_seam(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_shelf(s, 0, ks_outline_rectangle(249, 500, 0, s->arena), -125.5, 0);
    bare_lay_shelf(s, 0, ks_outline_rectangle(249, 500, 0, s->arena), 125.5, 0);
    no_posts(s);
    for (int side = -1; side <= 1; side += 2)
        for (int k = -1; k <= 1; k++)
            bare_post(s, ks_outline_disc(side * (125 + 60 * k), k * k * 100, 15, s->arena), 0, 25);
    ks_piece *pot = bare_block(s, "pot", bare_shape(s, a), 50);
    ks_piece *top = bare_block(s, "top", ks_outline_disc(0, 0, 5, s->arena), 20);
    pot->glazed = top->glazed = false;
    pot->mass_kg = 2;
    top->mass_kg = 1;
    bare_put_on(s, top, bare_put(s, 0, pot, 0, 0), -30, 0);
    bare_put(s, 0, pot, -120, 0);
    s->kiln->shelves[0].safe_load_kg = 5 + spare;
    s->kiln->shelves[1].safe_load_kg = 3 + spare;
}

static void kiln_mass(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    ks_piece *pot = bare_block(s, "pot", bare_shape(s, a), 50);
    pot->mass_kg = 2;
    bare_put(s, 0, pot, 0, 0);
    bare_put(s, 1, pot, 0, 0);
    for (int k = 0; k < 3; k++) {
        s->load->posts[3 + k].n_heights = 2; /* of two posts each */
        s->load->posts[3 + k].heights_mm[0] = 125;
        s->load->posts[3 + k].heights_mm[1] = 25;
        s->kiln->posts[k].count = 2;
        s->kiln->posts[k].mass_kg = 0.25;
        s->kiln->posts[3 + k].height_mm = 125;
        s->kiln->posts[3 + k].mass_kg = 1;
    }
    s->kiln->shelves[1].mass_kg = 7;
    s->kiln->mass_limit_kg = 2 * 2 + 6 + 7 + 3 * 0.25 + 3 * (1 + 0.25) + spare;
}

static const edge rows[] = {
    {"shelves", "in the chamber", shelf_in_chamber, .kinds = 2, .where = "load 1, level 1: first"},
    {"shelves", "under the lid", shelf_under_lid, .kinds = 1, .also = "gaps"},
    {"shelves", "side by side", shelf_beside_shelf, .kinds = 2,
     .where = "load 1, level 1: first and second"},
    {"shelves", "beside that of the next column", shelf_beside_next_column, .kinds = 1,
     .where = "load 1, level 1: first and second"},
    {"shelves", "thickness", shelf_thickness, .sense = SAME, .where = "load 1, level 1: first"},
    {"shelves", "shape", shelf_shape, .kinds = 1, .sense = SAME},
    {"posts", "over another", post_over_post, .touching = true, .kinds = 1},
    {"posts", "in the chamber", post_in_chamber, .touching = true, .kinds = 1},
    {"posts", "under the shelf's middle", shelf_over_posts, .touching = true, .kinds = 1,
     .where = "load 1, level 1: first"},
    {"posts", "their heights", post_of_its_heights, .sense = SAME,
     .where = "load 1: post at 100, -100 from 0"},
    {"posts", "side by side", post_beside_post, .touching = true, .kinds = 2},
    {"posts", "beside a shelf", post_beside_shelf, .touching = true, .kinds = 2},
    {"three posts", "too few", posts_too_few, .step = 1, .where = "load 1, level 1: first"},
    {"floor posts", "too short", posts_on_the_floor, .kinds = 0},
    {"gaps", "under a shelf", gap_below, .sense = SAME, .where = "load 1, level 1"},
    {"gaps", "under the lid", gap_above, .sense = SAME, .where = "load 1, level 2"},
    {"first gap", "too low", first_gap, .where = "load 1, level 1"},
    {"top gap", "too low", top_gap, .where = "load 1, level 2"},
    {"shelf stock", "too few", shelf_stock, .step = 1, .where = "load 1: first"},
    {"post stock", "too few", post_stock, .step = 1, .where = "load 1: post of 25 mm"},
    {"shelf mass", "too heavy", shelf_mass, .kinds = 1, .where = "load 1, level 1: first"},
    {"shelf mass", "too heavy over a seam", shelf_mass_over_a_seam, .kinds = 1},
    {"kiln mass", "too heavy", kiln_mass, .kinds = 1, .where = "load 1"},
};

static void furniture_is_known_to_a_hundredth(void **state)
{
    (void)state;
    edges_hold(rows, sizeof rows / sizeof *rows);
}

/* How far out a sharp shelf is in a concave chamber is known less exactly, but that it is. */
static void sharp_in_a_concave_room(bare_plan *s, double off)
{
    bare_chamber(s, bare_ell(s, 600));
    one_small_shelf(s, CONCAVE, -40 + off, 5);
}

static void sharp_at_a_concave_wall(bare_plan *s)
{
    sharp_in_a_concave_room(s, 0);
}

static void sharp_through_a_concave_wall(bare_plan *s)
{
    sharp_in_a_concave_room(s, 0.01);
}

static void no_shelf_at_all(bare_plan *s)
{
    no_posts(s);
    s->load->levels[0].n_shelves = 0;
}

static void shelf_of_no_kind(bare_plan *s)
{
    s->load->levels[0].shelves[0].kind = -1;
}

static void shelf_of_a_kind_too_many(bare_plan *s)
{
    s->load->levels[0].shelves[0].kind = s->kiln->n_shelves;
}

static void shelf_of_another_name(bare_plan *s)
{
    s->load->levels[0].shelves[0].id = "other";
}

static void shelf_of_another_make(bare_plan *s)
{
    s->load->levels[0].shelves[0].outline = ks_outline_disc(0, 0, 250, s->arena);
}

static void post_with_no_shelf_on_it(bare_plan *s)
{
    bare_post(s, ks_outline_disc(200, 200, 15, s->arena), 0, 20);
}

/* 4.99 mm under the shelf's right side. */
static void post_that_hardly_reaches(bare_plan *s)
{
    bare_post(s, ks_outline_disc(250 + 15 - 4.99, 0, 15, s->arena), 0, 25);
}

/* Its middle is over a post below, but it stands mostly beside the shelf between them. */
static void post_standing(bare_plan *s, double on_shelf)
{
    bare_upper_level(s, ks_outline_rectangle(560, 500, 0, s->arena), 0, 0);
    bare_post(s, bare_square(s, 250, 0, 60, 60), 0, 25);
    bare_post(s, ks_outline_disc(250 + 15 - on_shelf, 0, 15, s->arena), 40, 190);
}

static void post_that_hardly_stands(bare_plan *s)
{
    post_standing(s, 4.99);
}

static void post_that_just_stands(bare_plan *s)
{
    post_standing(s, 5);
}

static void two_posts_that_reach(bare_plan *s)
{
    no_posts(s);
    bare_shelf(s, 0, ks_outline_rectangle(400, 500, 0, s->arena), 0, 0);
    bare_post(s, ks_outline_disc(-100, -100, 15, s->arena), 0, 25);
    bare_post(s, ks_outline_disc(-100, 100, 15, s->arena), 0, 25);
    bare_post(s, ks_outline_disc(200 + 15 - 4.99, 0, 15, s->arena), 0, 25);
    bare_lay_shelf(s, 0, ks_outline_rectangle(70, 500, 0, s->arena), 236, 0);
    bare_post(s, ks_outline_disc(250, 100, 5, s->arena), 0, 25);
    bare_post(s, ks_outline_disc(250, -100, 5, s->arena), 0, 25);
}

static void post_of_no_height(bare_plan *s)
{
    s->load->posts[2].n_heights = 0;
}

static void post_of_three_heights(bare_plan *s)
{
    post_of_its_heights(s, CIRCLE, CIRCLE, 0);
    s->load->posts[1].n_heights = 3;
}

/* A post on the shelf, and none below it. */
static void post_on_nothing(bare_plan *s)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    bare_post(s, ks_outline_disc(100, 100, 15, s->arena), 40, 190);
}

/* The post below stands beside it. */
static void post_beside_its_support(bare_plan *s)
{
    post_on_nothing(s);
    bare_post(s, ks_outline_disc(100, 120, 15, s->arena), 0, 25);
}

/* Over a post, but half a millimetre beside the shelf that should lie between the two. */
static void post_over_a_hole(bare_plan *s)
{
    bare_shelf(s, 0, ks_outline_rectangle(300, 500, 0, s->arena), 0, 0);
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    bare_post(s, ks_outline_disc(155.5, 0, 30, s->arena), 0, 25);
    bare_post(s, ks_outline_disc(155.5, 0, 5, s->arena), 40, 190);
}

static void shelf_on_the_floor(bare_plan *s)
{
    no_posts(s);
    s->load->levels[0].z_mm = 15;
    s->load->levels[0].gap_mm = 385;
}

static void post_not_in_stock(bare_plan *s)
{
    s->kiln->posts[1].height_mm = 25.01;
}

static void post_of_another_make(bare_plan *s)
{
    s->load->posts[1].outline = ks_outline_disc(100, -100, 15.01, s->arena);
}

static void shelf_too_many_for_the_kiln(bare_plan *s)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    s->kiln->shelves[1].count = 0;
}

static const slip slips[] = {
    {"shelves", "a sharp one through a concave wall", sharp_through_a_concave_wall, .by = 0},
    {"shelves", "none", no_shelf_at_all, .by = 1e6, .where = "load 1, level 1: no shelf"},
    {"shelves", "of no kind", shelf_of_no_kind, .by = 1e6, .where = "load 1, level 1: first"},
    {"shelves", "of a kind too many", shelf_of_a_kind_too_many, .by = 1e6},
    {"shelves", "of another name", shelf_of_another_name, .by = 1e6},
    {"shelves", "of another make", shelf_of_another_make, .by = 1e6},
    {"posts", "with no shelf on it", post_with_no_shelf_on_it, .by = 5, .also = "floor posts",
     .where = "load 1: post at 200, 200 from 0"},
    {"posts", "that hardly reaches under it", post_that_hardly_reaches, .by = 5},
    {"posts", "hardly stands", post_that_hardly_stands, .by = 0},
    {"three posts", "one hardly reaches under it", two_posts_that_reach, .by = 1},
    {"posts", "of no height", post_of_no_height, .by = 25},
    {"posts", "of three heights", post_of_three_heights, .by = 1e6},
    {"posts", "on no other", post_on_nothing, .by = 185,
     .where = "load 1: post at 100, 100 from 40"},
    {"posts", "beside its support", post_beside_its_support, .by = 5},
    {"posts", "over a hole", post_over_a_hole, .by = 1e6, .also = "steps"},
    {"floor posts", "a shelf on the floor", shelf_on_the_floor, .by = 25,
     .where = "load 1, level 1: first"},
    {"post stock", "of no height in stock", post_not_in_stock, .by = 1},
    {"post stock", "of another make", post_of_another_make, .by = 1},
    {"shelf stock", "none of its kind", shelf_too_many_for_the_kiln, .by = 1,
     .where = "load 1: second"},
};

static void furniture_that_cannot_be_is_found(void **state)
{
    (void)state;
    slips_are_found(NULL, slips, sizeof slips / sizeof *slips);
}

static void floor_where_no_posts_are_asked(bare_plan *s)
{
    shelf_on_the_floor(s);
    s->kiln->floor_post_least_mm = 0;
}

static void post_that_just_reaches(bare_plan *s)
{
    bare_post(s, ks_outline_disc(250 + 15 - 5, 0, 15, s->arena), 0, 25);
}

/* The upper gap is less than what the kiln asks over its lowest shelf. */
static void first_gap_of_the_first_alone(bare_plan *s)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    s->kiln->height_mm = s->load->height_mm = s->load->parts[0].to_mm = s->kiln->parts[0].to_mm =
        305;
    s->load->levels[1].gap_mm = 100;
    s->kiln->first_gap_mm = 150;
    s->kiln->top_gap_mm = 100;
}

static void top_gap_of_the_top_alone(bare_plan *s)
{
    bare_upper_level(s, ks_outline_rectangle(500, 500, 0, s->arena), 0, 0);
    s->kiln->top_gap_mm = 195;
}

/* Each column has a lowest shelf of its own, and a highest. */
static void gaps_of_two_columns(bare_plan *s)
{
    shelf_beside_next_column(s, CIRCLE, CIRCLE, 0);
    s->kiln->first_gap_mm = s->kiln->top_gap_mm = 350;
}

static void load_that_no_one_limits(bare_plan *s)
{
    ks_piece *pot = bare_block(s, "pot", bare_shape(s, CIRCLE), 50);
    pot->mass_kg = 1000;
    bare_put(s, 0, pot, 0, 0);
    s->kiln->shelves[0].safe_load_kg = s->kiln->mass_limit_kg = 0;
}

static const keeper keepers[] = {
    {"shelves", "a sharp one at a concave wall", sharp_at_a_concave_wall, 0},
    {"posts", "just stands", post_that_just_stands, NAN},
    {"floor posts", "none are asked", floor_where_no_posts_are_asked, 0},
    {"posts", "one that just reaches under a shelf", post_that_just_reaches, 0},
    {"first gap", "asked of the first alone", first_gap_of_the_first_alone, 0},
    {"top gap", "asked of the top alone", first_gap_of_the_first_alone, 0},
    {"top gap", "more than below", top_gap_of_the_top_alone, 0},
    {"first gap", "of two columns", gaps_of_two_columns, 0},
    {"top gap", "of two columns", gaps_of_two_columns, 0},
    {"shelf mass", "no limit", load_that_no_one_limits, INFINITY},
    {"kiln mass", "no limit", load_that_no_one_limits, INFINITY},
};

static void what_is_kept_is_not_called_broken(void **state)
{
    (void)state;
    keepers_are_kept(keepers, sizeof keepers / sizeof *keepers);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(furniture_is_known_to_a_hundredth),
        cmocka_unit_test(furniture_that_cannot_be_is_found),
        cmocka_unit_test(what_is_kept_is_not_called_broken),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
