#include "check.h"
#include "edges.h"

#include "studio/stacked.h"

/* Unglazed ware on other ware: where it rests, in which ways, how much and how high. */

static const unsigned any_way =
    KS_WAY_BIT(KS_NEST) | KS_WAY_BIT(KS_RIM) | KS_WAY_BIT(KS_PILE) | KS_WAY_BIT(KS_EDGE);

static ks_piece *unglazed(ks_piece *piece)
{
    piece->glazed = false;
    piece->stage = KS_DRY;
    piece->ways = any_way;
    piece->wall_mm = 5;
    return piece;
}

static ks_piece *solid(bare_plan *s, const char *id, double radius, double height)
{
    return unglazed(bare_block(s, id, ks_outline_disc(0, 0, radius, s->arena), height));
}

/* Walls of 5 mm, a floor of 8. */
static ks_piece *cup(bare_plan *s, const char *id, double radius, double height)
{
    ks_piece *piece = unglazed(bare_piece(s, id));
    ks_outline outside = ks_outline_disc(0, 0, radius, s->arena);
    bare_part(s, piece, KS_PART_FOOT, 0, 8, outside);
    bare_part(s, piece, KS_PART_BODY, 8, height, outside);
    piece->parts[1].hollow = ks_outline_disc(0, 0, radius - 5, s->arena);
    return piece;
}

/* Puts a piece on another, as high above its foot as `lift`, aside by x. */
static ks_placed *stand_on(bare_plan *s, const ks_piece *piece, const ks_placed *under, ks_way way,
                           double lift, double x)
{
    ks_placed *placed = bare_put(s, 0, piece, under->stand.x + x, under->stand.y);
    lift += under->parts[0].from_mm;
    placed->on_id = under->id;
    placed->on_copy = under->copy;
    placed->way = way;
    placed->top_mm += lift;
    for (int p = 0; p < placed->n_parts; p++) {
        placed->parts[p].from_mm += lift;
        placed->parts[p].to_mm += lift;
    }
    return placed;
}

static void within_a_hollow(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_placed *bowl = bare_put(s, 0, cup(s, "bowl", 60, 50), 0, 0);
    stand_on(s, cup(s, "cup", 20, 40), bowl, KS_NEST, 8, 35 - spare);
}

static void feet_in_a_pile(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_placed *plate = bare_put(s, 0, solid(s, "plate", 60, 20), 0, 0);
    stand_on(s, solid(s, "other", 60, 20), plate, KS_PILE, 20, 10 - spare);
}

static void a_small_foot_in_a_pile(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_placed *plate = bare_put(s, 0, solid(s, "plate", 60, 10), 0, 0);
    stand_on(s, solid(s, "other", 50 + spare, 10), plate, KS_PILE, 10, 0);
}

static void a_thin_rim(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *mug = cup(s, "mug", 40, 50);
    mug->wall_mm = 3 + spare;
    stand_on(s, solid(s, "lump", 40, 20), bare_put(s, 0, mug, 0, 0), KS_RIM, 50, 0);
}

static void a_thick_raw_wall(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *block = solid(s, "block", 40, 50);
    block->wall_mm = 15 - spare;
    stand_on(s, solid(s, "lump", 40, 20), bare_put(s, 0, block, 0, 0), KS_RIM, 50, 0);
}

static void four_mugs(bare_plan *s, ks_way way)
{
    ks_piece *mug = solid(s, "mug", 60, 20);
    ks_placed *at = bare_put(s, 0, mug, 0, 0);
    s->order->rules.stacking.carried = 10;
    for (int i = 1; i < 4; i++)
        at = stand_on(s, mug, at, way, 20, 0);
}

static void rims(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    s->order->rules.stacking.rims = 4 + (int)spare;
    four_mugs(s, KS_RIM);
}

static void plates(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    s->order->rules.stacking.plates = 4 + (int)spare;
    four_mugs(s, KS_PILE);
}

static void mass_carried(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_piece *lump = solid(s, "lump", 40, 20);
    lump->mass_kg = 3 - spare;
    stand_on(s, lump, bare_put(s, 0, solid(s, "mug", 40, 30), 0, 0), KS_RIM, 30, 0);
}

/* All of its mass 25 mm over its foot. */
static void tilted(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_rotation tilt = ks_rotation_of(5);
    ks_piece *peg = solid(s, "peg", 25 * tilt.s / tilt.c + spare, 50);
    stand_on(s, peg, bare_put(s, 0, solid(s, "mug", 40, 30), 0, 0), KS_RIM, 30, 0);
}

/* A tile of 100 x 100 x 10 as it stands on its edge; the first of a row has room for its lean. */
static ks_placed *on_edge(bare_plan *s, const ks_piece *tile, double y, const ks_placed *before)
{
    ks_placed *placed = bare_put(s, 0, tile, 0, y);
    ks_part *parts;
    ks_piece_posed(tile, KS_ON_EDGE, s->arena, &parts);
    if (!before)
        parts[0] = ks_part_leaning(&parts[0], s->arena);
    placed->parts[0] = ks_part_placed(&parts[0], placed->stand, s->arena);
    placed->pose = KS_ON_EDGE;
    placed->way = KS_EDGE;
    placed->top_mm = parts[0].to_mm;
    placed->on_id = before ? before->id : NULL;
    placed->on_copy = before ? before->copy : 0;
    return placed;
}

