#include "kilnstow/place.h"

#include "pack/shelf/roomiest.h"
#include "place/draft/level_fill.h"
#include "place/draft/level_spots.h"
#include "place/draft/level_wish.h"
#include "place/draft/offer.h"
#include "place/job/tower_item.h"
#include "place/search/earlier_stack.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What could still go in. Each level is put before the packer with all that stands on it pinned: a
 * disc grown as wide as it gets, and of each kind of ware as many as find room. */

enum { WORK = 40 };
#define WITHIN_MM 0.1 /* how exactly circles are known */

typedef struct {
    const ks_job *job;
    const ks_load *load;
    const ks_load_kind *kind;
    ks_arena *arena;
    double mass_left_kg; /* that the kiln may still carry */
    ks_draft_load now;   /* what stands, all of it pinned */
} question;

static const ks_load_kind *kind_of(const ks_job *job, const ks_load *load)
{
    const ks_order *order = job->order;
    for (int k = 0; k < job->n_kinds; k++)
        if (strcmp(order->kilns[job->kinds[k].kiln].id, load->kiln_id) == 0 &&
            strcmp(order->firings[job->kinds[k].firing].id,
                   load->firing.id ? load->firing.id : "") == 0)
            return &job->kinds[k];
    return NULL;
}

static bool is_a_place(const ks_post_places *places, const ks_post *post)
{
    ks_point at = ks_outline_centroid(&post->outline);
    for (int i = 0; i < places->n; i++)
        if (fabs(places->at[i].x - at.x) < 0.01 && fabs(places->at[i].y - at.y) < 0.01)
            return true;
    return false;
}

/* The load's furniture in the kiln's terms, its posts where they stand. */
static bool find_stack(const question *q, ks_stack *stack)
{
    const ks_furniture *f = q->kind->furniture;
    for (int p = 0; p < f->n_places; p++) {
        bool stand_so = true;
        for (int i = 0; i < q->load->n_posts && stand_so; i++)
            stand_so = is_a_place(&f->places[p], &q->load->posts[i]);
        if (stand_so && ks_before_stack(q->load, f, p, stack, q->arena))
            return true;
    }
    return false;
}

static int item_of(const question *q, const ks_placed *placed)
{
    if (placed->role == KS_CONES && placed->piece < 0)
        return q->job->cone;
    return placed->piece;
}

/* Whether all of it is the order's ware, stacked as this program would. */
static bool is_known(const question *q)
{
    for (int l = 0; l < q->load->n_levels; l++) {
        const ks_level *level = &q->load->levels[l];
        int lost;
        ks_level_spots(q->job, level, KS_TAKE(q->arena, level->n_pieces, ks_shelf_spot), &lost);
        if (lost > 0)
            return false;
    }
    return true;
}

static void take_up(question *q, const ks_stack *stack)
{
    q->now = (ks_draft_load){.kind = (int)(q->kind - q->job->kinds),
                             .n_levels = stack->n_levels,
                             .levels = KS_TAKE(q->arena, stack->n_levels, ks_draft_level)};
    for (int l = 0; l < stack->n_levels; l++) {
        const ks_level *level = &q->load->levels[l];
        ks_draft_level *to = &q->now.levels[l];
        *to = (ks_draft_level){.at = stack->levels[l],
                               .pins = KS_TAKE(q->arena, level->n_pieces, ks_shelf_spot)};
        to->n_pins = ks_level_spots(q->job, level, to->pins, NULL);
    }
}

static double mass_left_kg(const question *q)
{
    const ks_kiln *kiln = q->kind->furniture->kiln;
    double left = kiln->mass_limit_kg > 0 ? kiln->mass_limit_kg : INFINITY;
    for (int l = 0; l < q->now.n_levels; l++)
        for (int i = 0; i < q->now.levels[l].n_pins; i++)
            left -= q->job->items[q->now.levels[l].pins[i].item].mass_kg;
    return left - ks_furniture_mass_kg(q->job, &q->now);
}

/* A level that holds what it holds, to which nothing is offered yet. */
static ks_fill pinned(const question *q, const ks_draft_level *level)
{
    return (ks_fill){.job = q->job,
                     .kind = q->kind,
                     .level = &level->at,
                     .mass_left_kg = q->mass_left_kg + 1e-9,
                     .seed = 1,
                     .work = WORK,
                     .n_pins = level->n_pins,
                     .pins = level->pins};
}

/* A disc of 1 mm as tall as can be; what it has to spare in its best place is how it may grow. */
static void find_circle(const question *q, const ks_fill *fill, const ks_shelf_space *space,
                        ks_level_room *out)
{
    out->height_mm = floor(ks_level_clear_mm(q->kind, fill->level) / KS_GRID) * KS_GRID;
    ks_part body = {KS_PART_BODY, 0, out->height_mm, ks_outline_disc(0, 0, 1, q->arena), {0}};
    ks_shelf_item disc = {.n_parts = 1, .parts = &body, .glazed = true};
    ks_roomiest best = ks_roomiest_above(space, &disc, -1, WITHIN_MM);
    double r = 1 + best.slack_mm - q->job->options.reserve_mm;
    if (best.slack_mm <= -1 || r <= 0)
        return;
    out->width_mm = 2 * r / (1 + q->job->order->rules.outward_fraction);
    out->x_mm = best.stand.x;
    out->y_mm = best.stand.y;
}

