#include "bare_plan.h"

#include <math.h>
#include <string.h>

enum { ROOM = 16 }; /* for each list; a test that needs more has grown too large */

ks_outline bare_moved(const bare_plan *s, ks_outline shape, double x, double y)
{
    return ks_outline_place(&shape, (ks_stand){x, y, 0}, s->arena);
}

ks_outline bare_square(const bare_plan *s, double x, double y, double width, double depth)
{
    return bare_moved(s, ks_outline_rectangle(width, depth, 0, s->arena), x, y);
}

static ks_outline polygon(const bare_plan *s, const ks_point *at, int n)
{
    ks_point *own = KS_TAKE(s->arena, n, ks_point);
    memcpy(own, at, (size_t)n * sizeof *at);
    return (ks_outline){n, own, 0};
}

ks_outline bare_ell(const bare_plan *s, double side)
{
    double r = side / 2;
    const ks_point at[] = {{-r, -r}, {r, -r}, {r, 0}, {0, 0}, {0, r}, {-r, r}};
    return polygon(s, at, 6);
}

ks_outline bare_shape(const bare_plan *s, shape_kind kind)
{
    /* Open to the right, 40 wide. */
    const ks_point at[] = {{-40, -30}, {40, -30}, {40, -20}, {0, -20},
                           {0, 20},    {40, 20},  {40, 30},  {-40, 30}};
    if (kind == CIRCLE)
        return ks_outline_disc(0, 0, 40, s->arena);
    return kind == ROUNDED ? ks_outline_rectangle(80, 60, 10, s->arena) : polygon(s, at, 8);
}

ks_point bare_corner(shape_kind kind)
{
    const ks_point at[] = {{0, 0}, {30, 20}, {40, 30}};
    return at[kind];
}

double bare_round(shape_kind kind)
{
    const double round[] = {40, 10, 0};
    return round[kind];
}

ks_point bare_along(ks_point from, double mm)
{
    return (ks_point){from.x + 0.6 * mm, from.y + 0.8 * mm};
}

ks_piece *bare_piece(bare_plan *s, const char *id)
{
    ks_piece *piece = &s->order->pieces[s->order->n_pieces++];
    *piece = (ks_piece){.id = id,
                        .name = id,
                        .owner = "ann",
                        .count = 1,
                        .clay = -1,
                        .stage = KS_GLAZED,
                        .glazed = true,
                        .price_minor = -1,
                        .set = "",
                        .due_day = KS_NO_DAY,
                        .atmosphere = "",
                        .schedule = "",
                        .defaults = "",
                        .mass_kg = 1,
                        .volume_mm3 = 1e6};
    piece->parts = KS_TAKE(s->arena, ROOM, ks_part);
    return piece;
}

void bare_part(const bare_plan *s, ks_piece *piece, ks_part_kind kind, double from, double to,
               ks_outline outline)
{
    piece->parts[piece->n_parts++] = (ks_part){kind, from, to, outline, {0}};
    piece->height_mm = fmax(piece->height_mm, to);
}

ks_piece *bare_block(bare_plan *s, const char *id, ks_outline outline, double height)
{
    ks_piece *piece = bare_piece(s, id);
    bare_part(s, piece, KS_PART_FOOT, 0, height, outline);
    return piece;
}

static int copies_of(const bare_plan *s, int piece)
{
    int n = 0;
    for (int l = 0; l < s->load->n_levels; l++)
        for (int k = 0; k < s->load->levels[l].n_pieces; k++)
            n += s->load->levels[l].pieces[k].piece == piece;
    return n;
}

ks_placed *bare_put(const bare_plan *s, int level, const ks_piece *piece, double x, double y)
{
    int number = (int)(piece - s->order->pieces), copy = copies_of(s, number) + 1;
    ks_level *on = &s->load->levels[level];
    ks_placed *placed = &on->pieces[on->n_pieces++];
    *placed = (ks_placed){.piece = number,
                          .id = piece->id,
                          .owner = piece->owner,
                          .copy = copy,
                          .role = piece->role,
                          .pose = piece->pose,
                          .stand = {x, y, 0},
                          .glazed = piece->glazed,
                          .around_mm = piece->around_mm,
                          .top_mm = piece->height_mm,
                          .n_parts = piece->n_parts,
                          .parts = KS_TAKE(s->arena, piece->n_parts, ks_part)};
    for (int p = 0; p < piece->n_parts; p++) {
        placed->parts[p] = piece->parts[p];
        placed->parts[p].outline = bare_moved(s, piece->parts[p].outline, x, y);
        if (piece->parts[p].hollow.n > 0)
            placed->parts[p].hollow = bare_moved(s, piece->parts[p].hollow, x, y);
    }
    if (copy > piece->count)
        s->order->pieces[number].count = copy;
    return placed;
}