static ks_piece *tile_of(bare_plan *s, const char *id, double side)
{
    return unglazed(bare_block(s, id, ks_outline_rectangle(side, side, 0, s->arena), 10));
}

static void a_taller_tile_behind(bare_plan *s, shape_kind a, shape_kind b, double spare)
{
    ks_placed *first = on_edge(s, tile_of(s, "tile", 100), 0, NULL);
    on_edge(s, tile_of(s, "other", 100 - spare), 23, first);
}

static void what_stands_on_ware_is_known_to_a_hundredth(void **state)
{
    static const edge rows[] = {
        {"insides", "within a hollow", within_a_hollow, .kinds = 0},
        {"ways", "feet in a pile out of line", feet_in_a_pile, .kinds = 0},
        {"ways", "a small foot in a pile", a_small_foot_in_a_pile, .kinds = 0},
        {"ways", "a taller tile behind", a_taller_tile_behind, .touching = true},
        {"carries", "a thin rim", a_thin_rim, .touching = true},
        {"carries", "a thick raw wall", a_thick_raw_wall, .touching = true},
        {"stack height", "on rims", rims, .step = 1},
        {"stack height", "in a pile", plates, .step = 1},
        {"carried", "mass", mass_carried, .kinds = 0},
        {"tilt", "a peg on a mug", tilted, .kinds = 0},
    };
    (void)state;
    edges_hold(rows, sizeof rows / sizeof *rows);
}

/* A bowl with a cup in it, a mug with a mug on its rim, and two tiles on edge. */
static void stacks(bare_plan *s)
{
    ks_piece *mug = cup(s, "mug", 40, 50);
    ks_placed *bowl = bare_put(s, 0, cup(s, "bowl", 60, 50), -140, 0);
    stand_on(s, cup(s, "cup", 30, 60), bowl, KS_NEST, 8, 0);
    stand_on(s, mug, bare_put(s, 0, mug, 140, 0), KS_RIM, 50, 0);
    ks_piece *tile = tile_of(s, "tile", 100);
    ks_placed *first = on_edge(s, tile, 0, NULL);
    on_edge(s, tile, 23, first);
}

static ks_placed *found(bare_plan *s, int item)
{
    return &s->load->levels[0].pieces[item];
}

enum { BOWL, CUP, LOWER, UPPER, FIRST, SECOND };

static void raise(ks_placed *placed, double mm)
{
    placed->top_mm += mm;
    for (int p = 0; p < placed->n_parts; p++) {
        placed->parts[p].from_mm += mm;
        placed->parts[p].to_mm += mm;
    }
}

static void hang_the_cup(bare_plan *s)
{
    raise(found(s, CUP), 0.01);
}

static void hang_the_mug(bare_plan *s)
{
    raise(found(s, UPPER), 0.01);
}

static void sink_the_cup(bare_plan *s)
{
    raise(found(s, CUP), -0.01);
}

static void call_the_nest_a_rim(bare_plan *s)
{
    found(s, CUP)->way = KS_RIM;
}

static void call_the_rim_a_nest(bare_plan *s)
{
    found(s, UPPER)->way = KS_NEST;
}

static void call_the_rim_a_pile(bare_plan *s)
{
    found(s, UPPER)->way = KS_PILE;
}

static void call_the_cup_a_lid(bare_plan *s)
{
    found(s, CUP)->way = KS_LID;
}

static void forbid_the_bowl_nests(bare_plan *s)
{
    s->order->pieces[found(s, BOWL)->piece].ways &= ~KS_WAY_BIT(KS_NEST);
}

static void forbid_tiles_edges(bare_plan *s)
{
    s->order->pieces[found(s, FIRST)->piece].ways &= ~KS_WAY_BIT(KS_EDGE);
}

static void glaze_the_cup(bare_plan *s)
{
    s->order->pieces[found(s, CUP)->piece].glazed = found(s, CUP)->glazed = true;
}

static void part_the_tiles(bare_plan *s)
{
    found(s, SECOND)->stand.y += 0.01;
    found(s, SECOND)->parts[0].outline = bare_moved(s, found(s, SECOND)->parts[0].outline, 0, 0.01);
}

static void forget_the_lean(bare_plan *s)
{
    ks_part *parts;
    ks_piece_posed(&s->order->pieces[found(s, FIRST)->piece], KS_ON_EDGE, s->arena, &parts);
    found(s, FIRST)->parts[0] = ks_part_placed(&parts[0], found(s, FIRST)->stand, s->arena);
}

static void join_the_mugs_raw(bare_plan *s)
{
    s->order->pieces[found(s, LOWER)->piece].n_joints = 1;
}

static void make_the_cup_a_lid(bare_plan *s)
{
    s->order->pieces[found(s, CUP)->piece].lid_of = "bowl";
}

