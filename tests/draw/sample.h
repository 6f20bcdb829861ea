/* sample.h: plausible plans made in C, from a seed: what drawing is tested on. */
#ifndef KILNSTOW_TESTS_DRAW_SAMPLE_H
#define KILNSTOW_TESTS_DRAW_SAMPLE_H

#include "kilnstow/plan.h"

#include <math.h>
#include <string.h>

typedef struct {
    uint64_t seed;
    int levels, pieces; /* pieces wanted on each level; fewer where there is no room */
    int members;
    double inside_mm;         /* the chamber's diameter */
    double least_mm, most_mm; /* breadth of pieces */
    bool with_form;           /* a large concave form on its slab on the bottom level */
    bool front;               /* front loader with a square chamber */
    bool halves;              /* on half shelves, left and right */
    const char *unit;         /* of lengths, for display */
    const char *name;         /* of every piece; NULL = its kind's */
} sample_wish;

static inline sample_wish sample_small(void)
{
    return (sample_wish){7, 3, 12, 3, 560, 60, 170, true, false, false, "mm", NULL};
}

typedef struct {
    ks_arena *arena;
    sample_wish wish;
    uint64_t state;
    ks_order *order;
    ks_plan *plan;
    int piece_room;
} sampler;

static inline double sample_between(sampler *s, double least, double most)
{
    s->state = s->state * 6364136223846793005u + 1442695040888963407u;
    return least + (most - least) * (double)(s->state >> 33) / 2147483648.0;
}

static inline ks_part sample_part(ks_part_kind kind, double from, double to, ks_outline outline)
{
    return (ks_part){kind, from, to, outline, {0}};
}

static inline ks_outline sample_polygon(ks_arena *arena, int n, const double (*at)[2], double round)
{
    ks_point *points = KS_TAKE(arena, n, ks_point);
    for (int i = 0; i < n; i++)
        points[i] = (ks_point){at[i][0], at[i][1]};
    return (ks_outline){n, points, round};
}

static inline ks_outline sample_handle(ks_arena *arena, double r)
{
    const double at[4][2] = {{r - 6, -5}, {r + 0.5 * r, -5}, {r + 0.5 * r, 5}, {r - 6, 5}};
    return sample_polygon(arena, 4, at, 4);
}

/* Parts of a piece of about that breadth, in its own axes. */
static inline ks_piece sample_mug(sampler *s, double breadth)
{
    ks_arena *arena = s->arena;
    double r = breadth / 2.6, h = sample_between(s, 80, 120);
    ks_piece piece = {.name = "Mug", .n_parts = 2, .parts = KS_TAKE(arena, 2, ks_part)};
    piece.parts[0] = sample_part(KS_PART_BODY, 0, h, ks_outline_disc(0, 0, r, arena));
    piece.parts[1] = sample_part(KS_PART_BODY, 0.25 * h, 0.8 * h, sample_handle(arena, r));
    return piece;
}

static inline ks_piece sample_bowl(sampler *s, double breadth)
{
    ks_arena *arena = s->arena;
    double r = breadth / 2;
    ks_piece piece = {.name = "Bowl", .n_parts = 4, .parts = KS_TAKE(arena, 4, ks_part)};
    piece.parts[0] = sample_part(KS_PART_FOOT, 0, 8, ks_outline_disc(0, 0, 0.45 * r, arena));
    piece.parts[1] = sample_part(KS_PART_BODY, 8, 30, ks_outline_disc(0, 0, 0.7 * r, arena));
    piece.parts[2] = sample_part(KS_PART_BODY, 30, 55, ks_outline_disc(0, 0, 0.9 * r, arena));
    piece.parts[3] =
        sample_part(KS_PART_BODY, 55, sample_between(s, 70, 90), ks_outline_disc(0, 0, r, arena));
    return piece;
}

static inline ks_piece sample_bottle(sampler *s, double breadth)
{
    ks_arena *arena = s->arena;
    double r = breadth / 2, h = sample_between(s, 110, 160);
    ks_piece piece = {.name = "Bottle", .n_parts = 3, .parts = KS_TAKE(arena, 3, ks_part)};
    piece.parts[0] = sample_part(KS_PART_BODY, 0, 0.2 * h, ks_outline_disc(0, 0, 0.8 * r, arena));
    piece.parts[1] = sample_part(KS_PART_BODY, 0.2 * h, 0.6 * h, ks_outline_disc(0, 0, r, arena));
    piece.parts[2] = sample_part(KS_PART_BODY, 0.6 * h, h, ks_outline_disc(0, 0, 0.35 * r, arena));
    return piece;
}

