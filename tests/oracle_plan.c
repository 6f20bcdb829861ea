#include "oracle_plan.h"

#include <math.h>
#include <string.h>

static ks_outline rectangle(ks_arena *arena, double x, double y, double width, double depth)
{
    ks_outline at = ks_outline_rectangle(width, depth, 0, arena);
    return ks_outline_place(&at, (ks_stand){x, y, 0}, arena);
}

static void add_part(ks_arena *arena, ks_piece *piece, ks_part_kind kind, double from, double to,
                     ks_outline outline)
{
    if (!piece->parts)
        piece->parts = KS_TAKE(arena, 4, ks_part);
    piece->parts[piece->n_parts++] = (ks_part){kind, from, to, outline, {0}};
    piece->height_mm = fmax(piece->height_mm, to);
}

static void describe(ks_piece *piece, const char *id, int count, bool glazed)
{
    *piece = (ks_piece){.id = id,
                        .name = id,
                        .owner = "ann",
                        .count = count,
                        .clay = -1,
                        .stage = glazed ? KS_GLAZED : KS_BISQUE,
                        .glazed = glazed,
                        .price_minor = -1,
                        .set = "",
                        .due_day = KS_NO_DAY,
                        .atmosphere = "",
                        .schedule = "",
                        .defaults = "",
                        .mass_kg = 0.4,
                        .volume_mm3 = 4e5,
                        .wall_mm = 5};
}

static void make_pieces(ks_arena *a, ks_order *order)
{
    ks_piece *all = order->pieces = KS_TAKE(a, SMALL_PIECES, ks_piece);
    order->n_pieces = SMALL_PIECES;
    describe(&all[MUG], "mug", 3, true);
    add_part(a, &all[MUG], KS_PART_FOOT, 0, 5, ks_outline_disc(0, 0, 30, a));
    add_part(a, &all[MUG], KS_PART_BODY, 5, 95, ks_outline_disc(0, 0, 40, a));
    add_part(a, &all[MUG], KS_PART_BODY, 30, 80, rectangle(a, 48, 0, 25, 16));
    all[MUG].tags = 1;
    all[MUG].outward_mm = 0.5;
    describe(&all[BOWL], "bowl", 1, true);
    add_part(a, &all[BOWL], KS_PART_FOOT, 0, 20, ks_outline_disc(0, 0, 30, a));
    add_part(a, &all[BOWL], KS_PART_BODY, 20, 70, ks_outline_disc(0, 0, 60, a));
    describe(&all[PLATE], "plate", 1, true);
    add_part(a, &all[PLATE], KS_PART_FOOT, 0, 8, ks_outline_disc(0, 0, 45, a));
    all[PLATE].tags = 2;
    describe(&all[FORM], "form", 2, false);
    add_part(a, &all[FORM], KS_PART_GROG, 0, 3, rectangle(a, 0, 0, 120, 120));
    add_part(a, &all[FORM], KS_PART_SLAB, 3, 13, rectangle(a, 0, 0, 120, 120));
    add_part(a, &all[FORM], KS_PART_BODY, 13, 120, ks_outline_disc(0, 0, 50, a));
    all[FORM].must_go = true;
    all[FORM].turn_step_deg = 90;
    describe(&all[TILE], "tile", 2, false);
    add_part(a, &all[TILE], KS_PART_FOOT, 0, 10, rectangle(a, 0, 0, 80, 80));
    describe(&all[POT], "pot", 1, true);
    add_part(a, &all[POT], KS_PART_FOOT, 0, 100, ks_outline_disc(0, 0, 40, a));
    describe(&all[LID], "lid", 1, true);
    add_part(a, &all[LID], KS_PART_FOOT, 0, 20, ks_outline_disc(0, 0, 30, a));
    all[POT].set = all[LID].set = "tea";
    describe(&all[TESTER], "tester", 1, true);
    add_part(a, &all[TESTER], KS_PART_FOOT, 0, 60, ks_outline_disc(0, 0, 20, a));
    all[TESTER].keep = (ks_keep){true, 0, 1, "whole", {190, 0, 0}};
    describe(&all[VASE], "vase", 2, true);
    add_part(a, &all[VASE], KS_PART_FOOT, 0, 300, ks_outline_disc(0, 0, 60, a));
}