static void what_is_wrong_in_a_stack_is_found(void **state)
{
    static const slip rows[] = {
        {"on", "a cup hangs in its bowl", hang_the_cup, .by = 0.01},
        {"on", "a mug hangs over its rim", hang_the_mug, .by = 0.01},
        {"insides", "a cup sinks into its bowl", sink_the_cup, .by = 90},
        {"ways", "a nest is called a rim", call_the_nest_a_rim, .by = 42},
        {"ways", "a rim is called a nest", call_the_rim_a_nest, .by = 25},
        {"ways", "a rim is called a pile", call_the_rim_a_pile, .by = 0},
        {"ways", "a cup is called a lid", call_the_cup_a_lid, .by = 0},
        {"ways", "the bowl nests nothing", forbid_the_bowl_nests, .by = 0},
        {"ways", "tiles stay flat", forbid_tiles_edges, .also = "shape"},
        {"on", "glazed ware touches nothing", glaze_the_cup, .by = 0},
        {"on", "a tile leans on nothing", part_the_tiles, .by = 0.008},
        {"shape", "no room for the lean", forget_the_lean, .also = "on"},
        {"carries", "raw joints carry nothing", join_the_mugs_raw, .by = 0},
        {"lids", "a lid in a pot that is not its own way", make_the_cup_a_lid, .by = 1},
    };
    (void)state;
    slips_are_found(stacks, rows, sizeof rows / sizeof *rows);
}

static void on_a_handle(bare_plan *s)
{
    ks_piece *mug = cup(s, "mug", 40, 50);
    bare_part(s, mug, KS_PART_BODY, 20, 60, bare_square(s, 60, 0, 40, 20));
    stand_on(s, solid(s, "lump", 15, 10), bare_put(s, 0, mug, 0, 0), KS_RIM, 60, 60);
}

static void on_a_slab(bare_plan *s)
{
    ks_piece *form = unglazed(bare_piece(s, "form"));
    bare_part(s, form, KS_PART_SLAB, 0, 10, ks_outline_disc(0, 0, 60, s->arena));
    bare_part(s, form, KS_PART_BODY, 10, 60, ks_outline_disc(0, 0, 40, s->arena));
    stand_on(s, solid(s, "lump", 40, 20), bare_put(s, 0, form, 0, 0), KS_RIM, 60, 0);
}

/* Its rim 2 mm from the bowl's: no finger reaches down. */
static void too_deep_for_fingers(bare_plan *s)
{
    ks_placed *bowl = bare_put(s, 0, cup(s, "bowl", 60, 80), 0, 0);
    stand_on(s, solid(s, "lump", 53, 20), bowl, KS_NEST, 8, 0);
}

static void two_in_a_lidded_pot(bare_plan *s)
{
    ks_placed *pot = bare_put(s, 0, cup(s, "pot", 60, 80), 0, 0);
    stand_on(s, solid(s, "lump", 20, 20), pot, KS_NEST, 8, 0);
    ks_piece *lid = solid(s, "lid", 60, 10);
    lid->lid_of = "pot";
    stand_on(s, lid, pot, KS_LID, 80, 0);
}

static void what_carries_nothing_is_found(void **state)
{
    static const slip rows[] = {
        {"carries", "a handle", on_a_handle, .also = "tilt"},
        {"carries", "a form on its slab", on_a_slab, .by = 0},
        {"load order", "too deep for fingers", too_deep_for_fingers, .by = 1},
        {"lids", "ware closed in by a lid", two_in_a_lidded_pot, .by = 1},
    };
    (void)state;
    slips_are_found(NULL, rows, sizeof rows / sizeof *rows);
}

/* Rim to rim, the upper one upside down. */
static void rim_to_rim(bare_plan *s)
{
    ks_piece *bowl = cup(s, "bowl", 60, 50);
    ks_placed *upper = stand_on(s, bowl, bare_put(s, 0, bowl, 0, 0), KS_RIM, 50, 0);
    ks_part *parts;
    int n = ks_piece_posed(bowl, KS_INVERTED, s->arena, &parts);
    upper->pose = KS_INVERTED;
    for (int p = 0; p < n; p++)
        upper->parts[p] = parts[p];
    raise(upper, 50);
    upper->top_mm = 100;
}

static void a_lidded_pot(bare_plan *s)
{
    ks_piece *lid = solid(s, "lid", 60, 10);
    lid->lid_of = "pot";
    stand_on(s, lid, bare_put(s, 0, cup(s, "pot", 60, 80), 0, 0), KS_LID, 80, 0);
}

static void what_is_stacked_well_is_kept(void **state)
{
    static const keeper rows[] = {
        {"on", "stacks", stacks, 0},
        {"ways", "rim to rim", rim_to_rim, 0},
        {"lids", "a lidded pot", a_lidded_pot, 0},
    };
    (void)state;
    keepers_are_kept(rows, sizeof rows / sizeof *rows);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_stands_on_ware_is_known_to_a_hundredth),
        cmocka_unit_test(what_is_wrong_in_a_stack_is_found),
        cmocka_unit_test(what_carries_nothing_is_found),
        cmocka_unit_test(what_is_stacked_well_is_kept),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