static inline ks_piece sample_box(sampler *s, double breadth)
{
    ks_piece piece = {.name = "Slab box", .n_parts = 1, .parts = KS_TAKE(s->arena, 1, ks_part)};
    double w = breadth * 0.78, d = breadth * sample_between(s, 0.3, 0.6);
    piece.parts[0] = sample_part(KS_PART_BODY, 0, sample_between(s, 20, 110),
                                 ks_outline_rectangle(w, d, 4, s->arena));
    return piece;
}

static inline ks_piece sample_form(sampler *s)
{
    ks_arena *arena = s->arena;
    const double body[6][2] = {{-120, -90}, {120, -90}, {120, 10},
                               {10, 10},    {10, 100},  {-120, 100}};
    const double slab[5][2] = {{-130, -100}, {130, -100}, {130, 20}, {20, 110}, {-130, 110}};
    ks_piece piece = {.name = "Joined form", .n_parts = 4, .parts = KS_TAKE(arena, 4, ks_part)};
    piece.parts[0] = sample_part(KS_PART_GROG, 0, 3, sample_polygon(arena, 5, slab, 0));
    piece.parts[1] = sample_part(KS_PART_SLAB, 3, 16, sample_polygon(arena, 5, slab, 0));
    piece.parts[2] = sample_part(KS_PART_GROG, 16, 19, sample_polygon(arena, 6, body, 0));
    piece.parts[3] = sample_part(KS_PART_BODY, 19, 165, sample_polygon(arena, 6, body, 8));
    piece.has_setter = true;
    piece.setter = (ks_setter){.kind = KS_PART_SLAB,
                               .clay = -1,
                               .stage = KS_DRY,
                               .thickness_mm = 13,
                               .margin_mm = 10,
                               .bed_under_mm = 3,
                               .bed_over_mm = 3,
                               .bed_spread_mm = 2,
                               .bed_material = "grog"};
    piece.mass_kg = 14.5;
    return piece;
}

static inline double sample_reach(const ks_piece *piece)
{
    double reach = 0;
    for (int i = 0; i < piece->n_parts; i++)
        reach = fmax(reach, ks_outline_reach(&piece->parts[i].outline));
    return reach;
}

static inline int sample_piece_added(sampler *s, ks_piece piece)
{
    ks_order *order = s->order;
    order->pieces = KS_GROW(s->arena, order->pieces, order->n_pieces, &s->piece_room, ks_piece);
    int at = order->n_pieces++;
    piece.id = ks_arena_print(s->arena, "p%d", at + 1);
    if (s->wish.name)
        piece.name = s->wish.name;
    piece.owner = s->wish.members > 0 ? order->members[at % s->wish.members].id : "";
    piece.count = 1;
    piece.stage = KS_GLAZED;
    piece.glazed = true;
    piece.clay = -1;
    piece.set = piece.as_entered = piece.defaults = piece.schedule = piece.atmosphere = "";
    piece.due_day = KS_NO_DAY;
    piece.price_minor = -1;
    piece.n_glazes = order->n_glazes > 0;
    piece.glazes = KS_TAKE(s->arena, 1, int);
    piece.glazes[0] = order->n_glazes > 0 ? at % order->n_glazes : 0;
    for (int i = 0; i < piece.n_parts; i++)
        piece.height_mm = fmax(piece.height_mm, piece.parts[i].to_mm);
    order->pieces[at] = piece;
    return at;
}

static inline ks_placed sample_placed(sampler *s, int at, ks_stand stand)
{
    const ks_piece *piece = &s->order->pieces[at];
    ks_placed placed = {.piece = at,
                        .id = piece->id,
                        .owner = piece->owner,
                        .copy = 1,
                        .stand = stand,
                        .glazed = true,
                        .top_mm = piece->height_mm,
                        .n_parts = piece->n_parts,
                        .parts = KS_TAKE(s->arena, piece->n_parts, ks_part)};
    for (int i = 0; i < piece->n_parts; i++) {
        placed.parts[i] = piece->parts[i];
        placed.parts[i].outline = ks_outline_place(&piece->parts[i].outline, stand, s->arena);
    }
    return placed;
}

