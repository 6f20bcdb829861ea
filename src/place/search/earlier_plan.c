#include "place/search/earlier_plan.h"

#include "place/draft/level_spots.h"
#include "place/draft/pins.h"
#include "place/draft/alone.h"
#include "place/search/earlier_stack.h"
#include "place/draft/beside.h"
#include "place/draft/cone_packs.h"
#include "place/job/tower_item.h"
#include "place/search/greedy.h"

#include <math.h>
#include <string.h>

static bool is_fired_so(const ks_job *job, int slot, const ks_load *load)
{
    const ks_load_kind *kind = &job->kinds[job->slot_kind[slot]];
    return strcmp(job->order->kilns[kind->kiln].id, load->kiln_id) == 0 &&
           strcmp(job->order->firings[kind->firing].id, load->firing.id) == 0;
}

/* A slot not yet taken for an earlier load: on its day if there is one; -1 when there is none. */
static int slot_for(const ks_job *job, const ks_draft *draft, const ks_load *load)
{
    int best = -1;
    for (int s = job->n_slots - 1; s >= 0; s--)
        if (draft->loads[s].n_levels == 0 && is_fired_so(job, s, load) &&
            (best < 0 || job->order->slots[s].day == load->day ||
             job->order->slots[best].day != load->day))
            best = s;
    return best;
}

/* Whether the order still has the pieces for this place, and they are not kept in another; then
 * they are taken of what is left. */
static bool is_taken(const ks_job *job, int item, int *left)
{
    int m = 0;
    for (; m < ks_job_members(job, item); m++) {
        int piece = ks_job_member(job, item, m);
        if (left[piece]-- <= 0 || (piece != job->cone && job->order->pieces[piece].keep.kept))
            break;
    }
    if (m == ks_job_members(job, item))
        return true;
    for (; m >= 0; m--)
        left[ks_job_member(job, item, m)]++;
    return false;
}

static void given_back(const ks_job *job, int item, int *left)
{
    for (int m = 0; m < ks_job_members(job, item); m++)
        left[ks_job_member(job, item, m)]++;
}

/* The cone pack among what stood on a level; NULL = none did. */
static const ks_shelf_spot *pack_among(const ks_job *job, const ks_shelf_spot *stood, int n)
{
    for (int i = 0; i < n; i++)
        if (stood[i].item == job->cone)
            return &stood[i];
    return NULL;
}

/* A pack that this level has to hold and did not: it comes first, and ware gives way to it. */
static void stand_new_pack(ks_beside *on, const ks_draft_level *level, int *left)
{
    ks_shelf_spot pack;
    if (ks_cones_find_place(on->job, on->kind, level, &pack) && ks_beside_stood(on, pack))
        left[on->job->cone]--;
}

/* What stood on an earlier level, as far as there is still such ware, among pins that come first.
 */
static void fill_level(ks_beside *on, ks_draft_level *level, const ks_level *from, int *left,
                       ks_arena *arena)
{
    ks_shelf_spot *stood = KS_TAKE(arena, from->n_pieces, ks_shelf_spot);
    int n = ks_level_spots(on->job, from, stood, NULL);
    on->spots = KS_TAKE(arena, level->n_pins + from->n_pieces + 1, ks_shelf_spot);
    on->n = level->n_pins;
    for (int i = 0; i < level->n_pins; i++)
        on->spots[i] = level->pins[i];
    if (on->job->cone >= 0)
        left[on->job->cone] = level->cones;
    if (level->cones > 0 && !pack_among(on->job, stood, n))
        stand_new_pack(on, level, left);
    for (int i = 0; i < n; i++)
        if (is_taken(on->job, stood[i].item, left) && !ks_beside_stood(on, stood[i]))
            given_back(on->job, stood[i].item, left);
    level->layout =
        (ks_shelf_layout){.n_spots = on->n - level->n_pins, .spots = on->spots + level->n_pins};
}

static void fill_load(const ks_job *job, ks_draft *draft, int slot, const ks_load *from,
                      ks_arena *arena)
{
    ks_draft_load *load = &draft->loads[slot];
    ks_draft_count(job, draft);
    int *left = KS_TAKE(arena, job->n_items, int);
    memcpy(left, draft->left, sizeof(int) * (size_t)job->n_items);
    for (int l = 0; l < load->n_levels && l < from->n_levels; l++) {
        ks_draft_level *level = &load->levels[l];
        ks_beside on = {.job = job, .kind = &job->kinds[load->kind], .at = &level->at};
        on.space = ks_level_space(job, on.kind, on.at, arena);
        fill_level(&on, level, &from->levels[l], left, arena);
    }
    ks_draft_count(job, draft);
}

