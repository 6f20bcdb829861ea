#include "place/draft/draft_plan.h"

#include "place/draft/draft_settled.h"
#include "place/job/tower_item.h"
#include "studio/parts.h"
#include "studio/stacked.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
    const ks_job *job;
    const ks_draft_load *draft;
    const ks_kiln *kiln;
    const ks_furniture *furniture;
    ks_load *load;
    ks_arena *arena;
} answer;

static ks_placed place(const answer *a, ks_shelf_spot spot)
{
    const ks_job *job = a->job;
    bool cones = spot.item == job->cone;
    const ks_piece *piece = cones ? NULL : &job->order->pieces[spot.item];
    const ks_part *parts = cones ? job->items[spot.item].parts : piece->parts;
    ks_placed p = {
        .piece = cones ? -1 : spot.item,
        .id = cones ? "cones" : piece->id,
        .owner = cones ? "" : piece->owner,
        .role = cones ? KS_CONES : piece->role,
        .pose = cones ? KS_UPRIGHT : piece->pose,
        .stand = spot.stand,
        .glazed = job->items[spot.item].glazed,
        .around_mm = job->items[spot.item].around_mm,
        .top_mm = job->height_mm[spot.item],
        .n_parts = job->items[spot.item].n_parts,
    };
    p.parts = KS_TAKE(a->arena, p.n_parts, ks_part);
    for (int i = 0; i < p.n_parts; i++)
        p.parts[i] = ks_part_placed(&parts[i], spot.stand, a->arena);
    return p;
}

static double on_grid(double mm)
{
    return floor(mm * 1000 + 0.5) / 1000; /* KS_GRID, with three decimals */
}

/* A piece of a tower, in its pose and at its height. */
static ks_placed place_member(const answer *a, ks_shelf_spot spot, const ks_tower_member *member)
{
    ks_shelf_spot own = {member->piece, ks_member_stand(member, spot.stand)};
    ks_placed p = place(a, own);
    const ks_piece *piece = &a->job->order->pieces[member->piece];
    p.pose = member->pose;
    p.way = member->way;
    p.n_parts = ks_piece_posed(piece, member->pose, a->arena, &p.parts);
    if (member->way == KS_EDGE && member->on < 0)
        p.parts[0] = ks_part_leaning(&p.parts[0], a->arena);
    for (int i = 0; i < p.n_parts; i++) {
        p.parts[i].from_mm = on_grid(p.parts[i].from_mm + member->lift_mm);
        p.parts[i].to_mm = on_grid(p.parts[i].to_mm + member->lift_mm);
        p.parts[i] = ks_part_placed(&p.parts[i], own.stand, a->arena);
    }
    p.top_mm = ks_parts_top_mm(p.parts, p.n_parts);
    return p;
}

static void place_all(const answer *a, ks_shelf_spot spot, ks_level *level)
{
    const ks_tower *tower = &a->job->towers[spot.item];
    if (tower->n == 1)
        level->pieces[level->n_pieces++] = place(a, spot);
    for (int m = 0; m < tower->n && tower->n > 1; m++)
        level->pieces[level->n_pieces++] = place_member(a, spot, &tower->members[m]);
}

static int pieces_on(const ks_job *job, const ks_draft_level *level)
{
    int n = 0;
    for (int i = 0; i < level->n_pins; i++)
        n += ks_job_members(job, level->pins[i].item);
    for (int i = 0; i < level->layout.n_spots; i++)
        n += ks_job_members(job, level->layout.spots[i].item);
    return n;
}

static void lay_shelves(const answer *a, const ks_support *support, ks_level *level)
{
    level->n_shelves = support->n_shelves;
    level->shelves = KS_TAKE(a->arena, support->n_shelves, ks_shelf);
    for (int s = 0; s < support->n_shelves; s++) {
        const ks_shelf_kind *kind = &a->kiln->shelves[support->shelves[s].kind];
        ks_outline at = ks_outline_place(&kind->outline, support->shelves[s].stand, a->arena);
        level->shelves[s] = (ks_shelf){
            .id = kind->id,
            .kind = support->shelves[s].kind,
            .outline = ks_outline_gridded(&at, a->arena),
            .thickness_mm = kind->thickness_mm,
        };
    }
}

static void lay_level(const answer *a, const ks_draft_level *from, ks_level *level)
{
    const ks_bay *bay = &a->kiln->bays[from->at.bay];
    *level =
        (ks_level){.bay = bay->id, .z_mm = ks_mm_of(from->at.z), .gap_mm = ks_mm_of(from->at.gap)};
    lay_shelves(a, &bay->supports[from->at.support], level);
    level->pieces = KS_TAKE(a->arena, pieces_on(a->job, from), ks_placed);
    for (int i = 0; i < from->n_pins; i++)
        place_all(a, from->pins[i], level);
    for (int i = 0; i < from->layout.n_spots; i++)
        place_all(a, from->layout.spots[i], level);
}

/* Shelves that one set of posts carries are met once. */
static bool is_first_on_posts(const answer *a, int level)
{
    const ks_stack_level *at = &a->draft->levels[level].at;
    for (int l = 0; l < level; l++) {
        const ks_stack_level *other = &a->draft->levels[l].at;
        if (other->standing == at->standing && other->column == at->column && other->z == at->z)
            return false;
    }
    return at->under >= 0;
}