/* A free place by trial; false when a hundred trials found none. */
static inline bool sample_place(sampler *s, const ks_point *at, const double *reach, int n,
                                double r, ks_point *found)
{
    double limit = s->wish.inside_mm / 2 - 30 - r;
    for (int trial = 0; trial < 100; trial++) {
        ks_point p = {sample_between(s, -limit, limit), sample_between(s, -limit, limit)};
        bool free = s->wish.front || hypot(p.x, p.y) < limit;
        for (int i = 0; free && i < n; i++)
            free = hypot(p.x - at[i].x, p.y - at[i].y) > r + reach[i] + 6;
        if (free) {
            *found = p;
            return true;
        }
    }
    return false;
}

static inline ks_placed sample_cones(sampler *s, ks_point at)
{
    const double pack[4][2] = {{at.x - 15, at.y - 10},
                               {at.x + 15, at.y - 10},
                               {at.x + 15, at.y + 10},
                               {at.x - 15, at.y + 10}};
    ks_placed placed = {.piece = -1,
                        .id = "cones",
                        .owner = "",
                        .copy = 1,
                        .role = KS_CONES,
                        .stand = {at.x, at.y, 0},
                        .top_mm = 65,
                        .n_parts = 1,
                        .parts = KS_TAKE(s->arena, 1, ks_part)};
    placed.parts[0] = sample_part(KS_PART_BODY, 0, 65, sample_polygon(s->arena, 4, pack, 0));
    return placed;
}

static inline void sample_level(sampler *s, ks_level *level, int nth, const ks_point *posts,
                                double gap)
{
    ks_arena *arena = s->arena;
    int room = s->wish.pieces + 8, n = 0;
    ks_point *at = KS_TAKE(arena, room, ks_point);
    double *reach = KS_TAKE(arena, room, double);
    for (; n < 3; n++) {
        at[n] = posts[n];
        reach[n] = 16;
    }
    level->pieces = KS_TAKE(arena, room, ks_placed);
    ks_point found;
    if (nth != 1 && s->wish.pieces > 0 && sample_place(s, at, reach, n, 19, &found)) {
        at[n] = found;
        reach[n++] = 19;
        level->pieces[level->n_pieces++] = sample_cones(s, found);
    }
    for (int i = 0; i < s->wish.pieces; i++) {
        double breadth = sample_between(s, s->wish.least_mm, s->wish.most_mm);
        int kind = (int)sample_between(s, 0, 4);
        ks_piece piece = i == 0 && nth == 0 && s->wish.with_form ? sample_form(s)
                         : kind == 0                             ? sample_mug(s, breadth)
                         : kind == 1                             ? sample_bowl(s, breadth)
                         : kind == 2                             ? sample_bottle(s, breadth)
                                                                 : sample_box(s, breadth);
        double r = sample_reach(&piece);
        if (!sample_place(s, at, reach, n, r, &found))
            continue;
        at[n] = found;
        reach[n++] = r;
        ks_stand stand = {found.x, found.y, floor(sample_between(s, 0, 360))};
        level->pieces[level->n_pieces++] = sample_placed(s, sample_piece_added(s, piece), stand);
    }
    level->gap_mm = gap;
}

static inline ks_outline sample_chamber(sampler *s, double across)
{
    if (s->wish.front)
        return ks_outline_rectangle(across, across, 0, s->arena);
    return ks_outline_regular(10, across, s->arena);
}

static inline void sample_steps(sampler *s, ks_load *load)
{
    int room = 1;
    for (int l = 0; l < load->n_levels; l++)
        room += 2 + load->levels[l].n_pieces;
    load->steps = KS_TAKE(s->arena, room, ks_step);
    load->steps[load->n_steps++] = (ks_step){KS_PUT_POSTS, -1, -1};
    for (int l = 0; l < load->n_levels; l++) {
        load->steps[load->n_steps++] = (ks_step){KS_PUT_SHELF, l, 0};
        if (l + 1 < load->n_levels)
            load->steps[load->n_steps++] = (ks_step){KS_PUT_POSTS, l, -1};
        for (int i = 0; i < load->levels[l].n_pieces; i++)
            load->steps[load->n_steps++] = (ks_step){
                load->levels[l].pieces[i].role == KS_CONES ? KS_PUT_CONES : KS_PUT_PIECE, l, i};
    }
}

