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
    bool *together; /* of each set: all of it is in one load */
} count;

/* Ware of a set that is not together counts for nothing. */
static void count_spot(void *context, ks_shelf_spot spot)
{
    count *c = context;
    int set = c->job->set[spot.item];
    c->draft->left[spot.item]--;
    if (set >= 0 && !c->together[set])
        return;
    c->draft->worth += c->job->worth[spot.item];
    c->draft->score += c->job->worth[spot.item] * c->job->urgency[spot.item];
}

static int set_size_of(const ks_job *job, int set)
{
    int size = 0;
    for (int i = 0; i < job->order->n_pieces; i++)
        size += job->set[i] == set ? job->order->pieces[i].count : 0;
    return size;
}

typedef struct {
    const ks_job *job;
    int *in_load; /* copies of each set in the load looked at */
} set_count;

static void count_set(void *context, ks_shelf_spot spot)
{
    set_count *c = context;
    if (c->job->set[spot.item] >= 0)
        c->in_load[c->job->set[spot.item]]++;
}

bool *ks_draft_together(const ks_job *job, const ks_draft *draft, ks_arena *arena)
{
    set_count c = {job, KS_TAKE(arena, job->n_sets, int)};
    bool *together = KS_TAKE(arena, job->n_sets, bool);
    for (int s = 0; s < draft->n_loads && job->n_sets > 0; s++) {
        memset(c.in_load, 0, sizeof(int) * (size_t)job->n_sets);
        each_spot(&draft->loads[s], count_set, &c);
        for (int k = 0; k < job->n_sets; k++)
            together[k] = together[k] || c.in_load[k] == set_size_of(job, k);
    }
    return together;
}

void ks_draft_count(const ks_job *job, ks_draft *draft)
{
    double all = 0;
    draft->score = draft->worth = 0;
    for (int i = 0; i < job->n_items; i++) {
        draft->left[i] =
            i < job->order->n_pieces && job->items[i].copies > 0 ? job->order->pieces[i].count : 0;
        all += job->worth[i] * draft->left[i];
    }
    ks_arena scratch = {0};
    count c = {job, draft, ks_draft_together(job, draft, &scratch)};
    for (int s = 0; s < draft->n_loads; s++) {
        each_spot(&draft->loads[s], count_spot, &c);
        draft->score -= draft->loads[s].n_levels > 0 ? FIRING_COST * all : 0;
    }
    ks_arena_finish(&scratch);
    if (job->cone >= 0)
        draft->left[job->cone] = 0;
}

int ks_draft_shelves(const ks_job *job, const ks_draft_load *load)
{
    const ks_kiln *kiln = job->kinds[load->kind].furniture->kiln;
    int n = 0;
    for (int l = 0; l < load->n_levels; l++)
        n += kiln->bays[load->levels[l].at.bay].supports[load->levels[l].at.support].n_shelves;
    return n;
}

/* One set of posts carries the levels of bays that go up together. */
static bool is_first_on_posts(const ks_draft_load *load, int level)
{
    const ks_stack_level *at = &load->levels[level].at;
    for (int l = 0; l < level; l++) {
        const ks_stack_level *other = &load->levels[l].at;
        if (other->standing == at->standing && other->z == at->z && other->column == at->column)
            return false;
    }
    return at->under >= 0;
}

int ks_draft_posts(const ks_job *job, const ks_draft_load *load)
{
    const ks_furniture *f = job->kinds[load->kind].furniture;
    int n = 0;
    for (int l = 0; l < load->n_levels; l++) {
        const ks_stack_level *at = &load->levels[l].at;
        if (is_first_on_posts(load, l))
            n += f->gaps[at->under].n * f->post_layouts[at->standing].columns[at->column].n_posts;
    }
    return n;
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

typedef struct {
    const ks_job *job;
    const double *by;
    int slot;
    double late;
} lateness;

/* In no load could it be in time: so it is nowhere later than it must be. */
static bool is_late_anyway(const ks_job *job, int item)
{
    for (int s = 0; s < job->n_slots; s++)
        if (ks_job_in_time(job, s, item))
            return false;
    return true;
}

static void add_late(void *context, ks_shelf_spot spot)
{
    lateness *l = context;
    if (!ks_job_in_time(l->job, l->slot, spot.item) && !is_late_anyway(l->job, spot.item))
        l->late += l->by[spot.item];
}

double ks_draft_late(const ks_job *job, const ks_draft *draft, const double *by)
{
    lateness l = {.job = job, .by = by};
    for (l.slot = 0; job->n_due > 0 && l.slot < draft->n_loads; l.slot++)
        each_spot(&draft->loads[l.slot], add_late, &l);
    return l.late;
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