static void make_kiln(ks_arena *a, ks_kiln *kiln)
{
    *kiln = (ks_kiln){.id = "square", .name = "square", .loading = KS_TOP_LOADER, .height_mm = 400};
    kiln->clearance = (ks_clearance){6, 12, 6, 20, 13, 3, 6, 2, 0};
    kiln->n_parts = 1;
    kiln->parts = KS_TAKE(a, 1, ks_chamber_part);
    kiln->parts[0] = (ks_chamber_part){0, 400, rectangle(a, 0, 0, 500, 500)};
    kiln->n_keep_outs = 2;
    kiln->keep_outs = KS_TAKE(a, 2, ks_keep_out);
    kiln->keep_outs[0] = (ks_keep_out){"sensor", rectangle(a, -240, 0, 30, 12), 100, 110, 10};
    kiln->keep_outs[1] = (ks_keep_out){"peephole", rectangle(a, 0, -245, 20, 10), 60, 80, 5};
    kiln->n_shelves = 2;
    kiln->shelves = KS_TAKE(a, 2, ks_shelf_kind);
    kiln->shelves[0] = (ks_shelf_kind){.id = "whole",
                                       .outline = ks_outline_rectangle(440, 440, 0, a),
                                       .thickness_mm = 15,
                                       .count = 1,
                                       .mass_kg = 6,
                                       .safe_load_kg = 20};
    kiln->shelves[1] = (ks_shelf_kind){.id = "half",
                                       .outline = ks_outline_rectangle(219, 440, 5, a),
                                       .thickness_mm = 15,
                                       .count = 2,
                                       .mass_kg = 3,
                                       .safe_load_kg = 10};
    kiln->n_posts = 3;
    kiln->posts = KS_TAKE(a, 3, ks_post_kind);
    const double heights[] = {25, 50, 100};
    for (int k = 0; k < 3; k++)
        kiln->posts[k] = (ks_post_kind){.id = "square",
                                        .height_mm = heights[k],
                                        .outline = ks_outline_rectangle(38, 38, 0, a),
                                        .count = 4,
                                        .mass_kg = 0.1};
    kiln->floor_post_least_mm = 13;
    kiln->mass_limit_kg = 60;
    kiln->n_bays = 1;
    kiln->bays = KS_TAKE(a, 1, ks_bay);
    kiln->bays[0] = (ks_bay){.id = "whole", .outline = rectangle(a, 0, 0, 500, 500)};
}

static ks_order *order_made(ks_arena *a)
{
    ks_order *order = KS_TAKE(a, 1, ks_order);
    order->currency = "EUR";
    order->rules.cones = (ks_cone_packs){true, true, true, true, true, 60, 25, 65, false, false};
    for (int i = 0; i < ks_n_clearances; i++)
        *ks_clearance_at(&order->rules.clearance, i) = -1;
    order->rules.n_apart = 1;
    order->rules.apart = KS_TAKE(a, 1, ks_apart);
    order->rules.apart[0] = (ks_apart){1, 2, false};
    order->rules.stacking = ks_usual_stacking;
    order->rules.hand_room_mm = 25;
    order->rules.large_mm = 100;
    order->n_firings = 1;
    order->firings = KS_TAKE(a, 1, ks_firing);
    order->firings[0] = (ks_firing){"glaze", "6", 0, "oxidation", ""};
    order->n_slots = 1;
    order->slots = KS_TAKE(a, 1, ks_slot);
    order->slots[0] = (ks_slot){0, 0, KS_NO_DAY};
    order->n_members = 1;
    order->members = KS_TAKE(a, 1, ks_member);
    order->members[0] =
        (ks_member){.id = "ann", .name = "Ann", .quota_litres = 8, .quota_pieces = 14};
    order->n_kilns = 1;
    order->kilns = KS_TAKE(a, 1, ks_kiln);
    make_kiln(a, &order->kilns[0]);
    make_pieces(a, order);
    return order;
}

