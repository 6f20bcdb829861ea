#include "place/draft/draft.h"

#include <string.h>

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

int ks_draft_fired(const ks_draft *draft)
{
    int n = 0;
    for (int s = 0; s < draft->n_loads; s++)
        n += draft->loads[s].n_levels > 0;
    return n;
}

int ks_draft_number(const ks_draft *draft, int slot)
{
    int number = 1;
    for (int s = 0; s < slot; s++)
        number += draft->loads[s].n_levels > 0;
    return number;
}

typedef void on_piece(void *context, int piece);

static void each_member(const ks_job *job, ks_shelf_spot spot, on_piece *seen, void *context)
{
    for (int m = 0; m < ks_job_members(job, spot.item); m++)
        seen(context, ks_job_member(job, spot.item, m));
}

static void leave(void *left, int piece)
{
    ((int *)left)[piece]++;
}

static void take(void *left, int piece)
{
    ((int *)left)[piece]--;
}

void ks_draft_clear_level(const ks_job *job, ks_draft *draft, int slot, int level)
{
    ks_shelf_layout *layout = &draft->loads[slot].levels[level].layout;
    for (int i = 0; i < layout->n_spots; i++)
        each_member(job, layout->spots[i], leave, draft->left);
    *layout = (ks_shelf_layout){0};
}

void ks_draft_set_level(const ks_job *job, ks_draft *draft, int slot, int level,
                        ks_shelf_layout layout)
{
    for (int i = 0; i < layout.n_spots; i++)
        each_member(job, layout.spots[i], take, draft->left);
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