/* Levels laid bare that the order's rules of today do not allow beside those below them. */
static void levels_weeded(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena)
{
    ks_draft_load *load = &draft->loads[slot];
    ks_shelf_layout *was = KS_TAKE(arena, load->n_levels, ks_shelf_layout);
    int pieces;
    for (int l = 0; l < load->n_levels; l++) {
        was[l] = load->levels[l].layout;
        load->levels[l].layout = (ks_shelf_layout){0};
    }
    int faults = ks_alone_faults_of(job, draft, slot, &pieces);
    for (int l = 0; l < load->n_levels; l++) {
        load->levels[l].layout = was[l];
        int then = ks_alone_faults_of(job, draft, slot, &pieces);
        if (then > faults)
            load->levels[l].layout = (ks_shelf_layout){0};
        else
            faults = then;
    }
}

/* How much of the load stands; -1 when a rule would be broken. */
static int pieces_kept(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena)
{
    int pieces;
    if (ks_alone_faults_of(job, draft, slot, &pieces) == 0)
        return pieces;
    levels_weeded(job, draft, slot, arena);
    return ks_alone_faults_of(job, draft, slot, &pieces) == 0 ? pieces : -1;
}

/* What the level's ware needs above its shelf. */
static ks_um clear_over(const ks_level *level, double above_mm)
{
    double most = 0;
    for (int i = 0; i < level->n_pieces; i++)
        most = fmax(most, level->pieces[i].top_mm);
    return ks_um_over(most + above_mm);
}

static int ware_on(const ks_job *job, const ks_draft_load *load)
{
    int n = 0;
    for (int l = 0; l < load->n_levels; l++)
        for (int i = 0; i < load->levels[l].layout.n_spots; i++)
            n += load->levels[l].layout.spots[i].item != job->cone
                     ? ks_job_members(job, load->levels[l].layout.spots[i].item)
                     : 0;
    return n;
}

/* One level more on top of the load as it stands, in the way of the stock that moves the least ware
 * (its posts need room), and not more than half. It may still lack a cone pack. */
static void build_higher(const ks_job *job, ks_draft *draft, int slot, const ks_load *from,
                         const ks_stack *stack, ks_arena *arena)
{
    const ks_furniture *f = job->kinds[job->slot_kind[slot]].furniture;
    ks_draft_load best = draft->loads[slot];
    int top = ks_before_stack_top(stack), stood = ware_on(job, &best), most = -1;
    ks_um clear = top >= 0 && top < from->n_levels
                      ? clear_over(&from->levels[top], from->clearance.above)
                      : 0;
    ks_stack higher;
    for (int nth = 0; ks_before_stack_higher(f, stack, clear, nth, &higher, arena); nth++) {
        if (!ks_draft_build(job, draft, slot, &higher, arena))
            continue;
        fill_load(job, draft, slot, from, arena);
        int stays = ware_on(job, &draft->loads[slot]);
        if (stays <= most || 2 * stays < stood || ks_alone_faults_begun(job, draft, slot) > 0)
            continue;
        most = stays;
        best = draft->loads[slot];
    }
    draft->loads[slot] = best;
}

/* Packs on the levels where they stood, which need not be those where new ones would be asked for.
 */
static void packs_kept(const ks_job *job, ks_draft_load *load, const ks_load *from, ks_arena *arena)
{
    for (int l = 0; l < load->n_levels; l++) {
        ks_shelf_spot *stood = KS_TAKE(arena, from->levels[l].n_pieces, ks_shelf_spot);
        int n = ks_level_spots(job, &from->levels[l], stood, NULL);
        ks_cones_keep(job, load, l, pack_among(job, stood, n), arena);
    }
}

/* The load of the stack in the slot; how much of the earlier one stands in it, -1 = it may not. */
static int taken_up_on(const ks_job *job, ks_draft *draft, int slot, const ks_load *from,
                       const ks_stack *stack, bool keep_packs, ks_arena *arena)
{
    if (!ks_draft_build(job, draft, slot, stack, arena))
        return -1;
    if (keep_packs)
        packs_kept(job, &draft->loads[slot], from, arena);
    fill_load(job, draft, slot, from, arena);
    return pieces_kept(job, draft, slot, arena);
}