static void lay_shelf(ks_arena *a, const ks_kiln *kiln, ks_level *level, int kind, double x)
{
    ks_shelf *shelf = &level->shelves[level->n_shelves++];
    *shelf = (ks_shelf){kiln->shelves[kind].id, kind,
                        ks_outline_place(&kiln->shelves[kind].outline, (ks_stand){x, 0, 0}, a),
                        kiln->shelves[kind].thickness_mm};
}

static void make_furniture(ks_arena *a, const ks_kiln *kiln, ks_load *load)
{
    load->n_levels = 2;
    load->levels = KS_TAKE(a, 2, ks_level);
    for (int l = 0; l < 2; l++) {
        load->levels[l] = (ks_level){.bay = "whole", .z_mm = l ? 205 : 40, .gap_mm = l ? 195 : 150};
        load->levels[l].shelves = KS_TAKE(a, 2, ks_shelf);
        load->levels[l].pieces = KS_TAKE(a, 12, ks_placed);
    }
    lay_shelf(a, kiln, &load->levels[0], 0, 0);
    lay_shelf(a, kiln, &load->levels[1], 1, -110.5);
    lay_shelf(a, kiln, &load->levels[1], 1, 110.5);
    const ks_point at[4] = {{-180, 0}, {180, 0}, {0, -150}, {0, 150}};
    load->n_posts = 8;
    load->posts = KS_TAKE(a, 8, ks_post);
    for (int i = 0; i < 4; i++) {
        ks_outline outline = rectangle(a, at[i].x, at[i].y, 38, 38);
        load->posts[i] = (ks_post){outline, 0, 25, 1, {25, 0}};
        load->posts[4 + i] = (ks_post){outline, 40, 190, 2, {100, 50}};
    }
}

static ks_placed *put(const small_plan *s, int level, int piece, int copy, double x, double y)
{
    const ks_piece *of = &s->order->pieces[piece];
    ks_level *on = &s->load->levels[level];
    ks_placed *placed = &on->pieces[on->n_pieces++];
    *placed = (ks_placed){.piece = piece,
                          .id = of->id,
                          .owner = of->owner,
                          .copy = copy,
                          .glazed = of->glazed,
                          .around_mm = of->around_mm,
                          .top_mm = of->height_mm,
                          .n_parts = of->n_parts,
                          .parts = KS_TAKE(s->arena, of->n_parts, ks_part)};
    small_plan_move(s, placed, x, y, 0);
    return placed;
}

static void put_cones(const small_plan *s, int level, int copy, double x, double y)
{
    ks_level *on = &s->load->levels[level];
    ks_placed *placed = &on->pieces[on->n_pieces++];
    *placed = (ks_placed){.piece = -1,
                          .id = "cones",
                          .owner = "",
                          .copy = copy,
                          .role = KS_CONES,
                          .stand = {x, y, 0},
                          .glazed = true,
                          .top_mm = 65,
                          .n_parts = 1,
                          .parts = KS_TAKE(s->arena, 1, ks_part)};
    placed->parts[0] = (ks_part){KS_PART_BODY, 0, 65, rectangle(s->arena, x, y, 60, 25), {0}};
}

static void fill(const small_plan *s)
{
    put(s, 0, MUG, 1, -140, -140);
    put(s, 0, MUG, 2, 140, -140);
    put(s, 0, MUG, 3, -140, 140);
    put(s, 0, FORM, 1, 130, 130);
    put_cones(s, 0, 1, 0, -100);
    put(s, 1, PLATE, 1, -110, -25);
    put(s, 1, BOWL, 1, -110, -110);
    put(s, 1, FORM, 2, 130, 130);
    put(s, 1, TILE, 1, 110, -110);
    ks_placed *upper = put(s, 1, TILE, 2, 110, -110);
    upper->on_id = "tile";
    upper->on_copy = 1;
    upper->top_mm = 20;
    upper->parts[0].from_mm += 10;
    upper->parts[0].to_mm += 10;
    put(s, 1, POT, 1, -120, 120);
    put(s, 1, LID, 1, 0, 150);
    put(s, 1, TESTER, 1, 190, 0);
    put_cones(s, 1, 2, 30, -190);
}