ks_placed *bare_put_corner(const bare_plan *s, int level, const ks_piece *piece, shape_kind kind,
                           int way, ks_point at)
{
    ks_point corner = bare_corner(kind);
    return bare_put(s, level, piece, at.x - way * corner.x, at.y - way * corner.y);
}

ks_placed *bare_put_on(const bare_plan *s, const ks_piece *piece, const ks_placed *carrier,
                       double x, double y)
{
    ks_placed *placed = bare_put(s, 0, piece, x, y);
    double lift = carrier->top_mm;
    placed->on_id = carrier->id;
    placed->on_copy = carrier->copy;
    placed->top_mm += lift;
    for (int p = 0; p < placed->n_parts; p++) {
        placed->parts[p].from_mm += lift;
        placed->parts[p].to_mm += lift;
    }
    return placed;
}

void bare_put_cones(bare_plan *s, int level, double x, double y)
{
    const ks_cone_packs *cones = &s->order->rules.cones;
    ks_level *on = &s->load->levels[level];
    ks_placed *placed = &on->pieces[on->n_pieces++];
    *placed = (ks_placed){.piece = -1,
                          .id = "cones",
                          .owner = "",
                          .copy = level + 1,
                          .role = KS_CONES,
                          .stand = {x, y, 0},
                          .glazed = true,
                          .top_mm = cones->height_mm,
                          .n_parts = 1,
                          .parts = KS_TAKE(s->arena, 1, ks_part)};
    placed->parts[0] = (ks_part){KS_PART_BODY,
                                 0,
                                 cones->height_mm,
                                 bare_square(s, x, y, cones->width_mm, cones->depth_mm),
                                 {0}};
}

void bare_chamber(const bare_plan *s, ks_outline outline)
{
    s->kiln->parts[0].outline = s->load->parts[0].outline = outline;
}

void bare_shelf(const bare_plan *s, int level, ks_outline outline, double x, double y)
{
    ks_shelf *shelf = &s->load->levels[level].shelves[0];
    s->kiln->shelves[shelf->kind].outline = outline;
    shelf->outline = bare_moved(s, outline, x, y);
}

void bare_lay_shelf(const bare_plan *s, int level, ks_outline outline, double x, double y)
{
    const char *const ids[] = {"first", "second", "third", "fourth"};
    ks_level *on = &s->load->levels[level];
    int kind = s->kiln->n_shelves++;
    s->kiln->shelves[kind] = (ks_shelf_kind){.id = ids[kind],
                                             .outline = outline,
                                             .thickness_mm = 15,
                                             .count = 1,
                                             .mass_kg = 6,
                                             .safe_load_kg = 50};
    on->shelves[on->n_shelves++] = (ks_shelf){ids[kind], kind, bare_moved(s, outline, x, y), 15};
}

/* Posts are in stock as they are used, so that the stock is just enough. */
void bare_post(bare_plan *s, ks_outline outline, double from, double to)
{
    ks_point at = ks_outline_centroid(&outline);
    s->load->posts[s->load->n_posts++] = (ks_post){outline, from, to, 1, {to - from, 0}};
    s->kiln->posts[s->kiln->n_posts++] =
        (ks_post_kind){.id = "post",
                       .height_mm = to - from,
                       .outline = bare_moved(s, outline, -at.x, -at.y),
                       .count = 1,
                       .mass_kg = 0.5};
}

static void three_posts(bare_plan *s, double from, double to)
{
    const ks_point at[] = {{-100, -100}, {100, -100}, {-100, 100}};
    for (int i = 0; i < 3; i++)
        bare_post(s, ks_outline_disc(at[i].x, at[i].y, 15, s->arena), from, to);
}

ks_level *bare_add_level(const bare_plan *s, double z, double gap)
{
    ks_level *level = &s->load->levels[s->load->n_levels++];
    *level = (ks_level){.bay = "whole", .z_mm = z, .gap_mm = gap};
    level->shelves = KS_TAKE(s->arena, ROOM, ks_shelf);
    level->pieces = KS_TAKE(s->arena, ROOM, ks_placed);
    return level;
}

ks_level *bare_upper_level(bare_plan *s, ks_outline shelf, double x, double y)
{
    three_posts(s, 40, 190);
    s->load->levels[0].gap_mm = 150;
    ks_level *level = bare_add_level(s, 205, 195);
    bare_lay_shelf(s, 1, shelf, x, y);
    return level;
}

void bare_keep_out(const bare_plan *s, ks_outline outline, double from, double to)
{
    s->kiln->keep_outs[s->kiln->n_keep_outs++] = (ks_keep_out){"sensor", outline, from, to, 10};
    s->load->keep_outs[s->load->n_keep_outs++] = (ks_keep_out){"sensor", outline, from, to, 10};
}

void bare_front_loader(const bare_plan *s)
{
    s->kiln->loading = KS_FRONT_LOADER;
    s->kiln->opening_width_mm = 500;
    s->kiln->opening_height_mm = 350;
}

