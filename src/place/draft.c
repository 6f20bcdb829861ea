#include "place/draft.h"

#include <string.h>

/* A firing more than needed costs less than any piece is worth, but more than nothing. */
#define FIRING_COST 1e-6

ks_draft ks_draft_empty(const ks_job *job, ks_arena *arena)
{
    ks_draft draft = {.n_loads = job->n_slots};
    draft.loads = KS_TAKE(arena, job->n_slots, ks_draft_load);
    draft.left = KS_TAKE(arena, job->n_goods, int);
    for (int s = 0; s < job->n_slots; s++)
        draft.loads[s].kind = job->slot_kind[s];
    ks_draft_count(job, &draft);
    return draft;
}

ks_draft ks_draft_copy(const ks_job *job, const ks_draft *draft, ks_arena *arena)
{
    ks_draft copy = *draft;
    copy.loads = KS_TAKE(arena, draft->n_loads, ks_draft_load);
    copy.left = KS_TAKE(arena, job->n_goods, int);
    memcpy(copy.left, draft->left, sizeof(int) * (size_t)job->n_goods);
    for (int s = 0; s < draft->n_loads; s++) {
        ks_draft_load *load = &copy.loads[s];
        *load = draft->loads[s];
        load->levels = KS_TAKE(arena, load->n_levels, ks_draft_level);
        for (int l = 0; l < load->n_levels; l++) {
            ks_draft_level *level = &load->levels[l];
            *level = draft->loads[s].levels[l];
            ks_shelf_spot *spots = KS_TAKE(arena, level->layout.n_spots, ks_shelf_spot);
            for (int i = 0; i < level->layout.n_spots; i++)
                spots[i] = level->layout.spots[i];
            level->layout.spots = spots;
        }
    }
    return copy;
}

static void count_spots(const ks_job *job, ks_draft *draft, int n, const ks_shelf_spot *spots)
{
    for (int i = 0; i < n; i++) {
        int good = spots[i].item;
        draft->left[good]--;
        draft->worth += job->worth[good];
        draft->score += job->worth[good] * job->urgency[good];
    }
}

void ks_draft_count(const ks_job *job, ks_draft *draft)
{
    double all = 0;
    draft->score = draft->worth = 0;
    for (int i = 0; i < job->n_goods; i++) {
        draft->left[i] = i < job->order->n_pieces && job->items[i].copies > 0
                             ? job->order->pieces[i].count
                             : 0;
        all += job->worth[i] * draft->left[i];
    }
    for (int s = 0; s < draft->n_loads; s++) {
        for (int l = 0; l < draft->loads[s].n_levels; l++) {
            const ks_draft_level *level = &draft->loads[s].levels[l];
            count_spots(job, draft, level->layout.n_spots, level->layout.spots);
            count_spots(job, draft, level->n_pins, level->pins);
        }
        draft->score -= draft->loads[s].n_levels > 0 ? FIRING_COST * all : 0;
    }
    if (job->cone >= 0)
        draft->left[job->cone] = 0;
}

static int pins_of(const ks_job *job, int slot, const ks_stack_level *level, ks_shelf_spot *spots)
{
    const ks_kiln *kiln = &job->order->kilns[job->kinds[job->slot_kind[slot]].kiln];
    int n = 0;
    for (int i = 0; i < job->order->n_pieces; i++) {
        const ks_keep *keep = &job->order->pieces[i].keep;
        if (!keep->kept || keep->load != slot || keep->level != level->number || !keep->bay ||
            strcmp(keep->bay, kiln->bays[level->bay].id) != 0)
            continue;
        if (spots)
            spots[n] = (ks_shelf_spot){i, keep->stand};
        n++;
    }
    return n;
}

int ks_draft_needs(const ks_job *job, int slot, ks_level_need **needs, ks_arena *arena)
{
    const ks_kiln *kiln = &job->order->kilns[job->kinds[job->slot_kind[slot]].kiln];
    int n = 0;
    *needs = KS_TAKE(arena, job->order->n_pieces, ks_level_need);
    for (int i = 0; i < job->order->n_pieces; i++) {
        const ks_keep *keep = &job->order->pieces[i].keep;
        for (int b = 0; b < kiln->n_bays && keep->kept && keep->load == slot; b++)
            if (keep->bay && strcmp(keep->bay, kiln->bays[b].id) == 0)
                (*needs)[n++] = (ks_level_need){b, keep->level, job->height_mm[i]};
    }
    return n;
}

void ks_draft_build(const ks_job *job, ks_draft *draft, int slot, const ks_stack *stack,
                    ks_arena *arena)
{
    ks_draft_load *load = &draft->loads[slot];
    load->n_levels = stack->n_levels;
    load->levels = KS_TAKE(arena, stack->n_levels, ks_draft_level);
    for (int l = 0; l < stack->n_levels; l++) {
        ks_draft_level *level = &load->levels[l];
        level->at = stack->levels[l];
        level->pins = KS_TAKE(arena, pins_of(job, slot, &level->at, NULL) + 1, ks_shelf_spot);
        level->n_pins = pins_of(job, slot, &level->at, level->pins);
    }
}

void ks_draft_clear_level(ks_draft *draft, int slot, int level)
{
    ks_shelf_layout *layout = &draft->loads[slot].levels[level].layout;
    for (int i = 0; i < layout->n_spots; i++)
        draft->left[layout->spots[i].item]++;
    *layout = (ks_shelf_layout){0};
}

void ks_draft_set_level(ks_draft *draft, int slot, int level, ks_shelf_layout layout)
{
    for (int i = 0; i < layout.n_spots; i++)
        draft->left[layout.spots[i].item]--;
    draft->loads[slot].levels[level].layout = layout;
}

bool ks_draft_is_bare(const ks_draft_load *load)
{
    for (int l = 0; l < load->n_levels; l++) {
        if (load->levels[l].n_pins > 0)
            return false;
        for (int i = 0; i < load->levels[l].layout.n_spots; i++)
            if (load->levels[l].layout.spots[i].item >= 0)
                return false;
    }
    return true;
}