static inline void sample_load(sampler *s, ks_load *load)
{
    ks_arena *arena = s->arena;
    double gap = 178, thickness = 16, r = s->wish.inside_mm / 2 - 60;
    int levels = s->wish.levels;
    const ks_point posts[3] = {{0, r}, {-r * 0.866, -r * 0.5}, {r * 0.866, -r * 0.5}};
    load->kiln_id = "sample";
    load->firing = (ks_firing){"glaze", "6", 0, "oxidation", ""};
    load->day = 20785;
    load->height_mm = 25 + levels * (gap + thickness);
    load->clearance = (ks_clearance){6, 12, 6, 25, 13, 3, 6, 0, 0};
    load->n_parts = 1;
    load->parts = KS_TAKE(arena, 1, ks_chamber_part);
    load->parts[0] = (ks_chamber_part){0, load->height_mm, sample_chamber(s, s->wish.inside_mm)};
    load->n_bays = 1;
    load->bays = KS_TAKE(arena, 1, ks_load_bay);
    load->bays[0] = (ks_load_bay){"whole", load->parts[0].outline};
    load->n_keep_outs = 1;
    load->keep_outs = KS_TAKE(arena, 1, ks_keep_out);
    load->keep_outs[0] =
        (ks_keep_out){"sensor", ks_outline_disc(-s->wish.inside_mm / 2 + 12, 0, 6, arena),
                      0.6 * load->height_mm, 0.6 * load->height_mm + 12, 25};
    load->levels = KS_TAKE(arena, levels, ks_level);
    load->posts = KS_TAKE(arena, 3 * levels, ks_post);
    double floor_mm = 25;
    for (int l = 0; l < levels; l++) {
        ks_level *level = &load->levels[load->n_levels++];
        level->bay = "whole";
        level->z_mm = floor_mm + thickness;
        level->n_shelves = 1;
        level->shelves = KS_TAKE(arena, 1, ks_shelf);
        level->shelves[0] =
            (ks_shelf){"whole-530", 0, sample_chamber(s, s->wish.inside_mm - 36), thickness};
        for (int i = 0; i < 3; i++)
            load->posts[load->n_posts++] =
                (ks_post){ks_outline_disc(posts[i].x, posts[i].y, 16, arena),
                          l ? floor_mm - gap : 0,
                          floor_mm,
                          l ? 2 : 1,
                          {l ? 100 : 25, 78}};
        sample_level(s, level, l, posts, gap);
        floor_mm += thickness + gap;
    }
    if (levels > 0)
        sample_steps(s, load);
}

static inline ks_order *sample_order(sampler *s)
{
    static const char *const names[] = {"Ada Quill", "Bo Tarn",  "Cy Marsh",
                                        "Di Fell",   "Ed Rowan", "Fay Holt"};
    static const char *const initials[] = {"AQ", "BT", "CM", "DF", "ER", "FH"};
    ks_arena *arena = s->arena;
    ks_order *order = KS_TAKE(arena, 1, ks_order);
    *order = (ks_order){.file = "sample",
                        .title = "Weekly glaze load",
                        .studio = "Brook Street Studio",
                        .note = "",
                        .currency = "EUR"};
    order->display = (ks_display){s->wish.unit, "kg", "C"};
    order->n_members = s->wish.members;
    order->members = KS_TAKE(arena, s->wish.members, ks_member);
    for (int i = 0; i < s->wish.members; i++)
        order->members[i] = (ks_member){.id = ks_arena_print(arena, "m%d", i + 1),
                                        .name = names[i % 6],
                                        .initials = initials[i % 6]};
    order->n_glazes = 2;
    order->glazes = KS_TAKE(arena, 2, ks_glaze);
    order->glazes[0] = (ks_glaze){.id = "celadon", .name = "Celadon", .atmosphere = ""};
    order->glazes[1] = (ks_glaze){.id = "white", .name = "Satin white", .atmosphere = ""};
    order->n_kilns = 1;
    order->kilns = KS_TAKE(arena, 1, ks_kiln);
    order->kilns[0].id = "sample";
    order->kilns[0].name = s->wish.front ? "front loader" : "ten-sided top loader";
    order->kilns[0].loading = s->wish.front ? KS_FRONT_LOADER : KS_TOP_LOADER;
    order->kilns[0].note = order->kilns[0].defaults = "";
    order->kilns[0].heat.fuel = "";
    order->kilns[0].height_mm = 25 + s->wish.levels * 194.0;
    return order;
}