/* The earlier load in this slot, on the places of posts where most of it stands, its cone packs
 * where they stood or where they are asked for now; else bare. */
static void load_taken_up(const ks_job *job, ks_draft *draft, int slot, const ks_load *from,
                          bool higher, ks_arena *arena)
{
    const ks_furniture *f = job->kinds[job->slot_kind[slot]].furniture;
    ks_draft_load best = draft->loads[slot];
    ks_stack stands = {0};
    int most = ks_job_keeps_shelves(job) ? -1 : 0;
    for (int p = 0; p < f->n_places; p++) {
        ks_stack stack;
        if (!ks_before_stack(from, f, p, &stack, arena))
            continue;
        for (int keep_packs = job->cone >= 0; keep_packs >= 0; keep_packs--) {
            int kept = taken_up_on(job, draft, slot, from, &stack, keep_packs, arena);
            if (kept > most) {
                most = kept;
                best = draft->loads[slot];
                stands = stack;
            }
        }
    }
    draft->loads[slot] = best;
    if (higher && most > 0)
        build_higher(job, draft, slot, from, &stands, arena);
    ks_draft_count(job, draft);
}

static void note(const ks_job *job, ks_before *before, int slot, const ks_load *load,
                 ks_arena *arena)
{
    for (int l = 0; l < load->n_levels; l++)
        for (int i = 0; i < load->levels[l].n_pieces; i++) {
            const ks_placed *placed = &load->levels[l].pieces[i];
            int item = ks_placed_item(job, placed);
            if (item < 0 || item == job->cone)
                continue;
            before->at = KS_GROW(arena, before->at, before->n, &before->room, ks_stood);
            before->at[before->n++] =
                (ks_stood){slot, item, ks_um_of(load->levels[l].z_mm), placed->stand};
        }
}

ks_draft ks_before_draft(const ks_job *job, bool higher, ks_before *before, ks_arena *arena)
{
    const ks_plan *from = job->options.from;
    ks_draft draft = ks_draft_empty(job, arena);
    int *wanted = KS_TAKE(arena, job->n_items, int);
    *before = (ks_before){0};
    for (int l = 0; l < from->n_loads; l++) {
        int slot = slot_for(job, &draft, &from->loads[l]);
        note(job, before, slot, &from->loads[l], arena);
        if (slot >= 0)
            load_taken_up(job, &draft, slot, &from->loads[l], higher, arena);
    }
    for (int i = 0; i < before->n; i++)
        before->wanted +=
            ++wanted[before->at[i].item] <= job->order->pieces[before->at[i].item].count;
    return draft;
}

static bool is_there(const ks_stood *stood, ks_um z, ks_stand stand)
{
    return stood->z == z && ks_um_of(stood->stand.x) == ks_um_of(stand.x) &&
           ks_um_of(stood->stand.y) == ks_um_of(stand.y) &&
           fabs(stood->stand.turn_deg - stand.turn_deg) < 1e-3;
}

static bool has_stayed(const ks_before *before, int slot, ks_um z, int piece, ks_stand stand)
{
    for (int i = 0; i < before->n; i++)
        if (before->at[i].slot == slot && before->at[i].item == piece &&
            is_there(&before->at[i], z, stand))
            return true;
    return false;
}

/* Of what stands in one place, how many pieces stood over it before. */
static int stayed_of(const ks_job *job, const ks_before *before, int slot, ks_um z,
                     ks_shelf_spot spot)
{
    const ks_tower *tower = &job->towers[spot.item];
    int n = 0;
    for (int m = 0; m < tower->n; m++)
        n += has_stayed(before, slot, z, tower->members[m].piece,
                        ks_member_stand(&tower->members[m], spot.stand));
    return n;
}

int ks_before_stayed(const ks_job *job, const ks_before *before, const ks_draft *draft)
{
    int n = 0;
    for (int s = 0; s < draft->n_loads && before->n > 0; s++)
        for (int l = 0; l < draft->loads[s].n_levels; l++) {
            const ks_draft_level *level = &draft->loads[s].levels[l];
            for (int i = 0; i < level->layout.n_spots; i++)
                n += stayed_of(job, before, s, level->at.z, level->layout.spots[i]);
            for (int i = 0; i < level->n_pins; i++)
                n += stayed_of(job, before, s, level->at.z, level->pins[i]);
        }
    return n;
}