void bare_clearance(const bare_plan *s, double *which, double mm)
{
    size_t at = (size_t)((char *)which - (char *)&s->load->clearance);
    *which = mm;
    *(double *)((char *)&s->kiln->clearance + at) = mm;
}

static void make_order(bare_plan *s)
{
    ks_order *order = s->order = KS_TAKE(s->arena, 1, ks_order);
    order->currency = "EUR";
    for (int i = 0; i < ks_n_clearances; i++)
        *ks_clearance_at(&order->rules.clearance, i) = -1;
    order->rules.stacking = ks_usual_stacking;
    order->rules.cones.width_mm = 60;
    order->rules.cones.depth_mm = 24;
    order->rules.cones.height_mm = 70;
    order->n_firings = 1;
    order->firings = KS_TAKE(s->arena, ROOM, ks_firing);
    order->firings[0] = (ks_firing){"glaze", "6", 0, "oxidation", ""};
    order->n_slots = 1;
    order->slots = KS_TAKE(s->arena, ROOM, ks_slot);
    order->slots[0] = (ks_slot){0, 0, KS_NO_DAY};
    order->pieces = KS_TAKE(s->arena, ROOM, ks_piece);
    order->n_kilns = 1;
    order->kilns = KS_TAKE(s->arena, 1, ks_kiln);
}

static void make_kiln(bare_plan *s)
{
    ks_kiln *kiln = s->kiln = &s->order->kilns[0];
    *kiln = (ks_kiln){.id = "square", .name = "square", .loading = KS_TOP_LOADER, .height_mm = 400};
    kiln->clearance = (ks_clearance){6, 12, 8, 20, 13, 4, 5, 2, 1};
    kiln->n_parts = 1;
    kiln->parts = KS_TAKE(s->arena, ROOM, ks_chamber_part);
    kiln->parts[0] = (ks_chamber_part){0, 400, bare_square(s, 0, 0, 600, 600)};
    kiln->keep_outs = KS_TAKE(s->arena, ROOM, ks_keep_out);
    kiln->shelves = KS_TAKE(s->arena, ROOM, ks_shelf_kind);
    kiln->posts = KS_TAKE(s->arena, ROOM, ks_post_kind);
    kiln->floor_post_least_mm = 25;
    kiln->n_bays = 1;
    kiln->bays = KS_TAKE(s->arena, ROOM, ks_bay);
    kiln->bays[0] = (ks_bay){.id = "whole", .outline = bare_square(s, 0, 0, 600, 600)};
}

static void make_load(bare_plan *s)
{
    s->plan = KS_TAKE(s->arena, 1, ks_plan);
    s->load = KS_TAKE(s->arena, 2, ks_load);
    *s->plan = (ks_plan){.version = "0", .order = s->order, .n_loads = 1, .loads = s->load};
    *s->load = (ks_load){.kiln_id = "square",
                         .firing = s->order->firings[0],
                         .day = KS_NO_DAY,
                         .height_mm = 400,
                         .n_parts = 1,
                         .clearance = s->kiln->clearance,
                         .n_bays = 1};
    s->load->parts = KS_TAKE(s->arena, ROOM, ks_chamber_part);
    s->load->parts[0] = s->kiln->parts[0];
    s->load->keep_outs = KS_TAKE(s->arena, ROOM, ks_keep_out);
    s->load->bays = KS_TAKE(s->arena, ROOM, ks_load_bay);
    s->load->bays[0] = (ks_load_bay){"whole", s->kiln->bays[0].outline};
    s->load->posts = KS_TAKE(s->arena, ROOM, ks_post);
    s->load->levels = KS_TAKE(s->arena, ROOM, ks_level);
}

bare_plan bare_plan_made(ks_arena *arena)
{
    bare_plan s = {.arena = arena};
    make_order(&s);
    make_kiln(&s);
    make_load(&s);
    three_posts(&s, 0, 25);
    bare_add_level(&s, 40, 360);
    bare_lay_shelf(&s, 0, ks_outline_rectangle(500, 500, 0, arena), 0, 0);
    return s;
}

static void add_step(ks_load *load, ks_put what, int level, int item)
{
    load->steps[load->n_steps++] = (ks_step){what, level, item};
}

void bare_plan_list_steps(bare_plan *s)
{
    s->load->steps = KS_TAKE(s->arena, 8 * ROOM, ks_step);
    add_step(s->load, KS_PUT_POSTS, -1, -1);
    for (int l = 0; l < s->load->n_levels; l++) {
        const ks_level *level = &s->load->levels[l];
        for (int k = 0; k < level->n_shelves; k++)
            add_step(s->load, KS_PUT_SHELF, l, k);
        for (int k = 0; k < level->n_pieces; k++)
            add_step(s->load, level->pieces[k].role == KS_CONES ? KS_PUT_CONES : KS_PUT_PIECE, l,
                     k);
        if (l + 1 < s->load->n_levels)
            add_step(s->load, KS_PUT_POSTS, l, -1);
    }
}