/* One side's share of a level on whole shelves: a half shelf, and what stands wholly on it. */
static inline ks_level sample_half(sampler *s, const ks_level *whole, bool left)
{
    ks_level half = *whole;
    double r = s->wish.inside_mm / 2 - 18;
    const double at[2][4][2] = {
        {{0.5, -r}, {0.75 * r, -0.6 * r}, {0.75 * r, 0.6 * r}, {0.5, r}},
        {{-0.5, r}, {-0.75 * r, 0.6 * r}, {-0.75 * r, -0.6 * r}, {-0.5, -r}}};
    half.bay = left ? "left" : "right";
    half.shelves = KS_TAKE(s->arena, 1, ks_shelf);
    half.shelves[0] =
        (ks_shelf){left ? "half-left" : "half-right", 0, sample_polygon(s->arena, 4, at[left], 0),
                   whole->shelves[0].thickness_mm};
    half.pieces = KS_TAKE(s->arena, whole->n_pieces, ks_placed);
    half.n_pieces = 0;
    for (int i = 0; i < whole->n_pieces; i++) {
        bool on = true;
        for (int k = 0; k < whole->pieces[i].n_parts; k++) {
            ks_box box = ks_outline_box(&whole->pieces[i].parts[k].outline);
            on = on && (left ? box.x1 < 0 : box.x0 > 0);
        }
        if (on)
            half.pieces[half.n_pieces++] = whole->pieces[i];
    }
    return half;
}

/* The same load on half shelves, those at the right 30 mm higher. */
static inline void sample_halved(sampler *s, ks_load *load)
{
    ks_level *levels = KS_TAKE(s->arena, 2 * load->n_levels, ks_level);
    for (int i = 0; i < load->n_levels; i++) {
        levels[2 * i] = sample_half(s, &load->levels[i], true);
        levels[2 * i + 1] = sample_half(s, &load->levels[i], false);
        levels[2 * i + 1].z_mm += 30;
    }
    load->levels = levels;
    load->n_levels *= 2;
    load->n_steps = 0;
    load->n_bays = 2;
    load->bays = KS_TAKE(s->arena, 2, ks_load_bay);
    for (int i = 0; i < 2; i++)
        load->bays[i] = (ks_load_bay){i ? "right" : "left", levels[i].shelves[0].outline};
}

static inline ks_plan *sample_plan(ks_arena *arena, sample_wish wish)
{
    sampler s = {.arena = arena, .wish = wish, .state = wish.seed * 2654435761u + 1};
    s.order = sample_order(&s);
    s.plan = KS_TAKE(arena, 1, ks_plan);
    *s.plan = (ks_plan){.version = "0.1.0",
                        .seed = 1,
                        .rounds = 3,
                        .stopped_by = "rounds",
                        .order = s.order,
                        .worth = 41.2,
                        .bound = 44.0,
                        .bound_kind = "area at each height",
                        .n_loads = 1,
                        .loads = KS_TAKE(arena, 1, ks_load),
                        .n_left_out = 2,
                        .left_out = KS_TAKE(arena, 2, ks_left_out)};
    s.plan->left_out[0] = (ks_left_out){0,
                                        "tall-vase",
                                        1,
                                        "too tall",
                                        "12 mm too tall for any level",
                                        "posts 15 mm longer on level 2",
                                        {0},
                                        {0}};
    s.plan->left_out[1] = (ks_left_out){
        -1, "plate", 4, "displaced", "by the joined form", "no single change found", {0}, {0}};
    sample_load(&s, &s.plan->loads[0]);
    if (wish.halves && wish.levels > 0)
        sample_halved(&s, &s.plan->loads[0]);
    if (s.order->n_pieces == 0)
        s.plan->left_out[0].piece = -1;
    return s.plan;
}

#endif