static void add_step(ks_load *load, ks_put what, int level, int item)
{
    load->steps[load->n_steps++] = (ks_step){what, level, item};
}

static void list_steps(ks_arena *a, ks_load *load)
{
    load->steps = KS_TAKE(a, 40, ks_step);
    add_step(load, KS_PUT_POSTS, -1, -1);
    for (int l = 0; l < load->n_levels; l++) {
        const ks_level *level = &load->levels[l];
        for (int s = 0; s < level->n_shelves; s++)
            add_step(load, KS_PUT_SHELF, l, s);
        for (int k = 0; k < level->n_pieces; k++)
            add_step(load, level->pieces[k].role == KS_CONES ? KS_PUT_CONES : KS_PUT_PIECE, l, k);
        if (l + 1 < load->n_levels)
            add_step(load, KS_PUT_POSTS, l, -1);
    }
}

small_plan small_plan_made(ks_arena *a)
{
    small_plan s = {.arena = a, .order = order_made(a)};
    s.kiln = &s.order->kilns[0];
    s.plan = KS_TAKE(a, 1, ks_plan);
    s.load = KS_TAKE(a, 1, ks_load);
    *s.plan = (ks_plan){.version = "0", .order = s.order, .n_loads = 1, .loads = s.load};
    *s.load = (ks_load){.kiln_id = "square",
                        .firing = s.order->firings[0],
                        .day = KS_NO_DAY,
                        .height_mm = 400,
                        .n_parts = 1,
                        .clearance = s.kiln->clearance,
                        .n_keep_outs = 2,
                        .n_bays = 1};
    s.load->parts = KS_TAKE(a, 1, ks_chamber_part);
    s.load->parts[0] = s.kiln->parts[0];
    s.load->keep_outs = KS_TAKE(a, 2, ks_keep_out);
    memcpy(s.load->keep_outs, s.kiln->keep_outs, 2 * sizeof(ks_keep_out));
    s.load->bays = KS_TAKE(a, 1, ks_load_bay);
    s.load->bays[0] = (ks_load_bay){"whole", s.kiln->bays[0].outline};
    make_furniture(a, s.kiln, s.load);
    fill(&s);
    list_steps(a, s.load);
    s.plan->n_left_out = 1;
    s.plan->left_out = KS_TAKE(a, 1, ks_left_out);
    s.plan->left_out[0] = (ks_left_out){VASE, "vase", 2, "too tall", "", "", {0}, {0}};
    return s;
}

ks_placed *small_plan_find(const small_plan *s, const char *id, int copy)
{
    for (int l = 0; l < s->load->n_levels; l++)
        for (int k = 0; k < s->load->levels[l].n_pieces; k++) {
            ks_placed *placed = &s->load->levels[l].pieces[k];
            if (strcmp(placed->id, id) == 0 && placed->copy == copy)
                return placed;
        }
    return NULL;
}

void small_plan_move(const small_plan *s, ks_placed *placed, double x, double y, double turn)
{
    const ks_piece *of = &s->order->pieces[placed->piece];
    placed->stand = (ks_stand){x, y, turn};
    for (int p = 0; p < placed->n_parts; p++) {
        double lift = placed->on_id ? placed->parts[p].from_mm - of->parts[p].from_mm : 0;
        ks_outline there = ks_outline_place(&of->parts[p].outline, placed->stand, s->arena);
        placed->parts[p] = (ks_part){of->parts[p].kind,
                                     of->parts[p].from_mm + lift,
                                     of->parts[p].to_mm + lift,
                                     ks_outline_gridded(&there, s->arena),
                                     {0}};
    }
}