/* Kept apart from something that is in the load. */
static bool is_shunned(const question *q, int item)
{
    uint32_t shuns = ks_load_shuns(q->job, item);
    for (int l = 0; l < q->load->n_levels && shuns; l++)
        for (int i = 0; i < q->load->levels[l].n_pieces; i++)
            if (q->job->items[item_of(q, &q->load->levels[l].pieces[i])].tags & shuns)
                return true;
    return false;
}

static bool may_join(const question *q, int item)
{
    const ks_piece *piece = &q->job->order->pieces[item];
    return q->kind->suits[item] && !piece->locked_out && !piece->on_id && !is_shunned(q, item);
}

/* As many of one kind as the packer finds room for beside what is there. */
static ks_kind_room copies_of(const question *q, ks_fill *fill, int item)
{
    ks_arena scratch = {0};
    int *copies = KS_TAKE(&scratch, q->job->n_items, int);
    double *worth = KS_TAKE(&scratch, q->job->n_items, double);
    copies[item] = KS_ROOM_MOST;
    worth[item] = 1;
    fill->copies = copies;
    fill->worth = worth;
    ks_shelf_layout layout = ks_level_fill(fill, &scratch);
    ks_kind_room room = {.piece = item, .stands = KS_TAKE(q->arena, KS_ROOM_MOST, ks_stand)};
    for (int i = 0; i < layout.n_spots; i++) {
        const ks_tower *tower = &q->job->towers[layout.spots[i].item];
        for (int m = 0; m < tower->n; m++)
            room.stands[room.copies++] = ks_member_stand(&tower->members[m], layout.spots[i].stand);
    }
    ks_arena_finish(&scratch);
    return room;
}

static void find_level(const question *q, int level, ks_level_room *out)
{
    const ks_stack_level *at = &q->now.levels[level].at;
    ks_fill fill = pinned(q, &q->now.levels[level]);
    ks_shelf_space space = ks_level_space(q->job, q->kind, at, q->arena);
    ks_level_pin(&fill, &space, q->arena);
    find_circle(q, &fill, &space, out);
    out->kinds = KS_TAKE(q->arena, q->job->order->n_pieces, ks_kind_room);
    for (int i = 0; i < q->job->order->n_pieces; i++) {
        const ks_shelf_item *item = &q->job->lean[i];
        if (!may_join(q, i) || !ks_wish_holds(q->job, &q->now, level, i) ||
            q->job->height_mm[i] > ks_level_clear_mm(q->kind, at) ||
            !ks_roomiest_reaches(&space, item, 0, 1))
            continue;
        ks_kind_room room = copies_of(q, &fill, i);
        if (room.copies > 0)
            out->kinds[out->n_kinds++] = room;
    }
}

static int most_first(const void *a, const void *b)
{
    const ks_kind_room *x = a, *y = b;
    return x->copies != y->copies ? (x->copies < y->copies) - (x->copies > y->copies)
                                  : (x->piece > y->piece) - (x->piece < y->piece);
}

static void sum_kinds(const question *q, ks_load_room *out)
{
    out->kinds = KS_TAKE(q->arena, q->job->order->n_pieces, ks_kind_room);
    for (int i = 0; i < q->job->order->n_pieces; i++) {
        int copies = 0;
        for (int l = 0; l < out->n_levels; l++)
            for (int k = 0; k < out->levels[l].n_kinds; k++)
                copies += out->levels[l].kinds[k].piece == i ? out->levels[l].kinds[k].copies : 0;
        double mass_kg = q->job->items[i].mass_kg;
        if (mass_kg > 0 && copies * mass_kg > q->mass_left_kg)
            copies = (int)(q->mass_left_kg / mass_kg);
        if (copies > 0)
            out->kinds[out->n_kinds++] = (ks_kind_room){.piece = i, .copies = copies};
    }
    qsort(out->kinds, (size_t)out->n_kinds, sizeof *out->kinds, most_first);
}

static void find_load(question *q, ks_load_room *out)
{
    ks_stack stack;
    out->n_levels = q->load->n_levels;
    out->levels = KS_TAKE(q->arena, out->n_levels, ks_level_room);
    q->kind = kind_of(q->job, q->load);
    if (!q->kind)
        out->why_not = "the order has no such kiln or firing";
    else if (!is_known(q))
        out->why_not = "ware stands on other ware, or is none of the order's";
    else if (!find_stack(q, &stack))
        out->why_not = "its shelves or posts do not stand where the kiln's own do";
    if (out->why_not)
        return;
    take_up(q, &stack);
    q->mass_left_kg = mass_left_kg(q);
    for (int l = 0; l < out->n_levels; l++)
        find_level(q, l, &out->levels[l]);
    sum_kinds(q, out);
}

ks_status ks_place_room(const ks_plan *plan, ks_arena *arena, ks_load_room **out, ks_error *err)
{
    ks_job job;
    ks_place_options options = ks_place_default();
    ks_status status = ks_job_init(&job, plan->order, &options, arena, err);
    *out = KS_TAKE(arena, plan->n_loads, ks_load_room);
    for (int l = 0; l < plan->n_loads && !status; l++) {
        question q = {.job = &job, .load = &plan->loads[l], .arena = arena};
        find_load(&q, &(*out)[l]);
    }
    return status;
}