static void stand_posts(const answer *a, int level, int *room)
{
    const ks_stack_level *at = &a->draft->levels[level].at;
    const ks_post_layout *st = &a->furniture->post_layouts[at->standing];
    const ks_column *column = &st->columns[at->column];
    const ks_gap *gap = &a->furniture->gaps[at->under];
    const ks_support *support = &a->kiln->bays[at->bay].supports[at->support];
    double to = ks_mm_of(at->z) - a->kiln->shelves[support->shelves[0].kind].thickness_mm;
    for (int i = 0; i < column->n_posts; i++) {
        ks_point p = a->furniture->places[st->places].at[column->posts[i]];
        ks_outline post = ks_outline_place(&a->kiln->posts[gap->kind[0]].outline,
                                           (ks_stand){p.x, p.y, 0}, a->arena);
        ks_load *load = a->load;
        load->posts = KS_GROW(a->arena, load->posts, load->n_posts, room, ks_post);
        ks_post *made = &load->posts[load->n_posts++];
        *made = (ks_post){ks_outline_gridded(&post, a->arena),
                          ks_mm_of(ks_um_of(to) - gap->height),
                          to,
                          gap->n,
                          {0, 0}};
        for (int k = 0; k < gap->n; k++)
            made->heights_mm[k] = a->kiln->posts[gap->kind[k]].height_mm;
    }
}

static void name_bays(const answer *a)
{
    ks_load *load = a->load;
    load->bays = KS_TAKE(a->arena, a->kiln->n_bays, ks_load_bay);
    for (int b = 0; b < a->kiln->n_bays; b++) {
        bool used = false;
        for (int l = 0; l < a->draft->n_levels; l++)
            used = used || a->draft->levels[l].at.bay == b;
        if (used)
            load->bays[load->n_bays++] = (ks_load_bay){
                a->kiln->bays[b].id, ks_outline_gridded(&a->kiln->bays[b].outline, a->arena)};
    }
}

static void build_load(const answer *a, int slot)
{
    const ks_job *job = a->job;
    const ks_load_kind *kind = &job->kinds[a->draft->kind];
    *a->load = (ks_load){
        .kiln_id = a->kiln->id,
        .kiln = kind->kiln,
        .firing = job->order->firings[kind->firing],
        .day = job->order->slots[slot].day,
        .times = job->options.hours ? job->times[slot] : (ks_load_times){0},
        .height_mm = a->kiln->height_mm,
        .n_parts = a->kiln->n_parts,
        .parts = a->kiln->parts,
        .clearance = kind->clear,
        .n_keep_outs = a->kiln->n_keep_outs,
        .keep_outs = a->kiln->keep_outs,
    };
    name_bays(a);
    a->load->levels = KS_TAKE(a->arena, a->draft->n_levels, ks_level);
    int room = 0;
    for (int l = 0; l < a->draft->n_levels; l++) {
        if (is_first_on_posts(a, l))
            stand_posts(a, l, &room);
        lay_level(a, &a->draft->levels[l], &a->load->levels[a->load->n_levels++]);
    }
}

static void build_loads(const ks_job *job, const ks_draft *draft, ks_plan *plan, ks_arena *arena)
{
    plan->loads = KS_TAKE(arena, draft->n_loads, ks_load);
    plan->n_loads = 0;
    for (int s = 0; s < draft->n_loads; s++) {
        if (draft->loads[s].n_levels == 0)
            continue;
        const ks_load_kind *kind = &job->kinds[draft->loads[s].kind];
        answer a = {job,
                    &draft->loads[s],
                    kind->furniture->kiln,
                    kind->furniture,
                    &plan->loads[plan->n_loads++],
                    arena};
        build_load(&a, s);
    }
}

/* Copies of a piece are counted in the order in which they go in, cone packs in each load anew. */
static void number_copies(const ks_job *job, ks_load *load, int *handed_out)
{
    if (job->cone >= 0)
        handed_out[job->cone] = 0;
    for (int s = 0; s < load->n_steps; s++) {
        const ks_step *step = &load->steps[s];
        if (step->put != KS_PUT_PIECE && step->put != KS_PUT_CONES)
            continue;
        ks_placed *place = &load->levels[step->level].pieces[step->item];
        place->copy = ++handed_out[place->piece >= 0 ? place->piece : job->cone];
    }
}

/* Each piece of a tower names the copy that carries it. */
static void name_carriers(const ks_job *job, ks_shelf_spot spot, ks_placed *pieces)
{
    const ks_tower *tower = &job->towers[spot.item];
    for (int m = 0; m < tower->n && tower->n > 1; m++) {
        int on = tower->members[m].on;
        pieces[m].on_id = on >= 0 ? pieces[on].id : NULL;
        pieces[m].on_copy = on >= 0 ? pieces[on].copy : 0;
    }
}

static void name_all_carriers(const ks_job *job, const ks_draft_load *draft, ks_load *load)
{
    for (int l = 0; l < load->n_levels; l++) {
        const ks_draft_level *from = &draft->levels[l];
        ks_placed *at = load->levels[l].pieces;
        for (int i = 0; i < from->n_pins; i++)
            at += ks_job_members(job, from->pins[i].item);
        for (int i = 0; i < from->layout.n_spots; i++) {
            name_carriers(job, from->layout.spots[i], at);
            at += ks_job_members(job, from->layout.spots[i].item);
        }
    }
}

void ks_answer_loads(const ks_job *job, ks_draft *draft, ks_plan *plan, ks_arena *arena)
{
    ks_draft_settle(job, draft);
    build_loads(job, draft, plan, arena);
    int *handed_out = KS_TAKE(arena, job->n_items, int);
    for (int s = 0, l = 0; s < draft->n_loads; s++) {
        if (draft->loads[s].n_levels == 0)
            continue;
        ks_answer_steps(job, &draft->loads[s], &plan->loads[l], arena);
        number_copies(job, &plan->loads[l], handed_out);
        name_all_carriers(job, &draft->loads[s], &plan->loads[l++]);
    }
}
