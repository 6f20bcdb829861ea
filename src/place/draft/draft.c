#include "place/draft/draft.h"

#include <string.h>

/* A firing more than needed costs less than any piece is worth, but more than nothing. */
#define FIRING_COST 1e-6

ks_draft ks_draft_empty(const ks_job *job, ks_arena *arena)
{
    ks_draft draft = {.n_loads = job->n_slots};
    draft.loads = KS_TAKE(arena, job->n_slots, ks_draft_load);
    draft.left = KS_TAKE(arena, job->n_items, int);
    for (int s = 0; s < job->n_slots; s++)
        draft.loads[s].kind = job->slot_kind[s];
    ks_draft_count(job, &draft);
    return draft;
}

static ks_shelf_spot *copy_spots(const ks_shelf_spot *from, int n, ks_arena *arena)
{
    ks_shelf_spot *spots = KS_TAKE(arena, n, ks_shelf_spot);
    for (int i = 0; i < n; i++)
        spots[i] = from[i];
    return spots;
}

ks_draft ks_draft_copy(const ks_job *job, const ks_draft *draft, ks_arena *arena)
{
    ks_draft copy = *draft;
    copy.loads = KS_TAKE(arena, draft->n_loads, ks_draft_load);
    copy.left = KS_TAKE(arena, job->n_items, int);
    memcpy(copy.left, draft->left, sizeof(int) * (size_t)job->n_items);
    for (int s = 0; s < draft->n_loads; s++) {
        ks_draft_load *load = &copy.loads[s];
        *load = draft->loads[s];
        load->levels = KS_TAKE(arena, load->n_levels, ks_draft_level);
        for (int l = 0; l < load->n_levels; l++) {
            ks_draft_level *level = &load->levels[l];
            *level = draft->loads[s].levels[l];
            level->layout.spots = copy_spots(level->layout.spots, level->layout.n_spots, arena);
            level->pins = copy_spots(level->pins, level->n_pins, arena);
        }
    }
    return copy;
}

typedef void on_spot(void *context, ks_shelf_spot spot);

static void each_spot(const ks_draft_load *load, on_spot *seen, void *context)
{
    for (int l = 0; l < load->n_levels; l++) {
        const ks_draft_level *level = &load->levels[l];
        for (int i = 0; i < level->n_pins; i++)
            seen(context, level->pins[i]);
        for (int i = 0; i < level->layout.n_spots; i++)
            seen(context, level->layout.spots[i]);
    }
}

typedef struct {
    const ks_job *job;
    ks_draft *draft;
    int *in_load;   /* copies of each set in the load looked at */
    bool *together; /* of each set: all of it is in one load */
} count;

static void count_left(void *context, ks_shelf_spot spot)
{
    count *c = context;
    c->draft->left[spot.item]--;
    if (c->job->set[spot.item] >= 0)
        c->in_load[c->job->set[spot.item]]++;
}

/* Ware of a set that is not together counts for nothing. */
static void count_worth(void *context, ks_shelf_spot spot)
{
    count *c = context;
    int set = c->job->set[spot.item];
    if (set >= 0 && !c->together[set])
        return;
    double score = c->job->worth[spot.item] * c->job->urgency[spot.item];
    c->draft->worth += c->job->worth[spot.item];
    c->draft->score += score;
    c->draft->counted += ks_job_is_fill(c->job, spot.item) ? 0 : score;
}

static int set_size_of(const ks_job *job, int set)
{
    int size = 0;
    for (int i = 0; i < job->order->n_pieces; i++)
        size += job->set[i] == set ? job->order->pieces[i].count : 0;
    return size;
}

bool *ks_draft_sets_together(const ks_job *job, ks_draft *draft, ks_arena *arena)
{
    count c = {job, draft, KS_TAKE(arena, job->n_sets, int), KS_TAKE(arena, job->n_sets, bool)};
    for (int s = 0; s < draft->n_loads; s++) {
        memset(c.in_load, 0, sizeof(int) * (size_t)job->n_sets);
        each_spot(&draft->loads[s], count_left, &c);
        for (int k = 0; k < job->n_sets; k++)
            c.together[k] = c.together[k] || c.in_load[k] == set_size_of(job, k);
    }
    return c.together;
}

void ks_draft_count(const ks_job *job, ks_draft *draft)
{
    double all = 0, counted = 0;
    draft->score = draft->worth = draft->counted = 0;
    for (int i = 0; i < job->n_items; i++) {
        draft->left[i] =
            i < job->order->n_pieces && job->items[i].copies > 0 ? job->order->pieces[i].count : 0;
        all += job->worth[i] * draft->left[i];
        counted += ks_job_is_fill(job, i) ? 0 : job->worth[i] * draft->left[i];
    }
    ks_arena scratch = {0};
    count c = {job, draft, NULL, ks_draft_sets_together(job, draft, &scratch)};
    for (int s = 0; s < draft->n_loads; s++) {
        each_spot(&draft->loads[s], count_worth, &c);
        draft->score -= draft->loads[s].n_levels > 0 ? FIRING_COST * all : 0;
        draft->counted -= draft->loads[s].n_levels > 0 ? FIRING_COST * counted : 0;
    }
    ks_arena_finish(&scratch);
    if (job->cone >= 0)
        draft->left[job->cone] = 0;
}

bool ks_draft_is_pinned(const ks_draft *draft, int slot, int piece)
{
    const ks_draft_load *load = &draft->loads[slot];
    for (int l = 0; l < load->n_levels; l++)
        for (int i = 0; i < load->levels[l].n_pins; i++)
            if (load->levels[l].pins[i].item == piece)
                return true;
    return false;
}

int ks_draft_number(const ks_draft *draft, int slot)
{
    int number = 1;
    for (int s = 0; s < slot; s++)
        number += draft->loads[s].n_levels > 0;
    return number;
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
